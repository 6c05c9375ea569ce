package org.bankfire.analysis.monitor;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;

/** A forge named shed with its monitor, and everything that the monitor has said. */
final class Shed implements ForgeListener {
    static final String ID = "shed";
    static final WallTime START = new WallTime(1_772_359_200_000_000L);

    final List<AlarmTransition> alarms = new ArrayList<>();
    final List<BurnBoundary> boundaries = new ArrayList<>();
    final List<Burn> burns = new ArrayList<>();
    final List<SourceEvent> sources = new ArrayList<>();
    final List<Setting> settings = new ArrayList<>();
    /** All of them, in the order in which they were told. */
    final List<Object> told = new ArrayList<>();

    final ForgeMonitor monitor;

    Shed() {
        this(12);
    }

    Shed(double probeLagS) {
        this(probeLagS, ConditionSettings.NONE);
    }

    Shed(double probeLagS, ConditionSettings conditions) {
        this(probeLagS, MonitorSettings.defaults().with(conditions));
    }

    Shed(double probeLagS, MonitorSettings settings) {
        monitor = new ForgeMonitor(description(probeLagS), settings, this);
    }

    static ForgeDescription description(double probeLagS) {
        Material block = new Material(
                "block",
                600,
                1050,
                List.of(new Material.ConductivityPoint(293, 0.15), new Material.ConductivityPoint(1273, 0.28)),
                1533,
                "invented for this test");
        return new ForgeDescription(
                ID,
                "Shed forge",
                1423,
                293,
                0,
                new Burner(propane(), 0.8e-3, 18e-3, 0.85, 0.03),
                0.2,
                0.16,
                0.23,
                probeLagS,
                List.of(new Layer(block, 0.076)),
                List.of(new Opening("front", 0.09, 0.11, false), new Opening("rear", 0.076, 0.08, true)));
    }

    static Fuel propane() {
        return Fuel.PROPANE;
    }

    static WallTime at(double seconds) {
        return START.plusSeconds(seconds);
    }

    static Reading reading(String channel, double seconds, double value, Unit unit) {
        return Reading.good(new Channel(ID, channel), value, unit, at(seconds), at(seconds));
    }

    static Reading chamber(double seconds, double celsius) {
        return reading(ChannelNames.CHAMBER, seconds, celsius, Unit.CELSIUS);
    }

    static Reading gas(double seconds, double pascal) {
        return reading(ChannelNames.GAS, seconds, pascal, Unit.PASCAL);
    }

    static Reading bad(String channel, double seconds, Quality quality, Unit unit) {
        return Reading.fault(new Channel(ID, channel), unit, quality, at(seconds), at(seconds));
    }

    void accept(Reading... readings) {
        for (Reading reading : readings) {
            monitor.accept(reading);
        }
    }

    /** Chamber and gas from {@code from} to before {@code to}, four times a second. */
    void steady(double from, double to, double celsius, double pascal) {
        for (int i = 0; from + i * 0.25 < to; i++) {
            accept(chamber(from + i * 0.25, celsius), gas(from + i * 0.25, pascal));
        }
    }

    /** States that the alarm went through. */
    List<AlarmState> states(AlarmId id) {
        return alarms.stream()
                .filter(transition -> transition.alarm() == id)
                .map(AlarmTransition::state)
                .toList();
    }

    List<AlarmTransition> transitions(AlarmId id) {
        return alarms.stream().filter(transition -> transition.alarm() == id).toList();
    }

    /** Seconds since the start of the first raise; NaN when it never was. */
    double raisedAtS(AlarmId id) {
        return alarms.stream()
                .filter(transition -> transition.alarm() == id && transition.state() == AlarmState.UNACKNOWLEDGED)
                .mapToDouble(transition -> transition.time().secondsSince(START))
                .findFirst()
                .orElse(Double.NaN);
    }

    /** The most annunciations within any ten minutes. */
    int annunciationsInTenMinutes() {
        List<AlarmTransition> calls = alarms.stream()
                .filter(transition -> transition.state() == AlarmState.UNACKNOWLEDGED)
                .toList();
        int most = 0;
        for (AlarmTransition first : calls) {
            int count = 0;
            for (AlarmTransition call : calls) {
                double after = call.time().secondsSince(first.time());
                if (after >= 0 && after < 600) {
                    count++;
                }
            }
            most = Math.max(most, count);
        }
        return most;
    }

    @Override
    public void onAlarm(AlarmTransition transition) {
        alarms.add(transition);
        told.add(transition);
    }

    @Override
    public void onBurnBoundary(BurnBoundary boundary) {
        boundaries.add(boundary);
        told.add(boundary);
    }

    @Override
    public void onBurn(Burn burn) {
        burns.add(burn);
        told.add(burn);
    }

    @Override
    public void onSetting(Setting setting) {
        settings.add(setting);
        told.add(setting);
    }

    @Override
    public void onSource(SourceEvent event) {
        sources.add(event);
        told.add(event);
    }
}
