package org.bankfire.daemon.store.sqlite;

import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.Rollup;

/**
 * Where the readings of a time are to be asked for when a file spools: before {@code ownUntil} in the file, which held
 * readings before it began to spool; from there to {@code localFrom} on the server; after that in the file.
 *
 * @param ownUntil readings before this were never told to the server
 * @param localFrom from here on the file holds all that it took; a whole multiple of 5 min, unless nothing was deleted yet
 * @param lateBefore a reading between {@code ownUntil} and this may belong to a bucket of which the server knows more than
 *     the file does
 */
public record SpoolZones(WallTime ownUntil, WallTime localFrom, WallTime lateBefore) {
    private static final WallTime NEVER = new WallTime(Long.MIN_VALUE);

    /** A file that spools for the first time. */
    static SpoolZones begin(WallTime now, boolean holdsReadings) {
        if (holdsReadings) {
            return new SpoolZones(now, now, now);
        }
        WallTime bucket = Rollup.Width.FIVE_MINUTES.bucketOf(now);
        return new SpoolZones(NEVER, bucket, bucket.plusMicros(Rollup.Width.FIVE_MINUTES.micros()));
    }

    /** After readings before {@code cut} may have been deleted from the file. */
    SpoolZones advanced(WallTime cut) {
        WallTime from = Rollup.Width.FIVE_MINUTES.bucketOf(cut);
        return from.isAfter(localFrom)
                ? new SpoolZones(ownUntil, from, from.isAfter(lateBefore) ? from : lateBefore)
                : this;
    }

    /**
     * After the clock was set back: the file holds all that comes from the next bucket on. What was forgotten of the time
     * that was taken for the past is on the server.
     */
    SpoolZones broughtBack(WallTime now) {
        WallTime next = Rollup.Width.FIVE_MINUTES.bucketOf(now).plusMicros(Rollup.Width.FIVE_MINUTES.micros());
        return localFrom.isAfter(next) ? new SpoolZones(ownUntil.isAfter(next) ? next : ownUntil, next, next) : this;
    }

    /** Whether a bucket or reading of that time has to be joined with what the server has. */
    boolean isLate(long timeUs) {
        return timeUs < lateBefore.epochMicros() && timeUs >= ownUntil.epochMicros();
    }
}
