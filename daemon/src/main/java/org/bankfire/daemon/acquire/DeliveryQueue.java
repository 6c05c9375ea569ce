package org.bankfire.daemon.acquire;

import java.util.Collection;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/** Bounded queue between threads, in order of arrival. */
public final class DeliveryQueue implements Intake, Outlet {
    /** About a minute and a half of 100 frames a second: longer than any pause of the ledger thread that recovers. */
    public static final int CAPACITY = 8_192;

    private final BlockingQueue<Delivery> queue;

    /** A queue of {@link #CAPACITY}. */
    public DeliveryQueue() {
        this(CAPACITY);
    }

    /** A queue of so many deliveries at most. */
    public DeliveryQueue(int capacity) {
        queue = new ArrayBlockingQueue<>(capacity);
    }

    @Override
    public void put(Delivery delivery) throws InterruptedException {
        queue.put(delivery);
    }

    @Override
    public boolean offer(Delivery delivery, long timeoutMs) throws InterruptedException {
        return queue.offer(delivery, timeoutMs, TimeUnit.MILLISECONDS);
    }

    @Override
    public @Nullable Delivery poll(long timeoutMs) throws InterruptedException {
        return queue.poll(timeoutMs, TimeUnit.MILLISECONDS);
    }

    /** Moves what is there, at most {@code limit}. */
    public int drainTo(Collection<Delivery> target, int limit) {
        return queue.drainTo(target, limit);
    }

    @Override
    public int size() {
        return queue.size();
    }
}
