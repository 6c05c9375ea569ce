package org.bankfire.daemon.ledger;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.bankfire.daemon.acquire.Delivery;

/** Which ledger thread a forge belongs to, and the queue of each. Forges that are not configured go to the first. */
public final class ForgeRoutes {
    private final List<List<String>> groups = new ArrayList<>();
    private final List<ForgeQueue> queues = new ArrayList<>();
    private final Map<String, Integer> places = new HashMap<>();

    /**
     * Routes to so many ledgers, each with about as many forges as another.
     *
     * @param ledgers 1 or more; no more are made than there are forges
     */
    public ForgeRoutes(Collection<String> forges, int ledgers, ForgeQueue.Limits limits) {
        int count = Math.max(1, Math.min(ledgers, forges.size()));
        for (int i = 0; i < count; i++) {
            groups.add(new ArrayList<>());
        }
        int next = 0;
        for (String forge : forges) {
            groups.get(next % count).add(forge);
            places.put(forge, next % count);
            next++;
        }
        groups.forEach(group -> queues.add(new ForgeQueue(group, limits)));
    }

    /** How many ledgers there are. */
    public int ledgers() {
        return groups.size();
    }

    /** Forges of one ledger, by its number from 0. */
    public List<String> group(int ledger) {
        return List.copyOf(groups.get(ledger));
    }

    /** The queue of one ledger, by its number from 0. */
    public ForgeQueue queue(int ledger) {
        return queues.get(ledger);
    }

    /** Number of the ledger that a forge belongs to. */
    public int ledgerOf(String forge) {
        return places.getOrDefault(forge, 0);
    }

    boolean offer(String forge, Delivery.Decoded pack, long timeoutMs) throws InterruptedException {
        return queue(ledgerOf(forge)).offer(forge, pack, timeoutMs);
    }

    void countPassedOver(String forge) {
        queue(ledgerOf(forge)).countPassedOver(forge);
    }
}
