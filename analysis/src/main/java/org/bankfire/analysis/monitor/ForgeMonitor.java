package org.bankfire.analysis.monitor;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;

/**
 * Watches one forge: takes its corrected readings in the order in which they come and tells a {@link ForgeListener} of
 * alarms, burns and disturbances of the stream; {@link #snapshot} shows how things stand.
 *
 * <p>It has no clock. Event time is laid through the source times ({@link EventClock}); what becomes due between two
 * inputs (a delay, a silence, the lighting time) is taken at its exact due time before the next input. {@link #advance}
 * only lets the due things happen when no reading comes, so a replay without ticks gives the same transitions as the live
 * run with them.
 *
 * <p>This class keeps the order of things: first what was due before ({@link Deadlines}), then what has come
 * ({@link Intake}), then what follows from both for the flame ({@link FlameAlarms}). The judging is done by one part a
 * subject, which {@link MonitorParts} wires together.
 *
 * <p>Not safe for use by several threads.
 */
public final class ForgeMonitor {
    /** Name of the setting that tells the jet's bore, mm. */
    public static final String JET_SETTING = HeatAccount.JET_SETTING;

    /** Channels that are followed. */
    static final int MAX_CHANNELS = Channels.MOST;

    private static final double MICROS_PER_S = 1e6;
    /** A clock that is said to have been set by more, a thousand years, is a typing error, s. */
    private static final double FURTHEST_STEP_S = 3e10;

    private final MonitorParts parts;
    private final EventClock clock;
    private final Intake intake;
    private final Deadlines deadlines;
    private long lastAction = Long.MIN_VALUE;

    /** A forge of which nothing has been heard. */
    public ForgeMonitor(ForgeDescription description, MonitorSettings settings, ForgeListener listener) {
        this.parts = new MonitorParts(description, settings, listener);
        this.clock = parts.clock;
        this.intake = new Intake(parts);
        this.deadlines = new Deadlines(parts);
    }

    /** Whether a setting of that name is what a monitor has counted, told so that it outlives a restart. */
    public static boolean isKept(String settingName) {
        return settingName.equals(FirstFire.STEPS_SETTING) || settingName.equals(WireWatch.HOURS_SETTING);
    }

    /**
     * Takes a corrected reading of this forge. Late readings and duplicates do not move any state; channels beyond
     * {@link #MAX_CHANNELS} are not followed.
     */
    public void accept(Reading reading) {
        if (!reading.channel().forge().equals(parts.forge)) {
            throw new IllegalArgumentException(
                    "the monitor of forge " + parts.forge + " was given " + reading.channel());
        }
        long source = reading.sourceTime().epochMicros();
        if (source > EventClock.FURTHEST || source < -EventClock.FURTHEST) {
            return;
        }
        ChannelTrack track = parts.channels.of(reading.channel().name());
        if (track == null) {
            return;
        }
        boolean first = track.last == null;
        long at = clock.place(track, source, reading.receiptTime().epochMicros(), first);
        if (at == EventClock.LATE) {
            parts.silence.heard(track, clock.now());
            if (track.role == ChannelTrack.Role.SEQUENCE) {
                parts.stream.lateNumber(reading, clock.now());
            }
            return;
        }
        runTo(at);
        parts.stream.clockStep();
        track.last = reading;
        parts.silence.heard(track, clock.now());
        intake.take(track, reading, at, clock.now());
        settle();
    }

    /**
     * Takes a note: what a user did about an alarm and is replayed, a step of the daemon's clock; others do not concern it.
     */
    public void accept(Note note) {
        if (AlarmAction.isKeptAs(note.name())) {
            AlarmAction.of(note)
                    .ifPresent(action -> replay(action, clock.ofWall(note.time().epochMicros())));
        } else if (note.name().equals(Note.CLOCK_STEP)) {
            double seconds = Numbers.of(note.text());
            if (Math.abs(seconds) < FURTHEST_STEP_S) {
                clock.daemonStepped(Math.round(seconds * MICROS_PER_S), parts.channels.inOrder());
                parts.stream.clockStep();
                settle();
            }
        }
    }

    /**
     * Takes a setting: the jet in mm and the plug change what is computed, a new lining or thermocouple what is watched, and
     * any of them what flutter is usual.
     */
    public void accept(Setting setting) {
        parts.heat.accept(setting);
        parts.fire.accept(setting);
        parts.conditions.accept(setting);
    }

