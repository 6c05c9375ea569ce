package org.bankfire.analysis.fit;

import org.hipparchus.distribution.continuous.TDistribution;

/** Student's t. */
public final class StudentT {
    /** Of the normal distribution, for 97.5 %. */
    private static final double NORMAL = 1.959_963_984_540_054;

    /** From here on the expansion is right to seven digits, and the library's root search is not worth its time. */
    private static final double MANY = 30;

    private StudentT() {}

    /**
     * Half width of the two-sided 95 % interval, standard errors; {@code degreesOfFreedom} at least 1. For many degrees of
     * freedom by the expansion 26.7.5 of Abramowitz and Stegun, <i>Handbook of Mathematical Functions</i>.
     */
    public static double twoSided95(double degreesOfFreedom) {
        if (degreesOfFreedom < MANY) {
            return new TDistribution(degreesOfFreedom).inverseCumulativeProbability(0.975);
        }
        double x = NORMAL;
        double square = x * x;
        double first = x * (square + 1) / 4;
        double second = x * ((5 * square + 16) * square + 3) / 96;
        double third = x * (((3 * square + 19) * square + 17) * square - 15) / 384;
        double fourth = x * ((((79 * square + 776) * square + 1482) * square - 1920) * square - 945) / 92160;
        double inverse = 1 / degreesOfFreedom;
        return x + inverse * (first + inverse * (second + inverse * (third + inverse * fourth)));
    }
}
