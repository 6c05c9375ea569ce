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
    /** As long as the usual off-delay of the alarms of blindness, µs. */
    private static final long SEES_AGAIN = 5_000_000;

    private final Fire fire;
    private final GasState gas;
    private final Channels channels;
    private final Alarm flameOut;
    private final Alarm noIgnition;
    private final Alarm gasLeftOn;
    /** The gravest first. */
    private final Alarm[] ofBlindness;

    FlameAlarms(Fire fire, GasState gas, Channels channels, AlarmBoard board) {
        this.fire = fire;
        this.gas = gas;
        this.channels = channels;
        this.flameOut = board.get(AlarmId.FLAME_OUT);
        this.noIgnition = board.get(AlarmId.NO_IGNITION);
        this.gasLeftOn = board.get(AlarmId.GAS_LEFT_ON);
        this.ofBlindness = new Alarm[] {
            board.get(AlarmId.NO_DATA), board.get(AlarmId.CHAMBER_SENSOR_BAD), board.get(AlarmId.PRESSURE_SENSOR_BAD)
        };
    }

    /** Judges how things stand; to be called after everything that has happened. */
    void judge(long now) {
        boolean out = fire.isFlameOut();
        boolean notIgniting = fire.isNotIgniting();
        flameOut.condition(out, now, channels.chamberC());
        noIgnition.condition(notIgniting, now, fire.gasOnForS(now));
        gasLeftOn.condition(out || notIgniting, now, gas.gaugePa());
        Alarm cause = blindness();
        holdBack(flameOut, cause, now);
        holdBack(noIgnition, cause, now);
    }

    /** What keeps the flame from being judged while it matters. */
    private @Nullable Alarm blindness() {
        if (!fire.isDangerous()) {
            return null;
        }
        Alarm standing = null;
        for (Alarm alarm : ofBlindness) {
            if (alarm.isActive() && (standing == null || (alarm.conditionHolds() && !standing.conditionHolds()))) {
                standing = alarm;
            }
        }
        return standing;
    }

    /** When {@link #judge} must be called because what was held back is held back no longer; {@link Alarm#NEVER} if not. */
    long due() {
        Alarm cause = blindness();
        boolean waits = isHeldBack(flameOut) || isHeldBack(noIgnition);
        return cause == null || !waits ? Alarm.NEVER : seesAgain(cause);
    }

    private static boolean isHeldBack(Alarm alarm) {
        return alarm.state() == AlarmState.SUPPRESSED && alarm.conditionHolds();
    }

    private static long seesAgain(Alarm cause) {
        return cause.conditionHolds() ? Alarm.NEVER : cause.goneMicros() + SEES_AGAIN;
    }

    private static void holdBack(Alarm alarm, @Nullable Alarm cause, long now) {
        // An alarm of blindness that came and went too often stands for minutes after the instrument sees again; what
        // it
        // sees then must not wait for that.
        if (cause == null || (alarm.conditionHolds() && now >= seesAgain(cause))) {
            alarm.suppress(false, now, "The flame can be judged again.");
        } else if (alarm.state() == AlarmState.NORMAL) {
            alarm.suppress(
                    true,
                    now,
                    "Held back, because the flame cannot be judged: "
                            + cause.id().title() + ".");
        }
    }
}
