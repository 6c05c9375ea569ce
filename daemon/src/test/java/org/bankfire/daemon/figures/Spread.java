package org.bankfire.daemon.figures;

import java.util.Arrays;
import java.util.Collection;
import java.util.Locale;

/** Values in order, asked for their quantiles. */
final class Spread {
    private final double[] sorted;

    Spread(Collection<Double> values) {
        sorted = values.stream().mapToDouble(Double::doubleValue).sorted().toArray();
    }

    Spread(double... values) {
        sorted = Arrays.stream(values).sorted().toArray();
    }

    int count() {
        return sorted.length;
    }

    /** The smallest value that at least {@code share} of all do not exceed; NaN when there are none. */
    double quantile(double share) {
        if (sorted.length == 0) {
            return Double.NaN;
        }
        int rank = (int) Math.ceil(share * sorted.length);
        return sorted[Math.max(0, Math.min(sorted.length, rank) - 1)];
    }

    double median() {
        return quantile(0.5);
    }

    double max() {
        return quantile(1);
    }

    /** Median, p99 and greatest, of milliseconds. */
    String inMs() {
        return String.format(
                Locale.ROOT, "p50 %.1f, p99 %.1f, max %.1f ms (%d)", median(), quantile(0.99), max(), count());
    }
}
