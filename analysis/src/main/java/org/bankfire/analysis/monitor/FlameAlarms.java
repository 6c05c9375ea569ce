package org.bankfire.analysis.monitor;

import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.alarm.AlarmBoard;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.jspecify.annotations.Nullable;

/**
 * The alarms that follow from the fire's state: flame out, no ignition and the gas that then flows unburnt. While the
 * instrument is blind the first two are held back and the blindness, an alarm itself, is named as the cause.
 */
final class FlameAlarms {
    private final Fire fire;
    private final GasState gas;
    private final Channels channels;
    private final Alarm flameOut;
    private final Alarm noIgnition;
    private final Alarm gasLeftOn;
    private final Alarm noData;
    private final Alarm chamberBad;
    private final Alarm pressureBad;

    FlameAlarms(Fire fire, GasState gas, Channels channels, AlarmBoard board) {
        this.fire = fire;
        this.gas = gas;
        this.channels = channels;
        this.flameOut = board.get(AlarmId.FLAME_OUT);
        this.noIgnition = board.get(AlarmId.NO_IGNITION);
        this.gasLeftOn = board.get(AlarmId.GAS_LEFT_ON);
        this.noData = board.get(AlarmId.NO_DATA);
        this.chamberBad = board.get(AlarmId.CHAMBER_SENSOR_BAD);
        this.pressureBad = board.get(AlarmId.PRESSURE_SENSOR_BAD);
    }

    /** Judges how things stand; to be called after everything that has happened. */
    void judge(long now) {
        boolean out = fire.isFlameOut();
        boolean notIgniting = fire.isNotIgniting();
        flameOut.condition(out, now, channels.chamberC());
        noIgnition.condition(notIgniting, now, fire.gasOnForS(now));
        gasLeftOn.condition(out || notIgniting, now, gas.gaugePa());
        AlarmId cause = blindness();
        holdBack(flameOut, cause, now);
        holdBack(noIgnition, cause, now);
    }

    /** What keeps the flame from being judged while it matters. */
    private @Nullable AlarmId blindness() {
        if (!fire.isDangerous()) {
            return null;
        }
        if (noData.isActive()) {
            return AlarmId.NO_DATA;
        }
        if (chamberBad.isActive()) {
            return AlarmId.CHAMBER_SENSOR_BAD;
        }
        return pressureBad.isActive() ? AlarmId.PRESSURE_SENSOR_BAD : null;
    }

    private static void holdBack(Alarm alarm, @Nullable AlarmId cause, long now) {
        if (cause == null) {
            alarm.suppress(false, now, "The flame can be judged again.");
        } else if (alarm.state() == AlarmState.NORMAL) {
            alarm.suppress(true, now, "Held back, because the flame cannot be judged: " + cause.title() + ".");
        }
    }
}
