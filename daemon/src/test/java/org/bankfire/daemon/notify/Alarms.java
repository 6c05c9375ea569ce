package org.bankfire.daemon.notify;

import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.config.OutputConfig;

/** Steps of alarms of an invented forge. */
final class Alarms {
    static final Map<String, String> NAMES = Map.of("shed", "Shed forge");

    /** 2026-03-01T10:00:12.25Z. */
    private static final WallTime BEGIN = WallTime.ofEpochSeconds(1_772_359_212.25);

    private Alarms() {}

    static AlarmTransition step(AlarmId alarm, AlarmState state, double afterS) {
        return step("shed", alarm, state, afterS);
    }

    static AlarmTransition step(String forge, AlarmId alarm, AlarmState state, double afterS) {
        return step(forge, alarm, state, alarm.usualPriority(), afterS);
    }

    static AlarmTransition step(String forge, AlarmId alarm, AlarmState state, Priority priority, double afterS) {
        return new AlarmTransition(
                forge,
                BEGIN.plusSeconds(afterS),
                alarm,
                state,
                priority,
                1_103.2,
                "The reason of " + alarm.code() + ".");
    }

    static AlarmTransition flameOut() {
        return step(AlarmId.FLAME_OUT, AlarmState.UNACKNOWLEDGED, 0);
    }

    static Message message() {
        return new Wording(NAMES, ZoneId.of("Europe/Berlin")).of(Telling.of(flameOut(), 0, false));
    }

    /** Tells everything of every forge, and tries for an hour, critical ones for a day. */
    static OutputConfig.Telling everything(String name) {
        return new OutputConfig.Telling(name, Priority.LOW, List.of(), true, true, 3_600, 86_400);
    }

    static ReceiptClock clock() {
        return new ReceiptClock(() -> WallTime.of(Instant.now()), () -> new MonotonicTime(System.nanoTime()));
    }
}
