package org.bankfire.daemon.notify;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.bankfire.analysis.alarm.Priority;
import org.jspecify.annotations.Nullable;

/**
 * What waits for one output. To people an alarm is told as it stands: a later step of it takes the place of an earlier
 * one that still waits, and the gravest goes first. To programs every step is told, in order.
 *
 * <p>When it is full, the oldest of the least priority gives way, but never a critical one; the oldest critical step
 * gives way only to a later step of the same alarm. So it holds at most {@code capacity}, or one step of each critical
 * alarm of each forge if those are more. Not safe for use by several threads.
 */
final class Waiting {
    /**
     * More than four hours of the most that a forge may annunciate (10 in 10 minutes, the manageable limit of EEMUA 191),
     * in some 100 kB.
     */
    static final int CAPACITY = 256;

    private final int capacity;
    private final boolean everyStep;
    private final List<Telling> tellings = new ArrayList<>();
    private long dropped;

    /**
     * Nothing waits yet.
     *
     * @param everyStep whether steps of one alarm are kept apart and in order
     */
    Waiting(int capacity, boolean everyStep) {
        this.capacity = capacity;
        this.everyStep = everyStep;
    }

    void add(Telling telling) {
        int same = everyStep ? -1 : indexOf(telling.key());
        if (same >= 0) {
            tellings.set(same, tellings.get(same).then(telling));
        } else {
            tellings.add(telling);
            keepBound();
        }
    }

    /**
     * A step that alone would not be told. It matters if the alarm still waits: then it is told as it stands now.
     *
     * @return whether it mattered
     */
    boolean addIfWaiting(Telling telling) {
        boolean waits = !everyStep && indexOf(telling.key()) >= 0;
        if (waits) {
            add(telling);
        }
        return waits;
    }

    /** Takes out what is to be told next. */
    @Nullable
    Telling take() {
        if (tellings.isEmpty()) {
            return null;
        }
        int next = 0;
        for (int i = 1; i < tellings.size() && !everyStep; i++) {
            if (tellings.get(i).gravest().compareTo(tellings.get(next).gravest()) < 0) {
                next = i;
            }
        }
        return tellings.remove(next);
    }

    /** Puts back, before all others, what was taken and did not arrive. */
    void putBack(Telling telling) {
        int later = everyStep ? -1 : indexOf(telling.key());
        if (later >= 0) {
            tellings.set(later, telling.then(tellings.get(later)));
        } else {
            tellings.add(0, telling);
            keepBound();
        }
    }

    int size() {
        return tellings.size();
    }

    /** How many gave way for want of room. */
    long dropped() {
        return dropped;
    }

    private int indexOf(Telling.Key key) {
        for (int i = 0; i < tellings.size(); i++) {
            if (tellings.get(i).key().equals(key)) {
                return i;
            }
        }
        return -1;
    }

    private void keepBound() {
        if (tellings.size() <= capacity) {
            return;
        }
        int least = 0;
        for (int i = 1; i < tellings.size(); i++) {
            if (tellings.get(i).gravest().compareTo(tellings.get(least).gravest()) > 0) {
                least = i;
            }
        }
        if (tellings.get(least).gravest() == Priority.CRITICAL) {
            least = oldestWithLaterStep();
        }
        if (least >= 0) {
            tellings.remove(least);
            dropped++;
        }
    }

    private int oldestWithLaterStep() {
        Set<Telling.Key> later = new HashSet<>();
        int oldest = -1;
        for (int i = tellings.size() - 1; i >= 0; i--) {
            if (!later.add(tellings.get(i).key())) {
                oldest = i;
            }
        }
        return oldest;
    }
}
