package org.bankfire.daemon.acquire.virtual;

import java.util.concurrent.Semaphore;
import java.util.concurrent.atomic.AtomicLong;

/** Lets as many waits pass as it was given; each jumps straight to its time. */
final class SteppedPace implements Pace {
    private final Semaphore allowed = new Semaphore(0);
    private final AtomicLong nanos = new AtomicLong(5_000_000_000L);

    void allow(int waits) {
        allowed.release(waits);
    }

    /** As if the machine had stood still for that long. */
    void stall(long nanoseconds) {
        nanos.addAndGet(nanoseconds);
    }

    @Override
    public long nanoTime() {
        return nanos.get();
    }

    @Override
    public void waitUntil(long nanoTime) throws InterruptedException {
        allowed.acquire();
        nanos.accumulateAndGet(nanoTime, Math::max);
    }
}
