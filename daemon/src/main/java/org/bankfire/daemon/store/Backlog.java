package org.bankfire.daemon.store;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.jspecify.annotations.Nullable;

/**
 * What waits to be stored, in order, and who waits for it. It holds one batch that is being stored and what came since.
 * Not thread-safe: {@link StoreWriter} guards it.
 *
 * <p>When it is full the oldest reading that is not in the batch under way is dropped and counted. Notes, settings, alarm
 * transitions and burns outlive readings: they have a bound of their own that only weeks of failure could reach, and
 * there the newest is refused, so that the story's beginning stays.
 */
final class Backlog {
    /** Of 100 kB each and made again by a command at any time; a day of failure in a club of twenty forges. */
    private static final int MOST_FITS = 64;

    private final StoreWriter.Limits limits;

    private final Deque<Reading> readings = new ArrayDeque<>();
    private final List<Note> notes = new ArrayList<>();
    private final List<Setting> settings = new ArrayList<>();
    private final List<AlarmTransition> transitions = new ArrayList<>();
    // A burn changes every few seconds and only its last state counts.
    private final Map<String, Burn> burns = new LinkedHashMap<>();
    private final Map<String, StoredFit> fits = new LinkedHashMap<>();

    /** In order of what they wait for; so are the flushes. */
    private final Deque<Waiter> waiters = new ArrayDeque<>();

    private final Deque<Waiter> flushes = new ArrayDeque<>();
    /** Those whose readings have all been taken or dropped before; they go with the next batch. */
    private final List<Runnable> readyWaiters = new ArrayList<>();

    /** Words to those whose waiters were forgotten, until somebody takes them. */
    private final List<Runnable> dropped = new ArrayList<>();

    private @Nullable Batch underWay;

    /** Readings ever added; the running number of the next one. */
    private long added;
    /** Value of {@link #added} when the last waiter came. */
    private long lastWaiterAt;

    private final Holes holes = new Holes();
    private long droppedReadings;
    private long refusedEntries;
    private long forgottenWaiters;

    Backlog(StoreWriter.Limits limits) {
        this.limits = limits;
    }

    /** Who is to be called when the readings with running numbers {@code from} until before {@code to} are stored. */
    private record Waiter(long from, long to, Runnable stored, Runnable dropped) {}

    /**
     * What is handed to the store, and who is to be called then.
     *
     * @param words to sources, which may be given sooner; may shrink
     * @param flushes to those who want to know that it is durable
     */
    record Batch(StoreBatch content, List<Runnable> words, List<Runnable> flushes) {
        /** Everybody who is to be called. */
        List<Runnable> stored() {
            List<Runnable> all = new ArrayList<>(words);
            all.addAll(flushes);
            return all;
        }
    }

    void add(Reading reading) {
        if (readings.size() >= limits.readings()) {
            dropOldestReading();
        }
        readings.addLast(reading);
        added++;
    }

    void add(Note note) {
        if (hasRoomForEntry()) {
            notes.add(note);
        }
    }

    void add(Setting setting) {
        if (hasRoomForEntry()) {
            settings.add(setting);
        }
    }

    void add(AlarmTransition transition) {
        if (hasRoomForEntry()) {
            transitions.add(transition);
        }
    }

    void add(Burn burn) {
        if (burns.containsKey(burn.id()) || hasRoomForEntry()) {
            burns.put(burn.id(), burn);
        }
    }

    void add(StoredFit fit) {
        if (fits.containsKey(fit.burnId()) || fits.size() < MOST_FITS) {
            fits.put(fit.burnId(), fit);
        } else {
            refusedEntries++;
        }
    }

    /**
     * {@code stored} is forgotten when a reading since the waiter before is dropped, or when too many wait; then {@code
     * dropped} is among {@link #takeDropped}.
     */
    void whenStored(Runnable stored, Runnable dropped) {
        // What was dropped before this call is not told: it was known to whoever adds more at once than there is room
        // for.
        whenStored(Math.max(lastWaiterAt, firstWaiting()), stored, dropped);
    }

    /** As {@link #whenStored(Runnable, Runnable)}, for the readings from running number {@code from} on. */
    void whenStored(long from, Runnable stored, Runnable dropped) {
        if (waiters.size() + readyWaiters.size() >= limits.waiters()) {
            forget(dropped);
        } else {
            waiters.addLast(new Waiter(Math.min(from, added), added, stored, dropped));
        }
        lastWaiterAt = added;
    }

    /**
     * {@code stored} is called when all that was added before is stored or counted as dropped.
     *
     * @return false when too many wait already; then it is not called
     */
    boolean whenNothingOlderWaits(Runnable stored) {
        if (flushes.size() >= limits.waiters()) {
            return false;
        }
        flushes.addLast(new Waiter(added, added, stored, stored));
        return true;
    }

