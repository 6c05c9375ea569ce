package org.bankfire.daemon.acquire.mqtt;

import java.util.random.RandomGenerator;

/**
 * Waits between attempts to connect: each drawn from the upper half of a window that doubles, so that many clients of a
 * restarted broker don't come all at once.
 */
public final class BackOff {
    static final long SHORTEST_MS = 1_000;

    /** A forge in use is not to wait longer than this for its record to go on. */
    static final long LONGEST_MS = 30_000;

    private final RandomGenerator random;
    private long windowMs = 2 * SHORTEST_MS;

    /** Begins with the shortest wait. */
    public BackOff(RandomGenerator random) {
        this.random = random;
    }

    /** The next wait, {@value #SHORTEST_MS} to {@value #LONGEST_MS} ms. */
    public long nextMs() {
        long wait = windowMs / 2 + random.nextLong(windowMs / 2 + 1);
        windowMs = Math.min(LONGEST_MS, 2 * windowMs);
        return wait;
    }

    /** Begins again with the shortest wait. */
    public void reset() {
        windowMs = 2 * SHORTEST_MS;
    }
}
