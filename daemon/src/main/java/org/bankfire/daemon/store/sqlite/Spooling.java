package org.bankfire.daemon.store.sqlite;

import java.util.function.Supplier;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.NewsEncoder;

/**
 * That, and how, a store keeps what it newly takes for a server too.
 *
 * @param encoder makes the lines that wait for the server
 * @param clock says when they were made
 * @param limitBytes how large what waits may grow on the disk, deflated; beyond it the oldest readings that wait are
 *     dropped, never an entry
 */
public record Spooling(NewsEncoder encoder, Supplier<WallTime> clock, long limitBytes) {
    public Spooling {
        if (limitBytes < 1) {
            throw new IllegalArgumentException("spool of " + limitBytes + " bytes; allowed is 1 or more");
        }
    }
}
