package org.bankfire.daemon.ledger;

import java.util.Map;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.LongSupplier;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.daemon.acquire.Outlet;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.store.StoreWriter;

/**
 * The one thread through which everything of a group of forges passes in order: it decodes, corrects, hands to the store
 * and watches. Whatever a delivery holds, the thread goes on to the next one. A thread that hangs all the same is given
 * up and replaced ({@link LedgerSupervisor}); queue, requests and counts outlive it.
 */
public final class Ledger implements Supervised, AutoCloseable {
    private static final long STOP_WAIT_MS = 5_000;
    private static final double NANOS_PER_S = 1e9;

    private final LedgerParts.Maker maker;
    private final LedgerDesk desk;
    private final LedgerMemory memory;

    private volatile LedgerRun run;
    private volatile long restarts;
    private volatile String lastRestart = "";
    private volatile long restartedNanos;

    /** What has to be looked at regularly on the ledger thread. */
    public interface Upkeep {
        /** Tells of a clock that was set, before the first reading that it stamped since is handled. */
        void followClock();

        /** Looks at deadlines, clock, store and disk. */
        void tick();

        /**
         * This run has taken over from one that hung or ended.
         *
         * @param silentS how long nothing was judged, s
         * @param why in words
         */
        default void tookOver(double silentS, String why) {}
    }

    /**
     * A ledger at rest whose runs all work on one pipeline; of use where none will be replaced.
     *
     * @param output what {@code pipeline} sends to
     * @param snapshots told each new snapshot, on the ledger thread
     * @param monotonicNanos a clock that never steps
     */
    public Ledger(
            Pipeline pipeline,
            Outlet queue,
            StoreWriter writer,
            StoreOutput output,
            Upkeep upkeep,
            Consumer<ForgeSnapshot> snapshots,
            LongSupplier monotonicNanos) {
        this(
                lease -> new LedgerParts(pipeline, output, output, upkeep),
                new LedgerMemory(),
                queue,
                new SourceCounts(),
                writer,
                snapshots,
                new Heart(monotonicNanos),
                monotonicNanos);
    }

    /**
     * A ledger at rest.
     *
     * @param maker makes what a run works with
     * @param memory what a run takes up from the one before
     * @param queue where it takes deliveries from
     * @param counts kept of each source
     * @param snapshots told each new snapshot, on the ledger thread
     * @param heart beats with the thread
     * @param monotonicNanos a clock that never steps
     */
    public Ledger(
            LedgerParts.Maker maker,
            LedgerMemory memory,
            Outlet queue,
            SourceCounts counts,
            StoreWriter writer,
            Consumer<ForgeSnapshot> snapshots,
            Heart heart,
            LongSupplier monotonicNanos) {
        this.maker = maker;
        this.memory = memory;
        this.desk = new LedgerDesk(queue, counts, writer, snapshots, heart, monotonicNanos);
        Lease lease = new Lease();
        LedgerParts parts = maker.make(lease);
        desk.nowWatches(parts.pipeline());
        this.run = new LedgerRun(desk, lease, any -> parts, null);
    }

    public void start() {
        run.start();
    }

    @Override
    public String thread() {
        return "the thread that judges the readings";
    }

    @Override
    public boolean isAlive() {
        return run.isAlive();
    }

    /** Whether the thread runs and gets on: false while it hangs. For outputs and watchdogs; safe for any thread. */
    public boolean heartBeatsWell() {
        return isAlive() && heart().silentS() < Heart.HUNG_S;
    }

    @Override
    public Heart heart() {
        return desk.heart();
    }

    @Override
    public long restarts() {
        return restarts;
    }

    /** Why it was replaced last; empty when it never was. */
    public String lastRestart() {
        return lastRestart;
    }

    /** Since it was replaced last, s; of no meaning when it never was. */
    double sinceRestartS() {
        return (desk.nowNanos() - restartedNanos) / NANOS_PER_S;
    }

    /** What has been seen of {@code source}. */
    public FrameCounts counts(Source source) {
        return desk.counts(source);
    }

    /**
     * Runs {@code request} on the ledger thread, between two deliveries.
     *
     * @return its result; failed at once when too many requests wait already
     */
    public <T> CompletableFuture<T> request(Function<Pipeline, T> request) {
        CompletableFuture<T> result = new CompletableFuture<>();
        boolean accepted = !desk.isStopping()
                && desk.requests().offer(pipeline -> {
                    try {
                        result.complete(request.apply(pipeline));
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
        LedgerRun last;
        synchronized (this) {
            desk.stop();
            last = run;
        }
        if (!last.join(STOP_WAIT_MS)) {
            throw new IllegalStateException("the ledger thread did not stop within " + STOP_WAIT_MS + " ms");
        }
    }

    @Override
    public boolean isStopping() {
        return desk.isStopping();
    }

    @Override
    public StackTraceElement[] stack() {
        return run.stack();
    }

    @Override
    public String inHand() {
        return run.inHand();
    }

    @Override
    public Set<String> watched() {
        return desk.watched();
    }

    @Override
    public void setAside(String forge, String why) {
        memory.setAside(forge, why);
    }

    /** The forges that are not watched because whoever judged them hung, each with the reason in words. */
    public Map<String, String> unwatched() {
        return memory.aside();
    }

    /**
     * Gives the present thread up and goes on with a new one: with new parts, the state that was, the same queue, and
     * without the delivery that was under way.
     *
     * @param why in words
     */
    @Override
    @SuppressWarnings("NonAtomicVolatileUpdate") // under the lock; others only read
    public synchronized void replace(String why) {
        if (desk.isStopping()) {
            return;
        }
        LedgerRun hung = run;
        double silentS = heart().silentS();
        hung.giveUp();
        restarts++;
        restartedNanos = desk.nowNanos();
        lastRestart = why;
        // The new thread makes its parts itself: whatever hangs there hangs that thread, and not who watches it.
        LedgerRun next = new LedgerRun(
                desk, new Lease(), maker, new LedgerRun.Takeover(hung.underWay(), memory.takeUntold(), silentS, why));
        run = next;
        heart().beat();
        next.start();
    }
}
