package org.bankfire.daemon.store;

import java.util.Optional;
import org.bankfire.analysis.reading.WallTime;

/**
 * How far a server is behind the local store.
 *
 * @param rows readings and entries that wait for it
 * @param bytes what these take on the disk
 * @param behindS how long the oldest of them has waited, s; 0 when nothing waits
 * @param awaySince since when the server has taken nothing though something waited; empty when it takes what comes
 * @param message what is wrong and what to do; empty when all is well
 * @param dropped readings that were taken out of what waits as lines, since too much did, and are to be brought from the
 *     file; since it began to spool, and also those that were brought
 * @param lastDropped when that was last seen to happen, in this run; empty when it did not
 * @param refused lines that the server did not want, since the file began to spool
 * @param lastRefused when it said so of the last of them, in this run; empty when it did not
 * @param lastRefusal what the server said of the last of them in this run; empty when there was none
 */
public record ServerLag(
        long rows,
        long bytes,
        double behindS,
        Optional<WallTime> awaySince,
        String message,
        long dropped,
        Optional<WallTime> lastDropped,
        long refused,
        Optional<WallTime> lastRefused,
        String lastRefusal) {
    /** Whether the server takes what comes. */
    public boolean reachable() {
        return awaySince.isEmpty();
    }
}
