package org.bankfire.daemon.acquire;

import java.util.Collection;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/**
 * Bounded queue from sources to one ledger thread. A full queue makes the source wait, so that the pressure reaches the
 * line (a serial buffer, an unacknowledged MQTT message) where it belongs.
 */
public final class DeliveryQueue {
    /** About a minute and a half of 100 frames a second: longer than any pause of the ledger thread that recovers. */
    public static final int CAPACITY = 8_192;

    private final BlockingQueue<Delivery> queue = new ArrayBlockingQueue<>(CAPACITY);

    /** Waits for room. */
    public void put(Delivery delivery) throws InterruptedException {
        queue.put(delivery);
    }

    /** Waits at most {@code timeoutMs} for room. */
    public boolean offer(Delivery delivery, long timeoutMs) throws InterruptedException {
        return queue.offer(delivery, timeoutMs, TimeUnit.MILLISECONDS);
    }

    /** The next delivery, or null when none came within {@code timeoutMs}. */
    public @Nullable Delivery poll(long timeoutMs) throws InterruptedException {
        return queue.poll(timeoutMs, TimeUnit.MILLISECONDS);
    }

    /** Moves what is there, at most {@code limit}. */
    public int drainTo(Collection<Delivery> target, int limit) {
        return queue.drainTo(target, limit);
    }

    public int size() {
        return queue.size();
    }
}