    /**
     * Lets happen what has become due.
     *
     * @param now the daemon's time
     */
    public void advance(WallTime now) {
        long at = clock.ofDaemon(now.epochMicros());
        if (!clock.isRunning()) {
            begin(at);
        }
        runTo(at);
        settle();
    }

    /**
     * The user does something about an alarm: acknowledges it, shelves it, takes it out of service.
     *
     * @param at the daemon's time
     * @return the note that the daemon must keep, so that a replay does the same; empty when it does not apply as the
     *     alarm stands
     * @throws IllegalArgumentException when it is to be shelved for longer than it may be
     */
    public Optional<Note> act(AlarmAction action, WallTime at) {
        goToAction(clock.ofDaemon(at.epochMicros()));
        boolean done = parts.alarms.act(action, clock.now());
        settle();
        return done ? Optional.of(action.note(parts.forge, clock.wall(clock.now()))) : Optional.empty();
    }

    /**
     * The user takes note of an alarm.
     *
     * @param at the daemon's time
     * @param by who
     * @return false when that alarm does not call for it
     */
    public boolean acknowledge(AlarmId alarm, WallTime at, String by) {
        return act(AlarmAction.acknowledge(alarm, by), at).isPresent();
    }

    /**
     * Tells of something that only the daemon can see: store failing, disk nearly full, database unreachable, clock
     * stepped, and from the fits of many burns that the lining loses more.
     *
     * @param at the daemon's time
     * @param value the value that decides; NaN when there is none
     * @param why the reason, one sentence
     */
    public void condition(AlarmId alarm, boolean active, WallTime at, double value, String why) {
        ForgeAlarms.checkOfTheDaemon(alarm);
        long time = clock.ofDaemon(at.epochMicros());
        if (!clock.isRunning()) {
            begin(time);
        }
        runTo(time);
        parts.alarms.ofTheDaemon(alarm, active, clock.now(), value, why);
        settle();
    }

    /**
     * Takes up the alarms as they stood when the daemon stopped; to be called before anything else. Latched alarms stand
     * until they are acknowledged; of the others, those whose condition is not seen again within a minute clear. What is
     * out of service stays so. A shelf ends when it would have ended; if that was while the daemon was down, or if no note
     * tells when, what was shelved stands again. What was suppressed is judged anew.
     *
     * @param latest the latest transitions of every alarm of this forge, the newest first
     * @param notes notes of this forge of the last {@link Alarm#LONGEST_SHELF_S}, in order of time
     */
    public void restore(List<AlarmTransition> latest, List<Note> notes) {
        parts.alarms.restore(latest, notes);
    }

    /** How things stand. */
    public ForgeSnapshot snapshot() {
        return ForgeSnapshots.of(parts);
    }

    /** Time begins. */
    private void begin(long at) {
        clock.advance(at);
        parts.silence.begin(at);
        parts.alarms.begin(at);
    }

    /** Takes everything that is due up to {@code at}, in order, each at its time. */
    private void runTo(long at) {
        if (!clock.isRunning()) {
            begin(at);
        }
        // Every step either ends a deadline or is one of the finitely many that it starts.
        for (long due = deadlines.due(); due <= at; due = deadlines.due()) {
            clock.advance(due);
            // What is told with a step, such as for how long gas has flowed, must not hang on when anybody looked last.
            settle();
            deadlines.happen(due, clock.now());
            settle();
        }
        clock.advance(at);
    }

    private void replay(AlarmAction action, long at) {
        goToAction(at);
        boolean shelves = action.kind() == AlarmAction.Kind.SHELVE;
        if (!shelves || parts.alarms.board().get(action.alarm()).allowsShelf(action.shelfS())) {
            parts.alarms.act(action, clock.now());
        }
        settle();
    }

    /** Goes on to what a user does, whose moment belongs to it alone: forge, time and name are the key of its note. */
    private void goToAction(long at) {
        runTo(Math.max(at, Math.max(clock.now(), lastAction + 1)));
        lastAction = clock.now();
        settle();
    }

    /** Judges what follows from all that has happened. */
    private void settle() {
        parts.flameAlarms.judge(clock.now());
    }
}
