package org.bankfire.daemon.store;

import org.bankfire.analysis.reading.WallTime;

/**
 * A stretch of wall time.
 *
 * @param from first moment, included
 * @param to last moment, excluded, not before {@code from}
 */
public record TimeRange(WallTime from, WallTime to) {
    public static final TimeRange ALL = new TimeRange(new WallTime(Long.MIN_VALUE), new WallTime(Long.MAX_VALUE));

    public TimeRange {
        if (to.isBefore(from)) {
            throw new IllegalArgumentException("time range ends at " + to + ", before it begins at " + from);
        }
    }

    /** Whether {@code time} is in it. */
    public boolean contains(WallTime time) {
        return !time.isBefore(from) && time.isBefore(to);
    }
}
