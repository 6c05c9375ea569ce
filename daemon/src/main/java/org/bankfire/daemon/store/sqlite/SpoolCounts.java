package org.bankfire.daemon.store.sqlite;

/**
 * How much waits for the server.
 *
 * @param rows readings and entries that wait as lines
 * @param bytes what these take on the disk
 * @param late readings of stretches that are to be joined with what the server has
 * @param dropped readings whose lines were dropped since the file began to spool, because too much waited: their stretches
 *     are joined later
 * @param refused lines that the server did not want since the file began to spool
 */
public record SpoolCounts(long rows, long bytes, long late, long dropped, long refused) {
    /** Whether nothing waits. */
    public boolean nothingWaits() {
        return bytes == 0 && late == 0;
    }
}
