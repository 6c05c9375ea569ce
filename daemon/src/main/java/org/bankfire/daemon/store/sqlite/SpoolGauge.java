package org.bankfire.daemon.store.sqlite;

/** How much waits in the spool, kept in memory so that a look at it asks no disk. Any thread may look. */
final class SpoolGauge {
    private SpoolCounts counts = new SpoolCounts(0, 0, 0, 0, 0);

    /**
     * What a transaction changed.
     *
     * @param late marks made, as many as there are readings behind them; buckets are counted anew when they are done
     */
    record Change(long rows, long bytes, long dropped, long late) {
        static final Change NONE = new Change(0, 0, 0, 0);

        Change plus(Change other) {
            return new Change(rows + other.rows, bytes + other.bytes, dropped + other.dropped, late + other.late);
        }
    }

    synchronized SpoolCounts counts() {
        return counts;
    }

    synchronized void set(SpoolCounts found) {
        counts = found;
    }

    void changed(Change change) {
        changed(change, 0);
    }

    /** At once, so that nobody sees rows gone whose refused lines are not counted. */
    synchronized void changed(Change change, long refusedLines) {
        counts = new SpoolCounts(
                counts.rows() + change.rows,
                counts.bytes() + change.bytes,
                counts.late() + change.late,
                counts.dropped() + change.dropped,
                counts.refused() + refusedLines);
    }
}
