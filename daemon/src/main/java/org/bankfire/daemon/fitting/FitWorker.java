package org.bankfire.daemon.fitting;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import org.bankfire.daemon.fitting.GatheredBurn.Stage;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The thread that fits burns, of low priority and alone, so that fits take one core at most and nobody waits for them. At
 * most one burn a forge waits: a later state of the same burn takes the place of an earlier one.
 *
 * <p>Burns that go on are fitted at leisure: after each fit the thread rests four times as long as the fit took. Burns
 * that have ended are fitted at once.
 */
public final class FitWorker implements BurnTaker, AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(FitWorker.class);

    private static final int REST_FACTOR = 4;
    /** A fit that hangs on a slow board is given up with the process; it can be made again. */
    private static final long STOP_WAIT_MS = 500;

    private final Work work;
    private final Thread thread;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition changed = lock.newCondition();

    // Guarded by the lock; as many entries as forges.
    private final Map<String, GatheredBurn> waiting = new LinkedHashMap<>();
    private boolean stopping;

    /** What the worker does. */
    public interface Work {
        /** Before the first fit, on the worker's thread. */
        void first();

        /** A burn has begun; on the thread of the gatherer, and to return at once. */
        void begun(String forge, String burnId);

        /** Fits one burn and sees to what follows, on the worker's thread. */
        void fit(GatheredBurn burn);
    }

    /** A worker at rest. */
    @SuppressWarnings("ThreadPriorityCheck") // a hint where the system heeds it; nothing relies on it
    public FitWorker(Work work) {
        this.work = work;
        thread = new Thread(this::run, "fits");
        thread.setPriority(Thread.MIN_PRIORITY);
        // A long fit must not keep the process from ending.
        thread.setDaemon(true);
    }

    /** Begins to work. */
    public void start() {
        thread.start();
    }

    @Override
    public void begun(String forge, String burnId) {
        work.begun(forge, burnId);
    }

    @Override
    public boolean wants(String forge, String burnId, Stage stage) {
        lock.lock();
        try {
            GatheredBurn other = waiting.get(forge);
            // What has ended is fitted in any case; what goes on comes again.
            return stage != Stage.BURNING || other == null;
        } finally {
            lock.unlock();
        }
    }

    @Override
    public void take(GatheredBurn burn) {
        lock.lock();
        try {
            GatheredBurn other = waiting.put(burn.forge().id(), burn);
            if (other != null && !other.burnId().equals(burn.burnId())) {
                log.warn("burn {} is not fitted: burn {} came before there was time", other.burnId(), burn.burnId());
            }
            changed.signalAll();
        } finally {
            lock.unlock();
        }
    }

    private void run() {
        try {
            attempt("the fits so far could not be looked at", work::first);
            long restUntil = System.nanoTime();
            GatheredBurn burn = next(restUntil);
            while (burn != null) {
                GatheredBurn taken = burn;
                long begun = System.nanoTime();
                attempt("burn " + taken.burnId() + " could not be fitted", () -> work.fit(taken));
                long ended = System.nanoTime();
                restUntil = ended + REST_FACTOR * (ended - begun);
                burn = next(restUntil);
            }
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
        }
    }

    private static void attempt(String failed, Runnable what) {
        try {
            what.run();
        } catch (RuntimeException | OutOfMemoryError | StackOverflowError fault) {
            // On a small board memory may be short for a moment; the next burn shall be fitted all the same.
            log.error("{}; everything else goes on", failed, fault);
        }
    }

    /** Waits for a burn that may be fitted now; null when it is time to end. */
    private @Nullable GatheredBurn next(long restUntil) throws InterruptedException {
        lock.lock();
        try {
            while (!stopping) {
                long restNanos = restUntil - System.nanoTime();
                for (Map.Entry<String, GatheredBurn> entry : waiting.entrySet()) {
                    if (restNanos <= 0 || entry.getValue().stage() != Stage.BURNING) {
                        waiting.remove(entry.getKey());
                        return entry.getValue();
                    }
                }
                if (waiting.isEmpty()) {
                    changed.await();
                } else {
                    changed.await(restNanos, TimeUnit.NANOSECONDS);
                }
            }
            return null;
        } finally {
            lock.unlock();
        }
    }

    /** Ends the thread; a fit under way is given up. */
    @Override
    public void close() {
        lock.lock();
        try {
            stopping = true;
            changed.signalAll();
        } finally {
            lock.unlock();
        }
        try {
            thread.join(STOP_WAIT_MS);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
