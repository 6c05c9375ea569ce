package org.bankfire.analysis.flame;

/**
 * Where the probe is heading: the temperature that it would settle at, from what it shows and how fast that changes, x = y
 * + τ dy/dt (a first-order lag turned round), and how far that is from what the model expects.
 *
 * <p>Without the lag the fall of a flame-out, and of cold stock, is steep at first and flattens. So a fall counted from any
 * later moment than its beginning is smaller than one that began there, and the beginning need not be known.
 *
 * <p>Slope and level over some seconds are those of Theil and Sen, of medians of three readings, so that neither one spike
 * nor a rough sensor moves them: P. K. Sen, "Estimates of the regression coefficient based on Kendall's tau", J. Am. Stat.
 * Assoc. 63 (1968) 1379–1389.
 */
final class Heading {
    private static final double MICROS_PER_S = 1e6;

    /** A slower probe needs a longer look for the same noise; 5 s of 30 leave a quarter of a kelvin as some 4 K. */
    private static final double SHORTEST_S = 1.2;

    private static final double PER_LAG = 0.12;
    private static final double LONGEST_S = 5;
    /** Quarter seconds in the longest look, with some to spare. */
    private static final int MOST = 24;

    private static final int FEWEST = 2;

    private final double lagS;
    private final long window;
    private final double[] agesS = new double[MOST];
    private final double[] levels = new double[MOST];
    private final double[] straight = new double[MOST];
    private final double[] slopes = new double[MOST * (MOST - 1) / 2];

    /**
     * For a probe.
     *
     * @param lagS first-order time constant, s, 0 or more
     */
    Heading(double lagS) {
        this.lagS = lagS;
        window = Math.round(MICROS_PER_S * Math.min(LONGEST_S, SHORTEST_S + PER_LAG * lagS));
    }

    /** Length of a look, s. */
    double windowS() {
        return window / MICROS_PER_S;
    }

    /** Works it out for one quarter second of {@code trace} from those up to it. */
    void look(Trace trace, int back) {
        int n = 0;
        double expectedC = 0;
        long end = trace.time(back);
        while (back + n + 2 < trace.size() && n < MOST && (end - trace.time(back + n) <= window || n < FEWEST)) {
            agesS[n] = trace.ageS(back + n + 1);
            levels[n] = middle(trace.measuredC(back + n), trace.measuredC(back + n + 1), trace.measuredC(back + n + 2));
            expectedC += trace.expectedC(back + n + 1);
            n++;
        }
        if (n == 0) {
            trace.heading(back, trace.measuredC(back), trace.measuredC(back) - trace.expectedC(back));
            return;
        }
        double settlingC = settlingC(n);
        trace.heading(back, settlingC, settlingC - expectedC / n);
    }

    private double settlingC(int n) {
        int pairs = 0;
        double meanAgeS = 0;
        for (int i = 0; i < n; i++) {
            meanAgeS += agesS[i] / n;
            for (int j = i + 1; j < n; j++) {
                slopes[pairs] = (levels[i] - levels[j]) / (agesS[j] - agesS[i]);
                pairs++;
            }
        }
        double slope = pairs == 0 ? 0 : median(slopes, pairs);
        for (int i = 0; i < n; i++) {
            straight[i] = levels[i] + slope * (agesS[i] - meanAgeS);
        }
        return median(straight, n) + lagS * slope;
    }

    /**
     * Standard deviation of a heading, K, by the variance of a slope over evenly spaced values.
     *
     * @param quarterSecondK white noise in each quarter second, K
     */
    double noiseK(double quarterSecondK) {
        double seconds = windowS();
        return quarterSecondK * (1 + lagS * Math.sqrt(12 / (4 * seconds + 1)) / seconds);
    }

    /** The middle one of three. */
    static double middle(double a, double b, double c) {
        return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
    }

    /** Puts {@code values} in another order. */
    private static double median(double[] values, int n) {
        double upper = Selection.smallest(values, n, n / 2);
        if (n % 2 == 1) {
            return upper;
        }
        double lower = values[0];
        for (int i = 1; i < n / 2; i++) {
            lower = Math.max(lower, values[i]);
        }
        return (lower + upper) / 2;
    }
}
