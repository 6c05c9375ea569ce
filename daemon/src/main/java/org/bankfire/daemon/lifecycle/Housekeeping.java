package org.bankfire.daemon.lifecycle;

import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.store.DiskWatch;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.Retention;
import org.bankfire.daemon.store.StoreException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Looks at the disk and drops readings past their time, on a thread that no alarm waits for. */
final class Housekeeping implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(Housekeeping.class);

    private static final long DISK_EVERY_S = 10;
    private static final long PRUNE_EVERY_S = 60;
    /** A fleet brings more in a minute than one call deletes; a third of the time is enough to keep up, and leaves room. */
    private static final long PRUNE_AT_MOST_NANOS = TimeUnit.SECONDS.toNanos(20);
    /** A daemon that has just started may not have its clock set yet, and a clock years ahead makes everything old. */
    private static final long PRUNE_AFTER_S = 600;

    private final ReadingStore store;
    private final DiskWatch disk;
    private final Retention retention;
    private final ReceiptClock clock;
    /** Two threads: the look at the disk must not wait for a database server that is asked to delete. */
    private final ScheduledExecutorService keeper = Executors.newScheduledThreadPool(2, task -> {
        Thread thread = new Thread(task, "housekeeping");
        thread.setDaemon(true);
        return thread;
    });

    private volatile boolean diskNearlyFull;

    Housekeeping(ReadingStore store, DiskWatch disk, Retention retention, ReceiptClock clock) {
        this.store = store;
        this.disk = disk;
        this.retention = retention;
        this.clock = clock;
    }

    void start() {
        var looking = keeper.scheduleWithFixedDelay(this::lookAtDisk, 0, DISK_EVERY_S, TimeUnit.SECONDS);
        var pruning = keeper.scheduleWithFixedDelay(this::prune, PRUNE_AFTER_S, PRUNE_EVERY_S, TimeUnit.SECONDS);
        log.debug("housekeeping: {} and {}", looking, pruning);
    }

    /** As of the last look. */
    boolean diskNearlyFull() {
        return diskNearlyFull;
    }

    private void lookAtDisk() {
        try {
            diskNearlyFull = disk.check().nearlyFull();
        } catch (StoreException | RuntimeException failure) {
            log.warn("the disk could not be looked at: {}", failure.getMessage());
        }
    }

    private void prune() {
        try {
            WallTime now = clock.stamp();
            long until = System.nanoTime() + PRUNE_AT_MOST_NANOS;
            long rows = 0;
            long more = retention.apply(store, now);
            while (more > 0 && System.nanoTime() < until) {
                rows += more;
                more = retention.apply(store, now);
            }
            rows += more;
            if (rows > 0) {
                log.info(
                        "{} rows dropped that are past their time ({} days at most)",
                        rows,
                        retention.keep().toDays());
            }
        } catch (StoreException | RuntimeException failure) {
            log.warn("old readings could not be dropped: {}", failure.getMessage());
        }
    }

    @Override
    public void close() {
        keeper.shutdownNow();
    }
}
