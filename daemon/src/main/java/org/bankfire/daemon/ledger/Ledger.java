package org.bankfire.daemon.ledger;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.LongSupplier;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.frame.BadFrameException;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.store.StoreWriter;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The one thread through which everything of a group of forges passes in order: it decodes, corrects, hands to the store
 * and watches. Whatever a delivery holds, the thread goes on to the next one.
 */
public final class Ledger implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(Ledger.class);

    /** Requests come from people; more than this at once means that something repeats itself. */
    private static final int MAX_WAITING_REQUESTS = 256;
    /** Longest wait for a delivery, so that requests and deadlines are looked at in time. */
    private static final long IDLE_WAIT_MS = 25;
    /** Deadlines are looked at this often; they fire at their exact event time whatever this is. */
    private static final long TICK_MS = 200;
    /** No page can show more than fifty snapshots a second. */
    private static final long SNAPSHOT_INTERVAL_MS = 20;
    /** Deliveries between two looks at requests and deadlines. */
    private static final int MAX_BURST = 256;

    private static final long STOP_WAIT_MS = 5_000;

    private final Pipeline pipeline;
    private final DeliveryQueue queue;
    private final StoreWriter writer;
    private final StoreOutput output;
    private final Upkeep upkeep;
    private final Consumer<ForgeSnapshot> snapshots;
    private final LongSupplier monotonicNanos;
    private final Map<Source, FrameCounts> counts = new ConcurrentHashMap<>();
    private final BlockingQueue<Runnable> requests = new ArrayBlockingQueue<>(MAX_WAITING_REQUESTS);
    private final List<Delivery> burst = new ArrayList<>(MAX_BURST);
    private final Thread thread = new Thread(this::work, "ledger");

    private volatile boolean stopping;
    private long lastTickMs;
    private long lastSnapshotMs;
    private boolean changed;

    /** What has to be looked at regularly on the ledger thread. */
    public interface Upkeep {
        /** Tells of a clock that was set, before the first reading that it stamped since is handled. */
        void followClock();

        /** Looks at deadlines, clock, store and disk. */
        void tick();
    }

    /**
     * A ledger at rest.
     *
     * @param output what {@code pipeline} sends to
     * @param snapshots told each new snapshot, on the ledger thread
     * @param monotonicNanos a clock that never steps
     */
    public Ledger(
            Pipeline pipeline,
            DeliveryQueue queue,
            StoreWriter writer,
            StoreOutput output,
            Upkeep upkeep,
            Consumer<ForgeSnapshot> snapshots,
            LongSupplier monotonicNanos) {
        this.pipeline = pipeline;
        this.queue = queue;
        this.writer = writer;
        this.output = output;
        this.upkeep = upkeep;
        this.snapshots = snapshots;
        this.monotonicNanos = monotonicNanos;
    }

    public void start() {
        thread.start();
    }

    /** Whether the thread runs. */
    public boolean isAlive() {
        return thread.isAlive();
    }

    /** What has been seen of {@code source}. */
    public FrameCounts counts(Source source) {
        return counts.computeIfAbsent(source, any -> new FrameCounts());
    }

    /**
     * Runs {@code request} on the ledger thread, between two deliveries.
     *
     * @return its result; failed at once when too many requests wait already
     */
    public <T> CompletableFuture<T> request(Function<Pipeline, T> request) {
        CompletableFuture<T> result = new CompletableFuture<>();
        boolean accepted = !stopping
                && requests.offer(() -> {
                    try {
                        result.complete(request.apply(pipeline));
                        changed = true;
                    } catch (RuntimeException failure) {
                        result.completeExceptionally(failure);
                    }
                });
        if (!accepted) {
            result.completeExceptionally(new IllegalStateException("the daemon is too busy or stopping; try again"));
        }
        return result;
    }

    /** Takes what the sources have delivered until now, then stops. */
    @Override
    public void close() {
        stopping = true;
        try {
            thread.join(STOP_WAIT_MS);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
        if (thread.isAlive()) {
            throw new IllegalStateException("the ledger thread did not stop within " + STOP_WAIT_MS + " ms");
        }
    }

    private void work() {
        while (!stopping || queue.size() > 0) {
            try {
                takeBurst();
                runRequests();
                tickWhenDue();
                publishWhenDue();
            } catch (InterruptedException interrupted) {
                stopping = true;
            } catch (RuntimeException failure) {
                // Logging and alarms go on: a failure here is a fault of the program, reported and passed over.
                log.error("the ledger met a fault and goes on", failure);
            }
        }
        runRequests();
        publish();
    }

    private void takeBurst() throws InterruptedException {
        Delivery first = queue.poll(changed ? 1 : IDLE_WAIT_MS);
        if (first == null) {
            return;
        }
        burst.clear();
        burst.add(first);
        queue.drainTo(burst, MAX_BURST - 1);
        upkeep.followClock();
        for (Delivery delivery : burst) {
            take(delivery);
        }
    }

    private void take(Delivery delivery) {
        FrameCounts count = counts(delivery.source());
        long lostBefore = output.lostLines();
        try {
            Pack pack = packOf(delivery);
            pipeline.accept(pack);
            count.countGood();
            changed = true;
        } catch (BadFrameException bad) {
            String problem = String.valueOf(bad.getMessage());
            reportBad(delivery.source(), count.countBad(problem), problem);
        } catch (RuntimeException failure) {
            log.error("a frame of {} could not be taken", delivery.source().name(), failure);
            count.countBad(String.valueOf(failure.getMessage()));
        }
        count.addLostLines(output.lostLines() - lostBefore);
        // Bad frames are acknowledged too: they would come again for ever.
        if (delivery.stored() != Delivery.NO_ACKNOWLEDGEMENT) {
            writer.whenStored(delivery.stored(), delivery.dropped());
        }
    }

    private static Pack packOf(Delivery delivery) throws BadFrameException {
        if (delivery instanceof Delivery.Raw raw) {
            return raw.decoder().decode(raw.bytes(), raw.receiptTime());
        }
        return ((Delivery.Decoded) delivery).pack();
    }

    /** The first and then ever rarer: a wrong baud rate makes thousands a second. */
    private static void reportBad(Source source, long number, String problem) {
        if (Long.bitCount(number) == 1) {
            log.warn("{}: bad frame, {} so far: {}", source.name(), number, problem);
        }
    }

    private void runRequests() {
        Runnable request = requests.poll();
        while (request != null) {
            request.run();
            request = requests.poll();
        }
    }

    private void tickWhenDue() {
        long now = nowMs();
        if (now - lastTickMs >= TICK_MS) {
            lastTickMs = now;
            upkeep.tick();
            changed = true;
        }
    }

    private void publishWhenDue() {
        long now = nowMs();
        if (changed && now - lastSnapshotMs >= SNAPSHOT_INTERVAL_MS) {
            lastSnapshotMs = now;
            publish();
        }
    }

    private void publish() {
        changed = false;
        for (ForgeLane lane : pipeline.lanes()) {
            snapshots.accept(lane.monitor().snapshot());
        }
    }

    private long nowMs() {
        return TimeUnit.NANOSECONDS.toMillis(monotonicNanos.getAsLong());
    }
}
