package org.bankfire.daemon.acquire;

/**
 * A point on the line of elapsed time, which no setting of the system clock moves. Only differences mean anything, and
 * only within one run of the process.
 *
 * @param nanos nanoseconds from an arbitrary origin, as of {@link System#nanoTime}; may be negative and wrap
 */
public record MonotonicTime(long nanos) {
    private static final double NANOS_PER_SECOND = 1e9;

    /** Seconds from {@code earlier} to this; right for spans under 292 years. */
    public double secondsSince(MonotonicTime earlier) {
        return (nanos - earlier.nanos) / NANOS_PER_SECOND;
    }

    /** Whole microseconds from {@code earlier} to this, cut towards zero. */
    public long microsSince(MonotonicTime earlier) {
        return (nanos - earlier.nanos) / 1_000;
    }

    public MonotonicTime plusMicros(long micros) {
        return new MonotonicTime(nanos + micros * 1_000);
    }
}
