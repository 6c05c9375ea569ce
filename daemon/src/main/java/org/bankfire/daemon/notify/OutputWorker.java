package org.bankfire.daemon.notify;

import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.RareLog;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.mqtt.BackOff;
import org.bankfire.daemon.config.OutputConfig;
import org.bankfire.dashboard.source.OutputBook;
import org.bankfire.dashboard.source.OutputBook.OutputState;
import org.bankfire.dashboard.source.OutputBook.Tested;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One output: what waits for it, and the thread that brings it away. An attempt that fails is followed by another after a
 * wait that grows ({@link BackOff}), until the message has arrived or its time is over. A critical alarm that comes
 * meanwhile is tried at once.
 */
final class OutputWorker implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(OutputWorker.class);

    /** Who presses the button waits no longer than this for an answer. */
    static final long TEST_WAIT_MS = 10_000;

    /** What waits when the daemon stops gets this long: longer than a broker or server needs that is well. */
    static final long FAREWELL_MS = 2_000;

    /** A server may ask for more patience than this; an alarm has not got it. */
    private static final double LONGEST_ASKED_WAIT_S = 300;

    private final OutputConfig.Telling settings;
    private final String kind;
    private final Carrier carrier;
    private final Wording wording;
    private final ReceiptClock clock;
    private final LongSupplier nanoTime;
    private final BackOff backOff;
    private final long farewellMs;
    private final RareLog troubles;
    private final Thread thread;

    private final ReentrantLock lock = new ReentrantLock();
    private final Condition changed = lock.newCondition();
    private final Waiting waiting;
    private @Nullable CompletableFuture<Tested> asked;
    private boolean closing;
    private @Nullable Telling carried;
    /** What became of the carried alarm, when that alone would not be told. */
    private @Nullable Telling meanwhile;

    /** While something was carried a critical alarm came, or word that the peer is there: no wait if it fails. */
    private boolean againAtOnce;

    private boolean askedToWait;
    private long notBeforeNanos;
    private long closeByNanos;
    private String trouble = "";
    private String success = "";
    private long sent;
    private long failed;
    private @Nullable WallTime lastSent;

    /**
     * An output at rest.
     *
     * @param kind for the reader
     * @param nanoTime a clock that never steps
     * @param farewellMs what waits when the daemon stops gets this long, ms; {@link #FAREWELL_MS}
     */
    OutputWorker(
            OutputConfig.Telling settings,
            String kind,
            Carrier carrier,
            Wording wording,
            ReceiptClock clock,
            LongSupplier nanoTime,
            BackOff backOff,
            long farewellMs) {
        this.settings = settings;
        this.kind = kind;
        this.carrier = carrier;
        this.wording = wording;
        this.clock = clock;
        this.nanoTime = nanoTime;
        this.backOff = backOff;
        this.farewellMs = farewellMs;
        this.troubles = new RareLog(LOG, clock);
        this.waiting = new Waiting(Waiting.CAPACITY, carrier.keepsEveryMessage());
        this.thread = new Thread(this::work, "output " + settings.name());
        this.thread.setDaemon(true);
        this.notBeforeNanos = nanoTime.getAsLong();
    }

    String name() {
        return settings.name();
    }

    void start() {
        carrier.start(this::retryNow);
        thread.start();
    }

    /**
     * Takes a step of an alarm, if it is to be told here. Returns at once.
     *
     * @param again that it stood so before the daemon started: then its raising may never have been told
     */
    void take(AlarmTransition step, boolean again) {
        if (!settings.forges().isEmpty() && !settings.forges().contains(step.forge())) {
            return;
        }
        long now = nanoTime.getAsLong();
        Telling telling = Telling.of(step, now, again);
        lock.lock();
        try {
            if (isGraveEnough(step) && (again || isTold(step))) {
                waiting.add(telling);
            } else if (!waiting.addIfWaiting(telling) && !noteMeanwhile(telling)) {
                return;
            }
            if (step.priority() == Priority.CRITICAL && !askedToWait) {
                notBeforeNanos = now;
                againAtOnce = carried != null;
            }
            changed.signalAll();
        } finally {
            lock.unlock();
        }
    }

    /** An alarm whose raising is on its way has gone on: if it has to be sent once more, then as it stands now. */
    private boolean noteMeanwhile(Telling telling) {
        boolean concerns =
                carried != null && !carrier.keepsEveryMessage() && carried.key().equals(telling.key());
        if (concerns) {
            meanwhile = telling;
        }
        return concerns;
    }

    private boolean isGraveEnough(AlarmTransition step) {
        return step.priority().compareTo(settings.leastPriority()) <= 0;
    }

    private boolean isTold(AlarmTransition step) {
        return switch (step.state()) {
            case UNACKNOWLEDGED -> true;
            case NORMAL, RETURNED_UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED -> settings.returns();
            case ACKNOWLEDGED, SHELVED, SUPPRESSED, OUT_OF_SERVICE -> settings.acknowledgements();
        };
    }

    /** Sends a test before all that waits; several that are asked for at once are one. */
    CompletableFuture<Tested> test() {
        lock.lock();
        try {
            CompletableFuture<Tested> running = asked;
            if (running != null && !running.isDone()) {
                return running;
            }
            CompletableFuture<Tested> test = new CompletableFuture<>();
            if (closing || !thread.isAlive()) {
                test.complete(new Tested(false, "The output does not run: the daemon starts or stops."));
                return test;
            }
            asked = test;
            changed.signalAll();
            String late = "No answer within " + TEST_WAIT_MS / 1_000 + " s"
                    + (trouble.isEmpty() ? "." : "; latest trouble: " + trouble);
            return test.completeOnTimeout(new Tested(false, late), TEST_WAIT_MS, TimeUnit.MILLISECONDS);
        } finally {
            lock.unlock();
        }
    }

    /** Ends a wait for the next attempt. */
    private void retryNow() {
        lock.lock();
        try {
            notBeforeNanos = nanoTime.getAsLong();
            againAtOnce = carried != null;
            changed.signalAll();
        } finally {
            lock.unlock();
        }
    }

    OutputState state() {
        String ofCarrier = carrier.trouble();
        lock.lock();
        try {
            String wrong = ofCarrier.isEmpty() ? trouble : ofCarrier;
            long waits = (long) waiting.size() + (carried == null ? 0 : 1);
            OutputBook.Condition condition;
            String detail;
            if (!wrong.isEmpty()) {
                condition = OutputBook.Condition.FAILING;
                detail = wrong;
            } else if (waits > 0) {
                condition = OutputBook.Condition.WAITING;
                detail = "on its way";
            } else if (lastSent == null) {
                condition = OutputBook.Condition.IDLE;
                detail = "nothing has been told yet";
            } else {
                condition = OutputBook.Condition.OK;
                detail = success;
            }
            if (waiting.dropped() > 0) {
                detail += "; " + waiting.dropped() + " gave way in the full queue";
            }
            return new OutputState(
                    settings.name(), kind, condition, detail, sent, failed, waits, waiting.dropped(), lastSent);
        } finally {
            lock.unlock();
        }
    }

    /** Brings away what waits, for a bounded time, and stops. */
    @Override
    public void close() {
        lock.lock();
        try {
            closing = true;
            long now = nanoTime.getAsLong();
            closeByNanos = now + TimeUnit.MILLISECONDS.toNanos(farewellMs);
            notBeforeNanos = now;
            changed.signalAll();
        } finally {
            lock.unlock();
        }
        try {
            thread.join(farewellMs);
            thread.interrupt();
            carrier.close();
            thread.join(farewellMs / 4);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    private void work() {
        try {
            boolean more = true;
            while (more) {
                more = step();
            }
        } catch (InterruptedException interrupted) {
            LOG.debug("output {} was told to stop", settings.name());
        }
    }

    /** Waits for something to do and does it; false when all is done. */
    private boolean step() throws InterruptedException {
        CompletableFuture<Tested> test = null;
        Telling telling = null;
        lock.lockInterruptibly();
        try {
            while (true) {
                if (asked != null) {
                    test = asked;
                    asked = null;
                    break;
                }
                if (closing && (waiting.size() == 0 || nanoTime.getAsLong() - closeByNanos > 0)) {
                    return false;
                }
                long wait = notBeforeNanos - nanoTime.getAsLong();
                if (waiting.size() > 0 && wait <= 0) {
                    askedToWait = false;
                    telling = waiting.take();
                    carried = telling;
                    meanwhile = null;
                    againAtOnce = false;
                    break;
                }
                if (waiting.size() == 0) {
                    changed.await();
                } else {
                    long left = changed.awaitNanos(wait);
                    LOG.trace("{} ns of the wait left", left);
                }
            }
        } finally {
            lock.unlock();
        }
        if (test != null) {
            runTest(test);
        } else if (telling != null) {
            carry(telling);
        }
        return true;
    }

    private void runTest(CompletableFuture<Tested> test) throws InterruptedException {
        if (test.isDone()) {
            return; // nobody waits for it any more
        }
        try {
            String words = attempt(() -> wording.test(settings.name(), clock.stamp()));
            arrived(words);
            retryNow();
            test.complete(new Tested(true, words));
        } catch (CarryException e) {
            lock.lock();
            try {
                trouble = e.words();
            } finally {
                lock.unlock();
            }
            troubles.warn("output " + settings.name() + ", test: " + e.words());
            test.complete(new Tested(false, e.words()));
        }
    }

    private void carry(Telling telling) throws InterruptedException {
        try {
            arrived(attempt(() -> wording.of(telling)));
        } catch (CarryException e) {
            failed(telling, e);
        }
    }

    /** Whatever wording or carrier throw, the thread goes on: no other tells that it has ended. */
    private String attempt(Supplier<Message> message) throws CarryException, InterruptedException {
        try {
            return carrier.carry(message.get());
        } catch (RuntimeException | Error fault) {
            LOG.error("output {} met a fault", settings.name(), fault);
            throw CarryException.passing("a fault of the program: " + fault);
        }
    }

    private void arrived(String words) {
        boolean again;
        lock.lock();
        try {
            carried = null;
            again = !trouble.isEmpty();
            trouble = "";
            success = words;
            sent++;
            lastSent = clock.stamp();
            backOff.reset();
        } finally {
            lock.unlock();
        }
        // Not under the lock: the ledger waits for it, and a log may be slow.
        if (again) {
            LOG.info("output {} works again", settings.name());
        }
    }

    private void failed(Telling telling, CarryException why) {
        boolean givenUp;
        lock.lock();
        try {
            carried = null;
            long now = nanoTime.getAsLong();
            double limitS = telling.isCritical() ? settings.giveUpCriticalS() : settings.giveUpS();
            givenUp = why.isLasting() || (now - telling.atNanos()) / 1e9 > limitS;
            if (givenUp) {
                failed++;
                trouble = why.words() + "; the message was given up";
            } else {
                trouble = why.words();
                waiting.putBack(meanwhile == null ? telling : telling.then(meanwhile));
                askedToWait = why.waitS() > 0;
                double waitS = Math.max(backOff.nextMs() / 1e3, Math.min(LONGEST_ASKED_WAIT_S, why.waitS()));
                if (!againAtOnce || askedToWait) {
                    notBeforeNanos = closing ? closeByNanos : now + Math.round(waitS * 1e9);
                }
            }
        } finally {
            lock.unlock();
        }
        if (givenUp) {
            String alarm =
                    telling.latest().alarm().code() + " of " + telling.latest().forge();
            LOG.warn("output {}: {} is given up: {}", settings.name(), alarm, why.words());
        } else {
            troubles.warn("output " + settings.name() + ": " + why.words());
        }
    }
}
