package org.bankfire.analysis.flame;

/**
 * One-sided cumulative sum after E. S. Page, "Continuous inspection schemes", Biometrika 41 (1954) 100–115: S = max(0, S +
 * z − k), which calls when S exceeds h. Observations z are in standard deviations from where they should be.
 */
public final class Cusum {
    /** Siegmund's correction for the overshoot over the boundary: twice 0.5826. */
    private static final double OVERSHOOT = 1.166;

    private static final int HALVINGS = 60;
    private static final double LARGEST_INTERVAL = 200;

    private final double reference;
    private final double interval;
    private double sum;

    /**
     * At zero.
     *
     * @param reference k, what an observation must exceed to count, standard deviations, above 0
     * @param interval h, the decision interval, standard deviations, above 0
     */
    public Cusum(double reference, double interval) {
        if (!(reference > 0 && interval > 0)) {
            throw new IllegalArgumentException("cumulative sum with reference value " + reference
                    + " and decision interval " + interval + ": both must be above 0");
        }
        this.reference = reference;
        this.interval = interval;
    }

    /**
     * Takes an observation.
     *
     * @return whether the sum exceeds the decision interval
     */
    public boolean add(double z) {
        sum = Math.max(0, sum + z - reference);
        return sum > interval;
    }

    /** Whether the sum exceeds the decision interval. */
    public boolean calls() {
        return sum > interval;
    }

    /** The sum, standard deviations. */
    public double sum() {
        return sum;
    }

    public void reset() {
        sum = 0;
    }

    /**
     * Observations until a call, on the mean, when they are normal with unit variance: D. Siegmund's approximation
     * (Sequential Analysis, Springer 1985; Montgomery, Introduction to Statistical Quality Control, section 9.1), within
     * 3 % of the exact value for k about 0.5 and h of 4 or more.
     *
     * @param shift mean of the observations, standard deviations
     */
    public static double meanRunLength(double shift, double reference, double interval) {
        double drift = shift - reference;
        double height = interval + OVERSHOOT;
        if (Math.abs(drift * height) < 1e-6) {
            return height * height;
        }
        return (Math.expm1(-2 * drift * height) + 2 * drift * height) / (2 * drift * drift);
    }

    /**
     * The decision interval that lets a false call come once in so many observations on the mean.
     *
     * @param observations above 1
     */
    public static double intervalFor(double observations, double reference) {
        double low = 0;
        double high = LARGEST_INTERVAL;
        for (int i = 0; i < HALVINGS; i++) {
            double middle = (low + high) / 2;
            if (meanRunLength(0, reference, middle) < observations) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return high;
    }
}
