package org.bankfire.analysis.alarm;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.bankfire.analysis.reading.WallTime;

/** All alarms of one forge, with their deadlines in one place. */
public final class AlarmBoard {
    private static final Comparator<AlarmStatus> GRAVEST_FIRST = Comparator.comparing(AlarmStatus::priority)
            .thenComparing(status -> !status.state().callsForAttention())
            .thenComparing(AlarmStatus::since, Comparator.reverseOrder())
            .thenComparing(AlarmStatus::alarm);

    private final Map<AlarmId, Alarm> byId = new EnumMap<>(AlarmId.class);
    private final Alarm[] alarms;

    /** Turns the board's microseconds into the time that readers see. */
    public interface TimeLine {
        WallTime toWallTime(long micros);
    }

    /**
     * All alarms in normal state.
     *
     * @param delays of the alarms that have any
     */
    public AlarmBoard(Map<AlarmId, AlarmDelays> delays, AlarmContext context) {
        Map<AlarmId, AlarmDelays> known = new EnumMap<>(AlarmId.class);
        known.putAll(delays);
        Calls calls = new Calls();
        for (AlarmId id : AlarmId.values()) {
            // Gas that flows unburnt is news every time.
            boolean holds = id != AlarmId.GAS_LEFT_ON;
            byId.put(id, new Alarm(id, known.getOrDefault(id, AlarmDelays.NONE), holds, context, calls));
        }
        alarms = byId.values().toArray(new Alarm[0]);
    }

    public Alarm get(AlarmId id) {
        return Objects.requireNonNull(byId.get(id));
    }

    /** The earliest deadline of all alarms, µs; {@link Alarm#NEVER} when there is none. */
    public long due() {
        long due = Alarm.NEVER;
        for (Alarm alarm : alarms) {
            due = Math.min(due, alarm.due());
        }
        return due;
    }

    /** Takes every step that is due at {@code atMicros}, in the order of {@link AlarmId}. */
    public void fire(long atMicros) {
        for (Alarm alarm : alarms) {
            if (alarm.due() <= atMicros) {
                alarm.fire(atMicros);
            }
        }
    }

    /** The alarms that are not in normal state, the gravest first, of the same priority the unacknowledged and the newest. */
    public List<AlarmStatus> standing(TimeLine line) {
        List<AlarmStatus> standing = null;
        for (Alarm alarm : alarms) {
            if (alarm.state() != AlarmState.NORMAL) {
                if (standing == null) {
                    standing = new ArrayList<>();
                }
                standing.add(new AlarmStatus(
                        alarm.id(),
                        alarm.state(),
                        alarm.priority(),
                        line.toWallTime(alarm.sinceMicros()),
                        alarm.isShelved() ? line.toWallTime(alarm.shelfEndMicros()) : null,
                        alarm.value(),
                        alarm.why()));
            }
        }
        if (standing == null) {
            return List.of();
        }
        standing.sort(GRAVEST_FIRST);
        return standing;
    }
}
