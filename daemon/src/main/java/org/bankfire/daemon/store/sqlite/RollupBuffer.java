package org.bankfire.daemon.store.sqlite;

import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.daemon.store.Rollup;
import org.jspecify.annotations.Nullable;

/**
 * Sums up a batch's values of one width in memory, so that the database sees one row for each bucket that the batch
 * touches, not one for each reading. A bucket may turn up more than once when times jump back and forth; the statement
 * adds, so that does no harm.
 */
final class RollupBuffer {
    private final Rollup.Width width;
    private final List<Bucket> buckets = new ArrayList<>();

    RollupBuffer(Rollup.Width width) {
        this.width = width;
    }

    /** SQL that adds one bucket to {@code table}: channel, start, min, sum, max, count. */
    static String upsertInto(String table) {
        return "INSERT INTO " + table + " (channel_id, start_us, min, sum, max, count) VALUES (?, ?, ?, ?, ?, ?)"
                + " ON CONFLICT (channel_id, start_us) DO UPDATE SET min = min(min, excluded.min),"
                + " sum = sum + excluded.sum, max = max(max, excluded.max), count = count + excluded.count";
    }

    /**
     * Adds a value.
     *
     * @param last the channel's bucket that took the value before, or null
     * @return the bucket that took it
     */
    Bucket add(@Nullable Bucket last, int channelId, long timeUs, double value) {
        Bucket bucket = last;
        if (bucket == null || !bucket.holds(timeUs, width)) {
            bucket = new Bucket(channelId, Math.floorDiv(timeUs, width.micros()) * width.micros());
            buckets.add(bucket);
        }
        bucket.add(value);
        return bucket;
    }

    /** As {@link #upsertInto}, and tells the row as it stands then. */
    static String upsertAndTell(String table) {
        return upsertInto(table) + " RETURNING start_us, min, sum, max, count";
    }

    /** Takes word of a bucket's row as it stands. */
    interface Told {
        void row(int channelId, ResultSet row) throws SQLException;
    }

    void flush(PreparedStatement upsert) throws SQLException {
        if (buckets.isEmpty()) {
            return;
        }
        for (Bucket bucket : buckets) {
            bind(upsert, bucket);
            upsert.addBatch();
        }
        upsert.executeBatch();
        buckets.clear();
    }

    /** @param upsert from {@link #upsertAndTell} */
    void flush(PreparedStatement upsert, Told told) throws SQLException {
        for (Bucket bucket : buckets) {
            bind(upsert, bucket);
            try (ResultSet row = upsert.executeQuery()) {
                if (!row.next()) {
                    throw new SQLException("the roll-up that was just written is missing");
                }
                told.row(bucket.channelId, row);
            }
        }
        buckets.clear();
    }

    private static void bind(PreparedStatement upsert, Bucket bucket) throws SQLException {
        upsert.setInt(1, bucket.channelId);
        upsert.setLong(2, bucket.startUs);
        upsert.setDouble(3, bucket.min);
        upsert.setDouble(4, bucket.sum);
        upsert.setDouble(5, bucket.max);
        upsert.setLong(6, bucket.count);
        bucket.flushed = true;
    }

    /** One channel's values in one stretch of time. */
    static final class Bucket {
        private final int channelId;
        private final long startUs;
        private double min = Double.POSITIVE_INFINITY;
        private double max = Double.NEGATIVE_INFINITY;
        private double sum;
        private long count;
        private boolean flushed;

        private Bucket(int channelId, long startUs) {
            this.channelId = channelId;
            this.startUs = startUs;
        }

        private boolean holds(long timeUs, Rollup.Width width) {
            return !flushed && timeUs >= startUs && timeUs - startUs < width.micros();
        }

        private void add(double value) {
            min = Math.min(min, value);
            max = Math.max(max, value);
            sum += value;
            count++;
        }
    }
}
