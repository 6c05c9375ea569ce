package org.bankfire.daemon.store;

import java.util.concurrent.TimeUnit;

/**
 * When the next commit is due. Times are monotonic nanoseconds, given by the caller.
 *
 * <ul>
 *   <li>A second after the last commit for whatever waits: what came over a serial line is durable within a second and a
 *       commit's length, and a memory card is synced once a second at most.
 *   <li>Sooner when somebody waits for word (an MQTT message is acknowledged when stored, and a broker sends only some
 *       twenty ahead of acknowledgements, so a second's wait would hold a busy source to twenty messages a second): after
 *       {@value #ACKNOWLEDGE_MS} ms, or four times what the last commit took if that is longer, so that a slow card spends
 *       no more than a fifth of its time on it; never later than the second.
 *   <li>At once for alarm transitions, for a flush, and when a batch is full.
 *   <li>After a failure not before the back-off has passed: {@value #FIRST_RETRY_MS} ms, doubling to
 *       {@value #LAST_RETRY_MS} ms; a disk that returns is noticed within that time.
 * </ul>
 */
final class CommitPace {
    static final long REGULAR_MS = 1_000;
    static final long ACKNOWLEDGE_MS = 50;
    static final long FIRST_RETRY_MS = 100;
    static final long LAST_RETRY_MS = 10_000;

    private static final int REST_FACTOR = 4;

    private long lastEndNanos;
    private long acknowledgeRestNanos = TimeUnit.MILLISECONDS.toNanos(ACKNOWLEDGE_MS);
    private long backOffMs;

    /** @param nowNanos the first commit is due at once */
    CommitPace(long nowNanos) {
        lastEndNanos = nowNanos - TimeUnit.MILLISECONDS.toNanos(REGULAR_MS);
    }

    /**
     * Nanoseconds until the next commit of something that waits; 0 when it is due.
     *
     * @param urgent an alarm transition or a flush waits, or the batch is full
     * @param awaited somebody wants word of it
     */
    long untilDueNanos(long nowNanos, boolean urgent, boolean awaited) {
        long rest = TimeUnit.MILLISECONDS.toNanos(REGULAR_MS);
        if (backOffMs > 0) {
            rest = TimeUnit.MILLISECONDS.toNanos(backOffMs);
        } else if (urgent) {
            rest = 0;
        } else if (awaited) {
            rest = acknowledgeRestNanos;
        }
        return Math.max(0, rest - (nowNanos - lastEndNanos));
    }

    void committed(long startNanos, long endNanos) {
        lastEndNanos = endNanos;
        backOffMs = 0;
        acknowledgeRestNanos = Math.min(
                TimeUnit.MILLISECONDS.toNanos(REGULAR_MS),
                Math.max(TimeUnit.MILLISECONDS.toNanos(ACKNOWLEDGE_MS), REST_FACTOR * (endNanos - startNanos)));
    }

    void failed(long endNanos) {
        lastEndNanos = endNanos;
        backOffMs = backOffMs == 0 ? FIRST_RETRY_MS : Math.min(LAST_RETRY_MS, 2 * backOffMs);
    }

    /** The next try comes without the long wait: the daemon is about to stop and has only so much time. */
    void shortenBackOff() {
        backOffMs = Math.min(backOffMs, FIRST_RETRY_MS);
    }
}
