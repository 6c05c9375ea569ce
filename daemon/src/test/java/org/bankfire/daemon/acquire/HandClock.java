package org.bankfire.daemon.acquire;

import org.bankfire.analysis.reading.WallTime;

/** A wall clock and a monotonic clock that a test moves by hand. */
final class HandClock {
    private long wallMicros = 1_772_359_212_000_000L;
    private long nanos = -5;

    ReceiptClock receiptClock() {
        return new ReceiptClock(() -> new WallTime(wallMicros), () -> new MonotonicTime(nanos));
    }

    WallTime wall() {
        return new WallTime(wallMicros);
    }

    /** Time goes on for both. */
    void pass(long micros) {
        wallMicros += micros;
        nanos += micros * 1_000;
    }

    /** The wall clock is set, relative to what it shows. */
    void set(long micros) {
        wallMicros += micros;
    }
}
