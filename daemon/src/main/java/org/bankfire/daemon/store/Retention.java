package org.bankfire.daemon.store;

import java.time.Duration;
import org.bankfire.analysis.reading.WallTime;

/**
 * How long raw readings and 10 s roll-ups are kept. 5 min roll-ups, notes, settings, burns with their fits and alarm
 * transitions are kept for ever.
 *
 * <p>What that grows to, at the 50 bytes that a reading takes in SQLite (measured) and about as many a roll-up: a forge
 * with 4 channels at 10 Hz writes 40 readings a second, that is 144,000 an hour. Eight hours of burning a week for the
 * standard two years are 832 h, 120 million readings and 6 GB; 10 s roll-ups add 1 in 100 of that. Left running day and
 * night the same forge would make 2,500 million readings and 126 GB in two years; then a shorter time, a slower source or
 * the server store is due. The 5 min roll-ups of 4 channels, day and night, are 420,000 a year and 21 MB. A fit
 * is some 100 kB a burn: 300 burns a year are 30 MB.
 *
 * <p>SQLite gives deleted rows' space to new rows, not back to the disk: the file stops growing, it does not shrink.
 *
 * @param keep readings older than this are deleted; at least a day, so that a slip in the configuration does not empty the
 *     log book while it is written
 */
public record Retention(Duration keep) {
    private static final Duration LEAST = Duration.ofDays(1);

    /** Two years: this winter's trials can be compared with last winter's, reading by reading. */
    public static final Retention STANDARD = new Retention(Duration.ofDays(730));

    public Retention {
        if (keep.compareTo(LEAST) < 0) {
            throw new IllegalArgumentException("readings are to be kept for " + keep + "; allowed is a day or more");
        }
    }

    /**
     * Deletes a bounded number of what has grown too old; to be called every minute or so, and again while it returns more
     * than 0. Not to be called while the wall clock is in doubt: a clock that is years ahead makes everything old.
     *
     * @return how many rows were deleted
     */
    public long apply(ReadingStore store, WallTime now) throws StoreException {
        WallTime end = now.plusMicros(-keep.toSeconds() * 1_000_000L);
        return store.prune(new TimeRange(TimeRange.ALL.from(), end));
    }
}
