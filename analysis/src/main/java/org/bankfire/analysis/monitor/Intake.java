package org.bankfire.analysis.monitor;

import org.bankfire.analysis.burn.TemperatureTrend;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;

/** What a reading of each kind of channel means, and to whom it is told in which order. */
final class Intake {
    private final Channels channels;
    private final TemperatureTrend trend;
    private final HeatAccount heat;
    private final GasState gas;
    private final Fire fire;
    private final LimitAlarms limits;
    private final SensorHealth sensors;
    private final StreamEvents stream;
    private final Conditions conditions;

    Intake(MonitorParts parts) {
        this.channels = parts.channels;
        this.trend = parts.trend;
        this.heat = parts.heat;
        this.gas = parts.gas;
        this.fire = parts.fire;
        this.limits = parts.limits;
        this.sensors = parts.sensors;
        this.stream = parts.stream;
        this.conditions = parts.conditions;
    }

    /**
     * Takes a reading that came in order.
     *
     * @param at its place in event time, µs
     * @param now event time, µs; at least {@code at}
     */
    void take(ChannelTrack track, Reading reading, long at, long now) {
        boolean bad = reading.quality().isBad();
        boolean temperature = !bad && ChannelTrack.isTemperature(reading);
        switch (track.role) {
            case CHAMBER -> takeChamber(reading, at, now, !temperature);
            case GAS -> takeGas(reading, at, now, bad || reading.unit().quantity() != Unit.Quantity.PRESSURE);
            case SHELL -> {
                if (temperature) {
                    conditions.shell(now);
                    limits.shell(now, ChannelTrack.celsius(reading));
                }
            }
            case FLAME -> {
                track.stale = false;
                if (bad) {
                    fire.onWitnessLost();
                } else {
                    fire.onWitness(at, reading.value());
                }
            }
            case AMBIENT -> {
                if (temperature) {
                    heat.ambient(ChannelTrack.celsius(reading));
                    conditions.ambient(ChannelTrack.celsius(reading));
                }
            }
            case GAS_TEMPERATURE -> {
                if (temperature) {
                    heat.gasTemperature(ChannelTrack.celsius(reading));
                    conditions.gasTemperature(at, ChannelTrack.celsius(reading));
                }
            }
            case CYLINDER -> {
                if (!bad && reading.unit().quantity() == Unit.Quantity.MASS) {
                    conditions.cylinder(at, reading.siValue());
                }
            }
            case SEQUENCE -> {
                if (!bad) {
                    stream.number(reading, now);
                }
            }
            case OTHER -> {}
        }
    }

    private void takeChamber(Reading reading, long at, long now, boolean bad) {
        sensors.heard(channels.chamber, now, bad);
        if (!bad) {
            double celsius = ChannelTrack.celsius(reading);
            trend.add(at, celsius);
            limits.chamber(now, celsius);
            boolean gasEverKnown = !Double.isNaN(gas.gaugePa());
            fire.onChamber(now, at, celsius, trend, gasEverKnown, channels.pressure.isUsable());
            conditions.chamber(now, at, celsius);
        }
        sensors.judge(now);
    }

    private void takeGas(Reading reading, long at, long now, boolean bad) {
        sensors.heard(channels.pressure, now, bad);
        if (!bad) {
            double pascal = reading.unit().equals(Unit.PASCAL) ? reading.value() : reading.siValue();
            boolean changed = gas.accept(at, pascal);
            limits.gas(now, pascal);
            fire.onGas(now, at, changed);
            conditions.gas(now, at, pascal);
        }
        sensors.judge(now);
    }
}
