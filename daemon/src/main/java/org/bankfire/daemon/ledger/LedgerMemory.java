package org.bankfire.daemon.ledger;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.BiConsumer;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.logbook.RunningLog;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.monitor.UnwatchedForge;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.jspecify.annotations.Nullable;

/**
 * What a run of the ledger thread takes up from the one before: the latest transitions of every alarm, the shelves, and
 * the newest entries of the log with what corrects them. It is filled from the store once, before the first run, and then by what passes; a later run waits for no
 * store, which may be the very thing that hangs. Safe for use by many threads.
 */
public final class LedgerMemory {
    /**
     * Transitions of each alarm: enough to find what lies under a shelf, a suppression and the like, one over the other.
     */
    public static final int MOST_STEPS = 16;

    private final Map<AlarmKey, Deque<AlarmTransition>> transitions = new ConcurrentHashMap<>();
    private final Map<AlarmKey, Note> shelves = new ConcurrentHashMap<>();
    // Of the forges that are watched, and each bounded by itself.
    private final Map<String, RunningLog> logs = new ConcurrentHashMap<>();
    // No more than the ledger has forges.
    private final Map<String, String> aside = new ConcurrentHashMap<>();
    private final AtomicReference<@Nullable AlarmTransition> untold = new AtomicReference<>();

    private record AlarmKey(String forge, AlarmId alarm) {}

    /**
     * Takes up what the store knows.
     *
     * @param known transitions of each alarm, the newest first
     * @param notes in order of time; those that tell of shelves, stock, weighings and corrections matter
     * @param settings as they were written down, in order of time
     */
    public void learn(String forge, List<AlarmTransition> known, List<Note> notes, Collection<Setting> settings) {
        logs.computeIfAbsent(forge, any -> new RunningLog());
        for (int i = known.size() - 1; i >= 0; i--) {
            note(known.get(i));
        }
        notes.forEach(this::note);
        settings.forEach(this::note);
    }

    /** From the next run on {@code forge} is not watched, and {@code why}, in words. */
    void setAside(String forge, String why) {
        aside.put(forge, why);
    }

    /** The forges that a run must not watch, each with the reason in words. */
    public Map<String, String> aside() {
        return Map.copyOf(aside);
    }

    /** Puts a new pipeline's forges into the state that was. {@code alsoTo} is told the log of each forge too. */
    public void restore(Pipeline pipeline, BiConsumer<String, RunningLog> alsoTo) {
        for (UnwatchedForge forge : pipeline.unwatched()) {
            pipeline.takeUp(forge.forge());
            forge.restore(transitionsOf(forge.forge()), shelvesOf(forge.forge()));
        }
        for (ForgeLane lane : pipeline.lanes()) {
            pipeline.takeUp(lane.forge());
            lane.monitor().restore(transitionsOf(lane.forge()), shelvesOf(lane.forge()));
            RunningLog shared = logs.computeIfAbsent(lane.forge(), any -> new RunningLog());
            RunningLog log;
            synchronized (shared) {
                log = shared.copy();
            }
            lane.restore(log);
            alsoTo.accept(lane.forge(), log);
        }
        pipeline.putDown();
    }

    /** An output that remembers and passes on, as long as {@code lease} is held. */
    public PipelineOutput before(Lease lease, PipelineOutput next) {
        return new Remembering(lease, next);
    }

    /**
     * The transition that the run before was telling when it hung, if any; asked twice, it is given once, so that a
     * transition that nobody can be told does not hang every run.
     */
    @Nullable
    AlarmTransition takeUntold() {
        return untold.getAndSet(null);
    }

    /** The newest first, as the monitor wants them. */
    private List<AlarmTransition> transitionsOf(String forge) {
        List<AlarmTransition> latest = new ArrayList<>();
        transitions.forEach((key, steps) -> {
            if (key.forge().equals(forge)) {
                synchronized (steps) {
                    latest.addAll(steps);
                }
            }
        });
        return latest;
    }

    private List<Note> shelvesOf(String forge) {
        return shelves.values().stream()
                .filter(note -> note.forge().equals(forge))
                .toList();
    }

    private void note(AlarmTransition transition) {
        // The last one that is told counts, not the one of the latest time: the clock may have been set back.
        Deque<AlarmTransition> steps = transitions.computeIfAbsent(
                new AlarmKey(transition.forge(), transition.alarm()), any -> new ArrayDeque<>(MOST_STEPS));
        synchronized (steps) {
            if (steps.size() == MOST_STEPS) {
                steps.removeLast();
            }
            steps.addFirst(transition);
        }
    }

    private void note(Note note) {
        if (note.name().equals(Note.SHELVE) || note.name().equals(Note.UNSHELVE)) {
            AlarmAction.of(note).ifPresent(action -> shelves.put(new AlarmKey(note.forge(), action.alarm()), note));
            return;
        }
        RunningLog log = logs.get(note.forge());
        if (log != null) {
            synchronized (log) {
                log.accept(note);
            }
        }
    }

    private void note(Setting setting) {
        RunningLog log = logs.get(setting.forge());
        if (log != null) {
            synchronized (log) {
                log.accept(setting);
            }
        }
    }

    private final class Remembering implements PipelineOutput {
        private final Lease lease;
        private final PipelineOutput next;

        Remembering(Lease lease, PipelineOutput next) {
            this.lease = lease;
            this.next = next;
        }

        @Override
        public void onReading(Reading reading) {
            lease.check();
            next.onReading(reading);
        }

        @Override
        public void onNote(Note note) {
            lease.check();
            LedgerMemory.this.note(note);
            next.onNote(note);
        }

        @Override
        public void onSetting(Setting setting) {
            lease.check();
            LedgerMemory.this.note(setting);
            next.onSetting(setting);
        }

        @Override
        public void onAlarm(AlarmTransition transition) {
            lease.check();
            LedgerMemory.this.note(transition);
            untold.set(transition);
            next.onAlarm(transition);
            lease.check();
            untold.set(null);
        }

        @Override
        public void onBurnBoundary(BurnBoundary boundary) {
            lease.check();
            next.onBurnBoundary(boundary);
        }

        @Override
        public void onBurn(Burn burn) {
            lease.check();
            next.onBurn(burn);
        }

        @Override
        public void onSource(SourceEvent event) {
            lease.check();
            next.onSource(event);
        }
    }
}
