package org.bankfire.analysis.fit;

import org.hipparchus.distribution.continuous.TDistribution;

/** Student's t. */
final class StudentT {
    private StudentT() {}

    /** Half width of the two-sided 95 % interval, standard errors; {@code degreesOfFreedom} at least 1. */
    static double twoSided95(double degreesOfFreedom) {
        return new TDistribution(degreesOfFreedom).inverseCumulativeProbability(0.975);
    }
}
