package org.bankfire.analysis.trial;

import org.hipparchus.distribution.continuous.TDistribution;

/**
 * A difference of two means with the degrees of freedom of its standard error, after B. L. Welch, "The generalization of
 * Student's problem when several different population variances are involved", <i>Biometrika</i> 34 (1947) 28–35, and the
 * GUM (JCGM 100:2008), G.4.
 *
 * @param value the difference
 * @param error its standard error, above 0
 * @param degreesOfFreedom 1 or more
 */
record MeanDifference(double value, double error, double degreesOfFreedom) {
    /** With more of them a t distribution is a normal one to five digits, and the library's search slow. */
    private static final double MOST_DEGREES = 1e5;

    /**
     * A variance and what it is known by.
     *
     * @param variance 0 or more
     * @param degreesOfFreedom 1 or more; infinite for one that is known
     */
    record Part(double variance, double degreesOfFreedom) {}

    /** A difference whose variance is the sum of independent parts. */
    static MeanDifference of(double value, Part... parts) {
        double sum = 0;
        double squares = 0;
        for (Part part : parts) {
            sum += part.variance();
            squares += part.variance() * part.variance() / part.degreesOfFreedom();
        }
        double degrees = squares > 0 ? sum * sum / squares : MOST_DEGREES;
        return new MeanDifference(value, Math.sqrt(sum), Math.max(1, Math.min(MOST_DEGREES, degrees)));
    }

    /** Two-sided chance of such a difference or a greater one when there is none. */
    double p() {
        double t = Math.abs(value) / error;
        return 2 * new TDistribution(degreesOfFreedom).cumulativeProbability(-t);
    }

    /** Half width of the interval that holds so much. */
    double halfWidth(double share) {
        return error * new TDistribution(degreesOfFreedom).inverseCumulativeProbability((1 + share) / 2);
    }
}
