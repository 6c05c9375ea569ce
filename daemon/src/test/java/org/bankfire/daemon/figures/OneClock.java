package org.bankfire.daemon.figures;

import java.time.Instant;
import java.time.temporal.ChronoUnit;

/**
 * Wall time that several processes tell alike and that never steps: {@link System#nanoTime}, which all processes of a Linux
 * machine share, and one offset.
 *
 * @param offsetMicros wall time less monotonic time, µs
 */
record OneClock(long offsetMicros) {
    /** The present offset. */
    static OneClock now() {
        return new OneClock(ChronoUnit.MICROS.between(Instant.EPOCH, Instant.now()) - System.nanoTime() / 1_000);
    }

    /** µs since 1970. */
    long micros(long nanos) {
        return nanos / 1_000 + offsetMicros;
    }

    /** How far the wall clock has been set since, ms. */
    double steppedMs() {
        return (now().offsetMicros - offsetMicros) / 1e3;
    }
}
