package org.bankfire.daemon.store.spool;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ChannelRollup;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreNews;
import org.bankfire.daemon.store.StoreQueries;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.LateStretch;

/**
 * Joins readings that came late with those that the server has of the same stretch: the server's stay, and roll-ups are
 * made anew of both. Doing it again gives the same.
 */
final class LateJoiner {
    /** Buckets of 5 min that are joined at once: 9,000 readings of a channel with 10 a second. */
    static final int MOST_BUCKETS = 3;

    private final StoreQueries local;
    private final StoreQueries server;

    LateJoiner(StoreQueries local, StoreQueries server) {
        this.local = local;
        this.server = server;
    }

    /** What the server is to be told of the stretch. */
    StoreNews join(LateStretch stretch) throws StoreException {
        TimeRange range = stretch.range();
        TreeMap<WallTime, Reading> all = new TreeMap<>();
        server.readings(stretch.channel(), range, reading -> all.put(reading.sourceTime(), reading));
        List<Reading> missing = new ArrayList<>();
        local.readings(stretch.channel(), range, reading -> {
            if (all.putIfAbsent(reading.sourceTime(), reading) == null) {
                missing.add(reading);
            }
        });
        List<ChannelRollup> rollups = new ArrayList<>();
        for (Rollup.Width width : Rollup.Width.values()) {
            Map<WallTime, Rollup> there = new HashMap<>();
            server.rollups(stretch.channel(), range, width).forEach(rollup -> there.put(rollup.start(), rollup));
            for (Rollup rollup : rollups(all.values(), width)) {
                Rollup known = there.get(rollup.start());
                // The server's readings may be past their time already, and its roll-up knows of more than is left.
                if (known == null || known.count() <= rollup.count()) {
                    rollups.add(new ChannelRollup(stretch.channel(), width, rollup));
                }
            }
        }
        return new StoreNews(StoreBatch.ofReadings(missing), rollups);
    }

    private static List<Rollup> rollups(Iterable<Reading> inOrder, Rollup.Width width) {
        List<Rollup> rollups = new ArrayList<>();
        Summing summing = null;
        for (Reading reading : inOrder) {
            if (reading.quality().isBad()) {
                continue;
            }
            WallTime start = width.bucketOf(reading.sourceTime());
            if (summing == null || !summing.start.equals(start)) {
                if (summing != null) {
                    rollups.add(summing.rollup());
                }
                summing = new Summing(start);
            }
            summing.add(reading.value());
        }
        if (summing != null) {
            rollups.add(summing.rollup());
        }
        return rollups;
    }

    /** One bucket's values. */
    private static final class Summing {
        private final WallTime start;
        private double min = Double.POSITIVE_INFINITY;
        private double max = Double.NEGATIVE_INFINITY;
        private double sum;
        private long count;

        private Summing(WallTime start) {
            this.start = start;
        }

        private void add(double value) {
            min = Math.min(min, value);
            max = Math.max(max, value);
            sum += value;
            count++;
        }

        private Rollup rollup() {
            // As the local file does: a sum that overflows, and a mean that rounding carries past its values.
            double mean = Double.isFinite(sum) ? Math.min(max, Math.max(min, sum / count)) : min / 2 + max / 2;
            return new Rollup(start, min, mean, max, count);
        }
    }
}
