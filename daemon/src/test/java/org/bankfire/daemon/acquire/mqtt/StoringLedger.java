package org.bankfire.daemon.acquire.mqtt;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.DeliveryQueue;

/** Takes deliveries on a thread of its own and says after each batch that it is stored, or never does. */
final class StoringLedger implements AutoCloseable {
    private static final long LOOK_MS = 50;
    private static final int BATCH = 64;

    private final DeliveryQueue queue;
    private final List<Delivery.Raw> stored = new CopyOnWriteArrayList<>();
    private final Thread thread;
    private volatile boolean storing;
    private volatile boolean closed;

    StoringLedger(DeliveryQueue queue, boolean storing) {
        this.queue = queue;
        this.storing = storing;
        this.thread = new Thread(this::run, "storing ledger");
        thread.start();
    }

    /** What it has, in order; what came twice twice. */
    List<String> texts() {
        return stored.stream()
                .map(raw -> new String(raw.bytes(), StandardCharsets.UTF_8))
                .toList();
    }

    /** From now on what it takes is said to be stored. */
    void store() {
        storing = true;
    }

    @Override
    public void close() {
        closed = true;
        try {
            thread.join();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void run() {
        List<Delivery> unacknowledged = new ArrayList<>();
        try {
            while (!closed) {
                Delivery first = queue.poll(LOOK_MS);
                List<Delivery> batch = new ArrayList<>();
                if (first != null) {
                    batch.add(first);
                    queue.drainTo(batch, BATCH);
                }
                for (Delivery delivery : batch) {
                    stored.add((Delivery.Raw) delivery);
                }
                unacknowledged.addAll(batch);
                if (storing) {
                    unacknowledged.forEach(delivery -> delivery.stored().run());
                    unacknowledged.clear();
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
