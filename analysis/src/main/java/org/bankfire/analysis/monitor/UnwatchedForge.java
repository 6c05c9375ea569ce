package org.bankfire.analysis.monitor;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmBoard;
import org.bankfire.analysis.alarm.AlarmContext;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.BurnPhase;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.WallTime;

/**
 * Stands in for the {@link ForgeMonitor} of a forge that is not watched any more. It takes no readings, so it knows nothing
 * of the forge; it raises the alarm that says so, and keeps the other alarms as they stood, so that they can be seen and
 * acknowledged.
 *
 * <p>Its time is the daemon's. Not safe for use by several threads.
 */
public final class UnwatchedForge {
    private final String forge;
    private final String why;
    private final Consumer<AlarmTransition> listener;
    private final AlarmBoard board = new AlarmBoard(Map.of(), new Context());
    private boolean begun;
    private long now;
    private long lastAction = Long.MIN_VALUE;

    /**
     * A forge that is not watched.
     *
     * @param why it is not, and what to do, in whole sentences
     * @param listener told the steps of its alarms
     */
    public UnwatchedForge(String forge, String why, Consumer<AlarmTransition> listener) {
        this.forge = forge;
        this.why = why;
        this.listener = listener;
    }

    public String forge() {
        return forge;
    }

    /** Why it is not watched, and what to do, in whole sentences. */
    public String why() {
        return why;
    }

    /**
     * Takes up the alarms as they stood; to be called before anything else.
     *
     * @param latest as {@link ForgeMonitor#restore} takes them
     * @param notes as {@link ForgeMonitor#restore} takes them
     */
    public void restore(List<AlarmTransition> latest, List<Note> notes) {
        ForgeAlarms.restore(board, forge, latest, notes);
    }

    /** Lets happen what has become due, first of all the alarm that nobody watches. */
    public void advance(WallTime daemonNow) {
        long at = daemonNow.epochMicros();
        if (!begun) {
            begun = true;
            now = at;
            for (AlarmId id : AlarmId.values()) {
                // Nobody will confirm a condition, and nobody knows that it has gone.
                board.get(id).begin(at, Alarm.NEVER);
            }
        }
        for (long due = board.due(); due <= at; due = board.due()) {
            board.fire(due);
        }
        now = Math.max(now, at);
        board.get(AlarmId.WATCH_LOST).condition(true, now, Double.NaN);
    }

    /**
     * The user does something about an alarm, as with {@link ForgeMonitor#act}.
     *
     * @param at the daemon's time
     * @return the note that the daemon must keep; empty when it does not apply as the alarm stands
     * @throws IllegalArgumentException when it is to be shelved for longer than it may be
     */
    public Optional<Note> act(AlarmAction action, WallTime at) {
        advance(at);
        // Each has a moment of its own: forge, time and name are the key of its note.
        now = Math.max(now, lastAction + 1);
        lastAction = now;
        return ForgeAlarms.act(board, action, now)
                ? Optional.of(action.note(forge, new WallTime(now)))
                : Optional.empty();
    }

    /** How things stand: the alarms; all else is not known. */
    public ForgeSnapshot snapshot() {
        return new ForgeSnapshot(
                forge,
                null,
                BurnPhase.COLD,
                FlameState.UNAVAILABLE,
                null,
                Double.NaN,
                Double.NaN,
                null,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                null,
                board.standing(WallTime::new),
                List.of());
    }

    /** Answers the alarms. */
    private final class Context implements AlarmContext {
        @Override
        public Priority priority(AlarmId alarm) {
            return alarm.usualPriority();
        }

        @Override
        public String raised(AlarmId alarm, double value) {
            return alarm == AlarmId.WATCH_LOST ? why : "It stood when the watch was lost.";
        }

        @Override
        public String cleared(AlarmId alarm, double value) {
            return "It has gone.";
        }

        @Override
        public void onTransition(
                AlarmId alarm, AlarmState state, Priority priority, long atMicros, double value, String words) {
            listener.accept(new AlarmTransition(forge, new WallTime(atMicros), alarm, state, priority, value, words));
        }
    }
}
