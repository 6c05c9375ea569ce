package org.bankfire.dashboard.source;

import java.util.List;

/**
 * How old the latest reading was when the snapshot that first shows it was published, since the start. For a reading
 * without a time of its own that is since its receipt; a sensor whose clock is ahead counts as no lag.
 *
 * @param boundsS upper bounds of the classes, s, ascending; a last class without a bound follows
 * @param counts snapshots in each class, one more than bounds
 * @param sumS all lags together, s
 */
public record SnapshotLag(List<Double> boundsS, List<Long> counts, double sumS) {
    /** Of a feed that does not count. */
    public static final SnapshotLag NONE = new SnapshotLag(List.of(), List.of(0L), 0);

    public SnapshotLag {
        boundsS = List.copyOf(boundsS);
        counts = List.copyOf(counts);
        if (counts.size() != boundsS.size() + 1) {
            throw new IllegalArgumentException(
                    counts.size() + " counts for " + boundsS.size() + " bounds; one more is needed");
        }
    }
}
