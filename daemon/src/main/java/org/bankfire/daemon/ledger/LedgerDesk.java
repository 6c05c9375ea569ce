package org.bankfire.daemon.ledger;

import java.util.Set;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.LongSupplier;
import java.util.stream.Collectors;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.daemon.acquire.Outlet;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.store.StoreWriter;

/** What all runs of the ledger thread share, one after another. Safe for use by many threads. */
final class LedgerDesk {
    /** Requests come from people; more than this at once means that something repeats itself. */
    private static final int MAX_WAITING_REQUESTS = 256;

    private final Outlet queue;
    private final StoreWriter writer;
    private final Consumer<ForgeSnapshot> snapshots;
    private final Heart heart;
    private final LongSupplier monotonicNanos;
    private final SourceCounts counts;
    private final BlockingQueue<Consumer<Pipeline>> requests = new ArrayBlockingQueue<>(MAX_WAITING_REQUESTS);
    private volatile Set<String> watched = Set.of();
    private volatile boolean stopping;

    LedgerDesk(
            Outlet queue,
            SourceCounts counts,
            StoreWriter writer,
            Consumer<ForgeSnapshot> snapshots,
            Heart heart,
            LongSupplier monotonicNanos) {
        this.queue = queue;
        this.counts = counts;
        this.writer = writer;
        this.snapshots = snapshots;
        this.heart = heart;
        this.monotonicNanos = monotonicNanos;
    }

    Outlet queue() {
        return queue;
    }

    StoreWriter writer() {
        return writer;
    }

    Consumer<ForgeSnapshot> snapshots() {
        return snapshots;
    }

    Heart heart() {
        return heart;
    }

    BlockingQueue<Consumer<Pipeline>> requests() {
        return requests;
    }

    /** The forges that the present run watches, or the one before as long as the present one prepares. */
    Set<String> watched() {
        return watched;
    }

    void nowWatches(Pipeline pipeline) {
        watched = pipeline.lanes().stream().map(ForgeLane::forge).collect(Collectors.toUnmodifiableSet());
    }

    FrameCounts counts(Source source) {
        return counts.of(source);
    }

    long nowNanos() {
        return monotonicNanos.getAsLong();
    }

    long nowMs() {
        return TimeUnit.NANOSECONDS.toMillis(monotonicNanos.getAsLong());
    }

    boolean isStopping() {
        return stopping;
    }

    void stop() {
        stopping = true;
    }
}
