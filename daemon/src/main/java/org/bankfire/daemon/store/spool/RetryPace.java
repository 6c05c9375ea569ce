package org.bankfire.daemon.store.spool;

import java.util.random.RandomGenerator;

/**
 * Waits between attempts to reach a server: each drawn from the upper half of a window that doubles, so that the many
 * daemons of one server do not come all at once when it is back.
 */
final class RetryPace {
    static final long SHORTEST_MS = 500;

    /** Nobody waits for a server that is away, but after its return the page should catch up within a minute. */
    static final long LONGEST_MS = 30_000;

    private final RandomGenerator random;
    private long windowMs = SHORTEST_MS;

    RetryPace(RandomGenerator random) {
        this.random = random;
    }

    long nextMs() {
        long wait = windowMs / 2 + random.nextLong(windowMs / 2 + 1);
        windowMs = Math.min(LONGEST_MS, 2 * windowMs);
        return wait;
    }

    void reset() {
        windowMs = SHORTEST_MS;
    }
}
