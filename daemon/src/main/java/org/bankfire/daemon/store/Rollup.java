package org.bankfire.daemon.store;

import org.bankfire.analysis.reading.WallTime;

/**
 * Summary of a channel over one bucket of time, in the channel's unit.
 *
 * @param start of the bucket, a whole multiple of its width since the epoch
 * @param min least value
 * @param mean arithmetic mean of the readings
 * @param max greatest value
 * @param count number of readings, 1 or more
 */
public record Rollup(WallTime start, double min, double mean, double max, long count) {
    /** The widths that are kept as data arrives. */
    public enum Width {
        TEN_SECONDS(10_000_000L),
        FIVE_MINUTES(300_000_000L);

        private final long micros;

        Width(long micros) {
            this.micros = micros;
        }

        public long micros() {
            return micros;
        }

        /** Start of the bucket that holds {@code time}. */
        public WallTime bucketOf(WallTime time) {
            return new WallTime(Math.floorDiv(time.epochMicros(), micros) * micros);
        }
    }
}
