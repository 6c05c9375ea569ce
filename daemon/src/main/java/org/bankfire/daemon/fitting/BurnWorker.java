package org.bankfire.daemon.fitting;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Predicate;
import org.bankfire.daemon.fitting.GatheredBurn.Stage;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A thread that works on burns, of low priority and alone, so that it takes one core at most and nobody waits for it. At
 * most one burn a forge waits: a later state of the same burn takes the place of an earlier one.
 *
 * <p>Burns that go on are worked on at leisure: after each the thread rests four times as long as it took. Burns that have
 * ended are worked on at once. With hundreds of burns a turn takes minutes, so forges that somebody looks at come first, as
 * they are by then; every second burn is the one that has waited longest all the same, so that nobody waits for ever. Burns
 * of the past of which another thing is told now take turns with those that go on.
 */
public final class BurnWorker implements BurnTaker, AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(BurnWorker.class);

    private static final int REST_FACTOR = 4;
    /** By then the store has what was told, and who corrects one entry has often corrected the next. */
    private static final long CATCH_UP_AFTER_NANOS = TimeUnit.SECONDS.toNanos(5);
    /** Work that hangs on a slow board is given up with the process; it can be done again. */
    private static final long STOP_WAIT_MS = 500;

    private final Work work;
    private final double everyS;
    private final Thread thread;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition changed = lock.newCondition();

    // Guarded by the lock; as many entries as forges.
    private final Map<String, GatheredBurn> waiting = new LinkedHashMap<>();
    private boolean stopping;
    private boolean preferredLast;
    private boolean behind = true;
    private boolean pastWasLast;
    private long catchUpNanos;

    private volatile Predicate<String> preferred = forge -> false;

    /** What the worker does. */
    public interface Work {
        /** Before the first burn, on the worker's thread. */
        default void first() {}

        /** A burn has begun; on the thread of the gatherer, and to return at once. */
        void begun(String forge, String burnId);

        /** Works on one burn and sees to what follows, on the worker's thread. */
        void work(GatheredBurn burn);

        /** See {@link BurnTaker#retold}; on the thread of the gatherer, and to return at once. */
        default void retold(String forge, Retold what) {}

        /**
         * Does one piece of what follows from {@link #retold}; on the worker's thread. Called some seconds after the
         * beginning too.
         *
         * @return whether there is more to do
         */
        default boolean catchUp() {
            return false;
        }
    }

    /**
     * A worker at rest.
     *
     * @param name of its thread
     * @param everyS a burn that goes on is looked at this often, s of the burn
     */
    @SuppressWarnings("ThreadPriorityCheck") // a hint where the system heeds it; nothing relies on it
    public BurnWorker(String name, double everyS, Work work) {
        this.work = work;
        this.everyS = everyS;
        thread = new Thread(this::run, name);
        thread.setPriority(Thread.MIN_PRIORITY);
        // Long work must not keep the process from ending.
        thread.setDaemon(true);
    }

    /** From now on burns of such forges come before others that go on; asked often and on several threads. */
    public void prefer(Predicate<String> forges) {
        preferred = forges;
    }

    /** Begins to work. */
    public void start() {
        catchUpNanos = System.nanoTime() + CATCH_UP_AFTER_NANOS;
        thread.start();
    }

    @Override
    public void begun(String forge, String burnId) {
        work.begun(forge, burnId);
    }

    @Override
    public void retold(String forge, Retold what) {
        work.retold(forge, what);
        lock.lock();
        try {
            behind = true;
            catchUpNanos = System.nanoTime() + CATCH_UP_AFTER_NANOS;
            changed.signalAll();
        } finally {
            lock.unlock();
        }
    }

    @Override
    public double everyS() {
        return everyS;
    }

    @Override
    public boolean wants(String forge, String burnId, Stage stage) {
        lock.lock();
        try {
            GatheredBurn other = waiting.get(forge);
            // What has ended is worked on in any case; what goes on comes again.
            if (stage != Stage.BURNING || other == null) {
                return true;
            }
            // What somebody looks at is worked on soon, and shall not rest on a record of when it began to wait.
            return other.stage() == Stage.BURNING && preferred.test(forge);
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
                log.warn(
                        "{}: burn {} is passed over: burn {} came before there was time",
                        thread.getName(),
                        other.burnId(),
                        burn.burnId());
            }
            changed.signalAll();
        } finally {
            lock.unlock();
        }
    }

    private void run() {
        try {
            attempt("the burns so far could not be looked at", work::first);
            long restUntil = System.nanoTime();
            Runnable task = next(restUntil);
            while (task != null) {
                long begun = System.nanoTime();
                task.run();
                long ended = System.nanoTime();
                restUntil = ended + REST_FACTOR * (ended - begun);
                task = next(restUntil);
            }
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
        }
    }

    private void workOn(GatheredBurn burn) {
        attempt("burn " + burn.burnId() + " was not done", () -> work.work(burn));
    }

    private void catchUp() {
        boolean[] more = new boolean[1];
        attempt("a corrected burn was not done", () -> more[0] = work.catchUp());
        if (more[0]) {
            lock.lock();
            try {
                behind = true;
            } finally {
                lock.unlock();
            }
        }
    }

    private void attempt(String failed, Runnable what) {
        try {
            what.run();
        } catch (RuntimeException | Error fault) {
            // On a small board memory may be short for a moment; the next burn shall have its turn all the same.
            log.error("{}: {}; everything else goes on", thread.getName(), failed, fault);
        }
    }

    /** Waits for work that may be done now; null when it is time to end. */
    private @Nullable Runnable next(long restUntil) throws InterruptedException {
        lock.lock();
        try {
            while (!stopping) {
                long now = System.nanoTime();
                long restNanos = restUntil - now;
                Runnable task = firstOf(burn -> burn.stage() != Stage.BURNING);
                if (task == null && restNanos <= 0) {
                    task = atLeisure(now);
                }
                if (task != null) {
                    return task;
                }
                if (!waiting.isEmpty()) {
                    changed.awaitNanos(restNanos);
                } else if (behind) {
                    changed.awaitNanos(Math.max(restNanos, catchUpNanos - now));
                } else {
                    changed.await();
                }
            }
            return null;
        } finally {
            lock.unlock();
        }
    }

    /** By turns what goes on and what was told of the past, so that many burning forges cannot hold the latter up. */
    private @Nullable Runnable atLeisure(long nowNanos) {
        boolean pastDue = behind && catchUpNanos - nowNanos <= 0;
        Runnable task = pastDue && !pastWasLast ? null : goingOn();
        pastWasLast = pastDue && task == null;
        if (pastWasLast) {
            behind = false;
            return this::catchUp;
        }
        return task;
    }

    private @Nullable Runnable goingOn() {
        Runnable looked = preferredLast
                ? null
                : firstOf(burn -> preferred.test(burn.forge().id()));
        preferredLast = looked != null;
        return looked != null ? looked : firstOf(any -> true);
    }

    private @Nullable Runnable firstOf(Predicate<GatheredBurn> kind) {
        for (GatheredBurn burn : waiting.values()) {
            if (kind.test(burn)) {
                waiting.remove(burn.forge().id());
                return () -> workOn(burn);
            }
        }
        return null;
    }

    /** Ends the thread; what is under way is given up. */
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
