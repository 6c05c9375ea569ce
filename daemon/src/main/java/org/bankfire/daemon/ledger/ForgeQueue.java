package org.bankfire.daemon.ledger;

import java.util.ArrayDeque;
import java.util.Collection;
import java.util.Deque;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.Outlet;
import org.jspecify.annotations.Nullable;

/**
 * What waits for one ledger thread, a row for each forge. The forges take turns, so one that sends a flood fills its own
 * row and delays nobody. Forges that are not configured share one row.
 *
 * <p>A pack counts by what it holds, since its size is up to whoever sends it.
 */
public final class ForgeQueue implements Outlet {
    private static final String OTHERS = "";

    private final Limits limits;
    private final int assuredEntries;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition filled = lock.newCondition();
    private final Condition emptied = lock.newCondition();

    // All below is guarded by the lock. As many rows as configured forges and one more.
    private final Map<String, Row> rows = new HashMap<>();
    private final Deque<Row> turns = new ArrayDeque<>();
    private int deliveries;
    private int entries;

    /**
     * How much may wait; readings, notes and settings together are its entries.
     *
     * @param entries of all forges. What a forge is assured of comes on top, so at most twice this waits
     * @param share of them that one forge may fill
     */
    public record Limits(int entries, int share) {
        /**
         * 131,072 entries are some 15 MB and six seconds of 500 forges with 40 readings a second: longer than it takes to
         * replace a ledger thread that hangs. A quarter of them are 13 minutes of one forge.
         */
        public static final Limits STANDARD = new Limits(131_072, 32_768);
    }

    private static final class Row {
        private final Deque<Delivery.Decoded> waiting = new ArrayDeque<>();
        private int entries;
        private long passedOver;
    }

    /** A queue for these forges. */
    public ForgeQueue(Collection<String> forges, Limits limits) {
        this.limits = limits;
        this.assuredEntries = Math.max(1, limits.entries() / (forges.size() + 1));
        forges.forEach(forge -> rows.put(forge, new Row()));
        rows.put(OTHERS, new Row());
    }

    /**
     * Takes what one forge sent, if its row has room.
     *
     * @param pack of {@code forge} alone
     * @param timeoutMs how long to wait for room; 0 or more
     */
    boolean offer(String forge, Delivery.Decoded pack, long timeoutMs) throws InterruptedException {
        lock.lockInterruptibly();
        try {
            Row row = row(forge);
            long left = TimeUnit.MILLISECONDS.toNanos(timeoutMs);
            while (!hasRoom(row)) {
                if (left <= 0) {
                    return false;
                }
                left = emptied.awaitNanos(left);
            }
            if (row.waiting.isEmpty()) {
                turns.addLast(row);
            }
            row.waiting.addLast(pack);
            int more = entriesOf(pack);
            row.entries += more;
            entries += more;
            deliveries++;
            filled.signal();
            return true;
        } finally {
            lock.unlock();
        }
    }

    /** Notes that something of {@code forge} was passed over. */
    void countPassedOver(String forge) {
        lock.lock();
        try {
            row(forge).passedOver++;
        } finally {
            lock.unlock();
        }
    }

    /** How many packs of a configured forge were passed over since this was asked last. */
    public long takePassedOver(String forge) {
        lock.lock();
        try {
            Row row = row(forge);
            long taken = row.passedOver;
            row.passedOver = 0;
            return taken;
        } finally {
            lock.unlock();
        }
    }

    @Override
    public @Nullable Delivery poll(long timeoutMs) throws InterruptedException {
        lock.lockInterruptibly();
        try {
            long left = TimeUnit.MILLISECONDS.toNanos(timeoutMs);
            while (turns.isEmpty()) {
                if (left <= 0) {
                    return null;
                }
                left = filled.awaitNanos(left);
            }
            Row row = turns.removeFirst();
            Delivery.Decoded next = row.waiting.removeFirst();
            if (!row.waiting.isEmpty()) {
                turns.addLast(row);
            }
            int fewer = entriesOf(next);
            row.entries -= fewer;
            entries -= fewer;
            deliveries--;
            emptied.signalAll();
            return next;
        } finally {
            lock.unlock();
        }
    }

    @Override
    public int size() {
        lock.lock();
        try {
            return deliveries;
        } finally {
            lock.unlock();
        }
    }

    private boolean hasRoom(Row row) {
        return row.entries < assuredEntries || (row.entries < limits.share() && entries < limits.entries());
    }

    private Row row(String forge) {
        Row own = rows.get(forge);
        return own == null ? others() : own;
    }

    private Row others() {
        Row others = rows.get(OTHERS);
        if (others == null) {
            throw new IllegalStateException("the row of forges that are not configured is gone");
        }
        return others;
    }

    /** An empty pack takes room too. */
    private static int entriesOf(Delivery.Decoded delivery) {
        return Math.max(
                1,
                delivery.pack().readings().size()
                        + delivery.pack().notes().size()
                        + delivery.pack().settings().size());
    }
}
