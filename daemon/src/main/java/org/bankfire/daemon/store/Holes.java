package org.bankfire.daemon.store;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Iterator;

/** Running numbers of readings that were dropped, as stretches. Not safe for use by several threads. */
final class Holes {
    /**
     * Drops come in stretches between two batches, so this spans hours of a store that fails now and then. Beyond it the
     * two oldest are taken for one: somebody may be told to deliver again what is stored, which is stored once.
     */
    static final int MOST = 256;

    private record Stretch(long from, long to) {}

    private final Deque<Stretch> stretches = new ArrayDeque<>();

    /** Notes a drop; numbers only rise. */
    void add(long number) {
        Stretch last = stretches.peekLast();
        if (last != null && last.to() == number) {
            stretches.removeLast();
            stretches.addLast(new Stretch(last.from(), number + 1));
            return;
        }
        stretches.addLast(new Stretch(number, number + 1));
        if (stretches.size() > MOST) {
            Stretch oldest = stretches.removeFirst();
            Stretch next = stretches.removeFirst();
            stretches.addFirst(new Stretch(oldest.from(), next.to()));
        }
    }

    /** Whether a number from {@code from} until before {@code to} was dropped. */
    boolean touch(long from, long to) {
        // The newest first: nobody waits for what is long past.
        Iterator<Stretch> newestFirst = stretches.descendingIterator();
        while (newestFirst.hasNext()) {
            Stretch stretch = newestFirst.next();
            if (stretch.to() <= from) {
                return false;
            }
            if (stretch.from() < to) {
                return true;
            }
        }
        return false;
    }
}