    /**
     * The batch under way; when there is none, the oldest readings up to {@code maxReadings} and all else become it.
     *
     * @return null when nothing waits
     */
    @Nullable
    Batch take(int maxReadings) {
        if (underWay == null && !isEmpty()) {
            int count = Math.min(maxReadings, readings.size());
            List<Reading> taken = new ArrayList<>(count);
            for (int i = 0; i < count; i++) {
                taken.add(readings.removeFirst());
            }
            List<Runnable> words = new ArrayList<>(readyWaiters);
            readyWaiters.clear();
            while (!waiters.isEmpty() && waiters.getFirst().to() <= firstWaiting()) {
                judge(waiters.removeFirst(), words);
            }
            List<Runnable> flushed = new ArrayList<>();
            moveTaken(flushes, flushed);
            underWay = new Batch(
                    new StoreBatch(
                            taken,
                            notes,
                            settings,
                            transitions,
                            List.copyOf(burns.values()),
                            List.copyOf(fits.values())),
                    words,
                    flushed);
            notes.clear();
            settings.clear();
            transitions.clear();
            burns.clear();
            fits.clear();
        }
        return underWay;
    }

    /** Whether a source waits for word, be it of what is under way. */
    boolean hasWords() {
        return !waiters.isEmpty() || !readyWaiters.isEmpty() || underWayWords() > 0;
    }

    /**
     * Hands over the words to sources that wait, before anything is stored: what they stand for is all here, and from now
     * on nobody else has it.
     */
    List<Runnable> takeWords() {
        List<Runnable> taken = new ArrayList<>();
        Batch batch = underWay;
        if (batch != null) {
            taken.addAll(batch.words());
            batch.words().clear();
        }
        taken.addAll(readyWaiters);
        readyWaiters.clear();
        waiters.forEach(waiter -> judge(waiter, taken));
        waiters.clear();
        return taken;
    }

    private int underWayWords() {
        Batch batch = underWay;
        return batch == null ? 0 : batch.words().size();
    }

    /** Hands over the words to those whose waiters were forgotten since the last call. */
    List<Runnable> takeDropped() {
        List<Runnable> taken = List.copyOf(dropped);
        dropped.clear();
        return taken;
    }

    /** The batch under way is durable. */
    void stored() {
        underWay = null;
    }

    /** Whether nothing waits beside the batch under way. */
    boolean isEmpty() {
        return readings.isEmpty() && entries() == 0 && !hasWaiters();
    }

    boolean hasBatchUnderWay() {
        return underWay != null;
    }

    /** Readings that wait beside the batch under way. */
    int waitingReadings() {
        return readings.size();
    }

    boolean hasWaiters() {
        return !waiters.isEmpty() || !readyWaiters.isEmpty() || !flushes.isEmpty();
    }

    /** Readings, notes, settings, transitions and burns that are not stored yet. */
    long size() {
        long underWaySize = 0;
        if (underWay != null) {
            underWaySize = underWay.content().size();
        }
        return underWaySize + readings.size() + entries();
    }

    long droppedReadings() {
        return droppedReadings;
    }

    long refusedEntries() {
        return refusedEntries;
    }

    long forgottenWaiters() {
        return forgottenWaiters;
    }

    /** Running number of the next reading. */
    long added() {
        return added;
    }

    /**
     * Who waits for readings of which one was dropped is forgotten, everybody else is to be called. Where several add at
     * once their readings stand in between each other, so a drop may concern more than the first in the row.
     */
    private void judge(Waiter waiter, List<Runnable> words) {
        if (holes.touch(waiter.from(), waiter.to())) {
            forget(waiter.dropped());
        } else {
            words.add(waiter.stored());
        }
    }

    /** Running number of the oldest reading that waits. */
    private long firstWaiting() {
        return added - readings.size();
    }

    private void moveTaken(Deque<Waiter> from, List<Runnable> to) {
        while (!from.isEmpty() && from.getFirst().to() <= firstWaiting()) {
            to.add(from.removeFirst().stored());
        }
    }

    private int entries() {
        return notes.size() + settings.size() + transitions.size() + burns.size() + fits.size();
    }

    private boolean hasRoomForEntry() {
        if (entries() < limits.entries()) {
            return true;
        }
        refusedEntries++;
        return false;
    }

    private void dropOldestReading() {
        long dropped = firstWaiting();
        readings.removeFirst();
        droppedReadings++;
        holes.add(dropped);
        while (!waiters.isEmpty() && waiters.getFirst().from() <= dropped) {
            Waiter waiter = waiters.removeFirst();
            if (waiter.to() <= dropped) {
                judge(waiter, readyWaiters);
            } else {
                forget(waiter.dropped());
            }
        }
    }

    private void forget(Runnable word) {
        forgottenWaiters++;
        // A source that hears nothing keeps its messages unacknowledged, so it can't fill this beyond its own window.
        if (dropped.size() < limits.waiters()) {
            dropped.add(word);
        }
    }
}
