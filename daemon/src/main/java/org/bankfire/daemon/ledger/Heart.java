package org.bankfire.daemon.ledger;

import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;

/** The pulse of the ledger thread: written with each pass and each delivery, read by anybody. */
public final class Heart {
    /**
     * A pass takes milliseconds and waits for no disk; five seconds are far outside what a busy small computer does to
     * it, and as long as a page waits before it says that the daemon is gone, s.
     */
    public static final double HUNG_S = 5;

    private static final double NANOS_PER_S = TimeUnit.SECONDS.toNanos(1);

    private final LongSupplier monotonicNanos;
    private volatile long lastNanos;
    private volatile long beats;

    /** A heart that has just beaten, by a clock that never steps. */
    public Heart(LongSupplier monotonicNanos) {
        this.monotonicNanos = monotonicNanos;
        this.lastNanos = monotonicNanos.getAsLong();
    }

    /** The thread in charge is alive and gets on. */
    @SuppressWarnings("NonAtomicVolatileUpdate") // one thread beats; a zombie's beat too many would only cost a look
    void beat() {
        lastNanos = monotonicNanos.getAsLong();
        beats++;
    }

    /** Changes with each beat. */
    long beats() {
        return beats;
    }

    /** Since the last beat, s. */
    public double silentS() {
        return Math.max(0, (monotonicNanos.getAsLong() - lastNanos) / NANOS_PER_S);
    }
}
