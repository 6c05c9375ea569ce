package org.bankfire.daemon.store;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.LongSupplier;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The thread between the ledger and its store, so that a slow, full or hung disk never delays an alarm. Adding never
 * waits for the store. {@link CommitPace} says when it commits, {@link Backlog} what happens when it cannot.
 *
 * <p>All methods may be called from any thread; callbacks run on the writer's own thread and should be short.
 */
public final class StoreWriter implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(StoreWriter.class);

    /**
     * One transaction's readings: half a second of a thousand forges with 40 readings a second each. A transaction writes a
     * page for each channel in it, however few readings that has, so many channels in small ones cost several times as much.
     */
    static final int BATCH_READINGS = 20_000;

    /** A commit that takes longer than this counts as failing although it may still come through. */
    static final Duration HUNG_AFTER = Duration.ofSeconds(5);

    /**
     * How long a source waits for word of the commit before it gets it from memory. An MQTT broker sends no more than some
     * twenty messages ahead of acknowledgements, which at ten a second is two seconds of readings: beyond that a store
     * that fails would blind the alarms, and after three seconds of silence they raise <em>no data</em>.
     */
    static final Duration PATIENCE = Duration.ofSeconds(2);

    /** How long {@link #close()} waits; service managers commonly allow 10 s or more before they kill. */
    private static final Duration CLOSE_DEADLINE = Duration.ofSeconds(8);

    private final ReadingStore store;
    private final LongSupplier monotonicNanos;
    private final long patienceNanos;
    private final Thread thread;
    private final Thread voucher;

    private final ReentrantLock lock = new ReentrantLock();
    private final Condition changed = lock.newCondition();
    private final Condition wordWanted = lock.newCondition();

    // All below is guarded by the lock.
    private final Backlog backlog;
    private final CommitPace pace;
    private boolean urgent;
    private boolean stopping;
    private boolean abandoned;
    private long storedCount;
    private boolean committing;
    private long commitStartNanos;
    private @Nullable String failure;
    private long failingSinceNanos;
    private long wordWantedSinceNanos;
    private boolean vouching;
    private long vouchedFor;

    /**
     * How much may wait while the store fails.
     *
     * @param readings readings beside the batch under way, 1 or more
     * @param entries notes, settings, alarm transitions and burns together
     * @param waiters callbacks
     */
    public record Limits(int readings, int entries, int waiters) {
        /**
         * 500,000 readings of some 100 bytes are about 50 MB, which a computer with 512 MB can spare, and three and a half
         * hours of 40 readings a second. 100,000 entries: an alarm that comes and goes every second for a day, about 20
         * MB. 65,535 callbacks: more MQTT messages cannot be under way at once (the packet identifier has 16 bits).
         */
        public static final Limits STANDARD = new Limits(500_000, 100_000, 65_535);

        public Limits {
            if (readings < 1 || entries < 1 || waiters < 1) {
                throw new IllegalArgumentException("limits " + readings + ", " + entries + ", " + waiters
                        + " of the store's backlog; allowed is 1 or more");
            }
        }
    }

    /**
     * How the store does.
     *
     * @param failingFor since when nothing could be stored; empty when all is well
     * @param message what is wrong and what to do; empty when all is well
     * @param backlog readings and entries that wait to be stored
     * @param stored readings and entries handed over to the store so far, doubles included
     * @param droppedReadings readings lost because the backlog was full
     * @param refusedEntries notes, settings, transitions and burns lost because the backlog was full
     * @param forgottenCallbacks callbacks of {@link #whenStored} that never ran or will run, since what they stand for
     *     was dropped or too many waited; each was or will be replaced by the other one given with it
     * @param vouchedFor callbacks of {@link #whenStored} that ran before the commit, since it did not come in time
     */
    public record Health(
            Optional<Duration> failingFor,
            String message,
            long backlog,
            long stored,
            long droppedReadings,
            long refusedEntries,
            long forgottenCallbacks,
            long vouchedFor) {
        public boolean ok() {
            return failingFor.isEmpty();
        }
    }

    /** @param name of the thread, such as the forge group's */
    public StoreWriter(ReadingStore store, String name) {
        this(store, name, Limits.STANDARD, System::nanoTime);
    }

    /** @param monotonicNanos never steps; only differences count */
    public StoreWriter(ReadingStore store, String name, Limits limits, LongSupplier monotonicNanos) {
        this(store, name, limits, PATIENCE, monotonicNanos);
    }

    /** @param patience how long a source waits for word before it gets it from memory */
    public StoreWriter(ReadingStore store, String name, Limits limits, Duration patience, LongSupplier monotonicNanos) {
        this.patienceNanos = patience.toNanos();
        this.store = store;
        this.monotonicNanos = monotonicNanos;
        backlog = new Backlog(limits);
        pace = new CommitPace(monotonicNanos.getAsLong());
        thread = new Thread(this::run, "store-" + name);
        // A hung disk must not keep the process from ending.
        thread.setDaemon(true);
        // The first may hang in the store, so word from memory needs a thread of its own.
        voucher = new Thread(this::vouch, "store-" + name + " word");
        voucher.setDaemon(true);
        thread.start();
        voucher.start();
    }

    /** Stored within about a second. */
    public void add(Reading reading) {
        change(() -> backlog.add(reading), false);
    }

    /** Stored within about a second; call {@link #flush} to know. */
    public void add(Note note) {
        change(() -> backlog.add(note), false);
    }

    /** Stored within about a second; call {@link #flush} to know. */
    public void add(Setting setting) {
        change(() -> backlog.add(setting), false);
    }

    /** Stored at once. */
    public void add(AlarmTransition transition) {
        change(() -> backlog.add(transition), true);
    }

    /** Stored within about a second, unless a later state of the same burn comes first. */
    public void add(Burn burn) {
        change(() -> backlog.add(burn), false);
    }

    /** Stored within about a second, unless a later fit of the same burn comes first. */
    public void add(StoredFit fit) {
        change(() -> backlog.add(fit), false);
    }

    /**
     * Calls {@code stored} after the commit that contains everything that was added before. It is never called when a
     * reading that was added since the previous call of this method had to be dropped: what it stands for is not stored.
     * Then {@code dropped} is called, after the next commit that succeeds: until then there is no room for it to be
     * delivered again.
     *
     * <p>When the commit does not come within two seconds, {@code stored} is called all the same, and so for all that
     * comes until the store keeps up again: what it stands for is in memory only, and lost if the process ends before the
     * store returns or if so much waits that it has to be dropped. Readings that never reach the alarms would be worse.
     */
    public void whenStored(Runnable stored, Runnable dropped) {
        whenStored(() -> backlog.whenStored(stored, dropped));
    }

    /**
     * As {@link #whenStored(Runnable, Runnable)}, where others add at the same time: it concerns what was added since
     * {@code mark}, and perhaps what others added meanwhile.
     *
     * @param mark of {@link #mark} before the first reading
     */
    public void whenStored(long mark, Runnable stored, Runnable dropped) {
        whenStored(() -> backlog.whenStored(mark, stored, dropped));
    }

    /** Where what is added from now on begins. */
    public long mark() {
        lock.lock();
        try {
            return backlog.added();
        } finally {
            lock.unlock();
        }
    }

    private void whenStored(Runnable wait) {
        change(
                () -> {
                    if (!backlog.hasWords()) {
                        wordWantedSinceNanos = monotonicNanos.getAsLong();
                        wordWanted.signal();
                    }
                    wait.run();
                },
                false);
    }

    /**
     * Waits until everything that was added before is durable (or counted as dropped).
     *
     * @return false when that did not happen in time, or too many wait already; it stays in the backlog
     */
    public boolean flush(Duration timeout) throws InterruptedException {
        CountDownLatch done = new CountDownLatch(1);
        AtomicBoolean accepted = new AtomicBoolean();
        change(() -> accepted.set(backlog.whenNothingOlderWaits(done::countDown)), true);
        return accepted.get() && done.await(timeout.toNanos(), TimeUnit.NANOSECONDS);
    }

    /** Whether the thread that writes is there. */
    public boolean isAlive() {
        return thread.isAlive();
    }

    public Health health() {
        lock.lock();
        try {
            long now = monotonicNanos.getAsLong();
            Optional<Duration> failingFor = Optional.empty();
            String message = "";
            String known = failure;
            Duration underWay = Duration.ofNanos(committing ? now - commitStartNanos : 0);
            if (known != null) {
                failingFor = Optional.of(Duration.ofNanos(now - failingSinceNanos));
                message = known;
            } else if (underWay.compareTo(HUNG_AFTER) >= 0) {
                failingFor = Optional.of(underWay);
                message = "the store has not answered for " + underWay.toSeconds()
                        + " s; check the disk's cable or card, and the system's log";
            }
            if (vouching && !message.isEmpty()) {
                message += "; until then messages are acknowledged from memory";
            }
            return new Health(
                    failingFor,
                    message,
                    backlog.size(),
                    storedCount,
                    backlog.droppedReadings(),
                    backlog.refusedEntries(),
                    backlog.forgottenWaiters(),
                    vouchedFor);
        } finally {
            lock.unlock();
        }
    }

    /** As {@link #close(Duration)} with a deadline that a service manager grants. The store itself stays open. */
    @Override
    public void close() {
        close(CLOSE_DEADLINE);
    }

    /**
     * Stores what waits and ends the thread; nothing can be added any more.
     *
     * @return whether everything is stored; false when the store failed or did not answer until the deadline
     */
    public boolean close(Duration deadline) {
        lock.lock();
        try {
            stopping = true;
            pace.shortenBackOff();
            changed.signalAll();
            wordWanted.signalAll();
        } finally {
            lock.unlock();
        }
        try {
            thread.join(Math.max(1, deadline.toMillis()));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        lock.lock();
        try {
            abandoned = true;
            changed.signalAll();
            long left = backlog.size();
            if (left > 0) {
                LOG.error(
                        "{} readings and entries could not be stored before the end: {}",
                        left,
                        failure != null ? failure : "the store did not answer in time");
            }
            return left == 0;
        } finally {
            lock.unlock();
        }
    }

    private void change(Runnable change, boolean makesUrgent) {
        lock.lock();
        try {
            if (stopping) {
                throw new IllegalStateException("the store's writer is closed");
            }
            boolean wasWaitingForWork = backlog.isEmpty();
            boolean hadWaiters = backlog.hasWaiters();
            change.run();
            urgent |= makesUrgent;
            // The thread sleeps until what it knows of is due; it need be woken only when that has become sooner.
            if (wasWaitingForWork
                    || makesUrgent
                    || hadWaiters != backlog.hasWaiters()
                    || backlog.waitingReadings() == BATCH_READINGS) {
                changed.signalAll();
            }
        } finally {
            lock.unlock();
        }
    }

    private void run() {
        try {
            Backlog.Batch batch = next();
            while (batch != null) {
                List<Runnable> words = store(batch);
                if (words != null) {
                    words.forEach(StoreWriter::call);
                    takeDropped().forEach(StoreWriter::call);
                }
                batch = next();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            lock.lock();
            try {
                if (!stopping) {
                    noteFailure(
                            "the thread that writes to the store has ended; restart the daemon",
                            monotonicNanos.getAsLong());
                }
            } finally {
                lock.unlock();
            }
        }
    }

    /** Waits for the next batch that is due; null when it is time to end. */
    private Backlog.@Nullable Batch next() throws InterruptedException {
        lock.lock();
        try {
            while (!abandoned) {
                boolean nothing = backlog.isEmpty() && !backlog.hasBatchUnderWay();
                if (nothing && stopping) {
                    return null;
                }
                long wait = nothing ? Long.MAX_VALUE : untilDueNanos();
                if (wait == 0) {
                    return take();
                }
                if (nothing) {
                    changed.await();
                } else {
                    changed.awaitNanos(wait);
                }
            }
            return null;
        } finally {
            lock.unlock();
        }
    }

    private long untilDueNanos() {
        boolean full = backlog.waitingReadings() >= BATCH_READINGS;
        return pace.untilDueNanos(monotonicNanos.getAsLong(), urgent || full || stopping, backlog.hasWaiters());
    }

    private Backlog.@Nullable Batch take() {
        Backlog.Batch batch = backlog.take(BATCH_READINGS);
        if (backlog.isEmpty()) {
            urgent = false;
        }
        committing = true;
        commitStartNanos = monotonicNanos.getAsLong();
        return batch;
    }

    /** Stores a batch; returns whom to call then, or null when that failed. */
    private @Nullable List<Runnable> store(Backlog.Batch batch) {
        String problem = null;
        try {
            store.append(batch.content());
        } catch (StoreException | RuntimeException e) {
            // A store that throws what it should not is failing all the same; its readings are kept as ever.
            problem = e instanceof StoreException
                    ? String.valueOf(e.getMessage())
                    : "unexpected failure of the store: " + e;
            LOG.debug("append failed", e);
        }
        lock.lock();
        try {
            committing = false;
            long now = monotonicNanos.getAsLong();
            if (problem != null) {
                noteFailure(problem, commitStartNanos);
                pace.failed(now);
                if (stopping) {
                    pace.shortenBackOff();
                }
                return null;
            }
            if (failure != null) {
                LOG.info("the store works again, {} readings and entries are waiting", backlog.size());
                failure = null;
            }
            pace.committed(commitStartNanos, now);
            storedCount += batch.content().size();
            List<Runnable> words = batch.stored();
            if (!words.isEmpty()) {
                wordWantedSinceNanos = commitStartNanos;
            }
            backlog.stored();
            if (vouching && backlog.waitingReadings() < BATCH_READINGS) {
                vouching = false;
                LOG.info("the store keeps up again; messages are acknowledged when they are stored");
            }
            return words;
        } finally {
            lock.unlock();
        }
    }

    private void vouch() {
        try {
            List<Runnable> words = nextToVouchFor();
            while (words != null) {
                words.forEach(StoreWriter::call);
                words = nextToVouchFor();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Waits for words whose commit does not come in time; null when it is time to end. */
    private @Nullable List<Runnable> nextToVouchFor() throws InterruptedException {
        lock.lock();
        try {
            while (!stopping) {
                long left = vouching ? 0 : patienceNanos - (monotonicNanos.getAsLong() - wordWantedSinceNanos);
                if (!backlog.hasWords()) {
                    wordWanted.await();
                } else if (left > 0) {
                    wordWanted.awaitNanos(left);
                } else {
                    if (!vouching) {
                        vouching = true;
                        LOG.warn(
                                "the store does not keep up: until it does, messages are acknowledged from memory, so that"
                                        + " they go on reaching the alarms; they are lost if the daemon ends before");
                    }
                    List<Runnable> words = backlog.takeWords();
                    vouchedFor += words.size();
                    return words;
                }
            }
            return null;
        } finally {
            lock.unlock();
        }
    }

    private List<Runnable> takeDropped() {
        lock.lock();
        try {
            return backlog.takeDropped();
        } finally {
            lock.unlock();
        }
    }

    private void noteFailure(String problem, long sinceNanos) {
        if (failure == null) {
            failingSinceNanos = sinceNanos;
            LOG.error("nothing can be stored, everything is kept in memory and tried again: {}", problem);
        }
        failure = problem;
    }

    private static void call(Runnable word) {
        try {
            word.run();
        } catch (RuntimeException e) {
            LOG.warn("a source failed to take word of what became of its readings", e);
        }
    }
}
