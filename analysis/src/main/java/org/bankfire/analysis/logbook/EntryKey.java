package org.bankfire.analysis.logbook;

import java.util.Comparator;
import org.bankfire.analysis.reading.WallTime;

/**
 * Names an entry of one forge's log, and keeps naming it when it is corrected.
 *
 * @param time for when it was first written down
 * @param name of its record, such as {@code note} or {@code setting-jet}
 */
public record EntryKey(WallTime time, String name) implements Comparable<EntryKey> {
    private static final Comparator<EntryKey> ORDER =
            Comparator.comparing(EntryKey::time).thenComparing(EntryKey::name);

    @Override
    public int compareTo(EntryKey other) {
        return ORDER.compare(this, other);
    }

    @Override
    public String toString() {
        return time + " " + name;
    }
}
