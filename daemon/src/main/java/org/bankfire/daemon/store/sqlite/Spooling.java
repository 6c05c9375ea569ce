package org.bankfire.daemon.store.sqlite;

import java.util.function.Supplier;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.NewsEncoder;

/**
 * That, and how, a store keeps what it newly takes for a server too.
 *
 * <p>What it grows to: an hour of 4 channels at 10 Hz, 144,000 readings stored each second with their roll-ups, waits in 3.1
 * MB (measured, with values at random), that is 21 bytes a reading. 2 GB are 96 million readings: four weeks of that forge,
 * 33 h of twenty such, 40 min of a thousand. It stays below the two years of readings that the file may hold anyway. What
 * was dropped leaves a mark for each 5 min of a channel, which takes less than the 5 min roll-up that stays with it.
 *
 * @param encoder makes the lines that wait for the server
 * @param clock says when they were made
 * @param limitBytes how large what waits may grow on the disk, deflated; beyond it the lines of
 *     the oldest readings that wait are dropped, never an entry, and these readings are brought from the file later
 */
public record Spooling(NewsEncoder encoder, Supplier<WallTime> clock, long limitBytes) {
    public Spooling {
        if (limitBytes < 1) {
            throw new IllegalArgumentException("spool of " + limitBytes + " bytes; allowed is 1 or more");
        }
    }
}
