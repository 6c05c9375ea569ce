package org.bankfire.daemon.testbed;

import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;

/**
 * How long the machine, or this process, was kept from running: a thread that asks again and again to be woken in a moment,
 * and sums up by how much it was woken too late. What is measured beside it was held up by as much.
 */
public final class StoodStill implements AutoCloseable {
    private static final long MOMENT_MS = 10;

    private final AtomicLong nanos = new AtomicLong();
    private final Thread thread = new Thread(this::watch, "stood still");

    /** Begins to watch. */
    public StoodStill() {
        thread.setDaemon(true);
        thread.start();
    }

    /** Since the beginning, ns. */
    public long nanos() {
        return nanos.get();
    }

    private void watch() {
        try {
            while (true) {
                long due = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(MOMENT_MS);
                TimeUnit.MILLISECONDS.sleep(MOMENT_MS);
                nanos.addAndGet(Math.max(0, System.nanoTime() - due));
            }
        } catch (InterruptedException closed) {
            Thread.currentThread().interrupt();
        }
    }

    @Override
    public void close() {
        thread.interrupt();
    }
}
