package org.bankfire.daemon.figures;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The daemon's own count of how late snapshots are, read from its metrics.
 *
 * @param boundsMs upper bounds of the classes, ms; the last is infinite
 * @param upTo snapshots in each class and those before it
 */
record CountedLag(List<Double> boundsMs, List<Long> upTo) {
    private static final Pattern BUCKET =
            Pattern.compile("bankfire_snapshot_lag_seconds_bucket\\{le=\"([^\"]+)\"} ([0-9]+)");

    CountedLag {
        boundsMs = List.copyOf(boundsMs);
        upTo = List.copyOf(upTo);
        if (boundsMs.isEmpty()) {
            throw new IllegalArgumentException("the metrics tell no lag");
        }
    }

    static CountedLag of(String metrics) {
        List<Double> bounds = new ArrayList<>();
        List<Long> counts = new ArrayList<>();
        Matcher bucket = BUCKET.matcher(metrics);
        while (bucket.find()) {
            String bound = bucket.group(1);
            bounds.add(bound.equals("+Inf") ? Double.POSITIVE_INFINITY : 1e3 * Double.parseDouble(bound));
            counts.add(Long.parseLong(bucket.group(2)));
        }
        return new CountedLag(bounds, counts);
    }

    CountedLag since(CountedLag earlier) {
        List<Long> difference = new ArrayList<>();
        for (int i = 0; i < upTo.size(); i++) {
            difference.add(upTo.get(i) - earlier.upTo.get(i));
        }
        return new CountedLag(boundsMs, difference);
    }

    long count() {
        return upTo.get(upTo.size() - 1);
    }

    /** Bound of the class that the quantile is in, ms: it is no more than that. NaN when nothing was counted. */
    double quantileMs(double share) {
        for (int i = 0; i < upTo.size(); i++) {
            if (count() > 0 && upTo.get(i) >= share * count()) {
                return boundsMs.get(i);
            }
        }
        return Double.NaN;
    }

    String inMs() {
        return String.format(
                Locale.ROOT,
                "p50 ≤ %.0f, p99 ≤ %.0f, max ≤ %.0f ms (%d)",
                quantileMs(0.5),
                quantileMs(0.99),
                quantileMs(1),
                count());
    }
}
