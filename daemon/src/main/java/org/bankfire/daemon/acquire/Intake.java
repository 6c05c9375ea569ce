package org.bankfire.daemon.acquire;

/**
 * Where a source puts what it delivers. A full one makes the source wait, so that the pressure reaches the line (a serial
 * buffer, an unacknowledged MQTT message) where it belongs. Safe for use by many threads.
 */
public interface Intake {
    /** Waits for room. */
    void put(Delivery delivery) throws InterruptedException;

    /** Waits at most {@code timeoutMs} for room; false when there was none. */
    boolean offer(Delivery delivery, long timeoutMs) throws InterruptedException;
}
