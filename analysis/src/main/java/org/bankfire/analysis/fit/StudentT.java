package org.bankfire.analysis.fit;

import org.hipparchus.analysis.interpolation.SplineInterpolator;
import org.hipparchus.analysis.polynomials.PolynomialSplineFunction;
import org.hipparchus.distribution.continuous.TDistribution;

/** Student's t. */
public final class StudentT {
    /** Of the normal distribution, for 97.5 %. */
    private static final double NORMAL = 1.959_963_984_540_054;

    /** From here on the expansion is right to seven digits, and the library's root search is not worth its time. */
    private static final double MANY = 30;

    /** From here to {@link #MANY} the quantile is interpolated: right to nine digits, at a hundredth of a root search. */
    private static final double FEW = 3;

    private StudentT() {}

    /** Made when it is first needed: a cubic spline over the inverse degrees of freedom, in which the quantile is smooth. */
    private static final class Between {
        private static final int KNOTS = 256;
        /** A little beyond both ends, for a spline is least exact there. */
        private static final double FROM = 1 / (1.5 * MANY);

        private static final double TO = 1 / (0.75 * FEW);

        private static final PolynomialSplineFunction QUANTILE = quantile();

        private static PolynomialSplineFunction quantile() {
            double[] inverse = new double[KNOTS];
            double[] quantile = new double[KNOTS];
            for (int i = 0; i < KNOTS; i++) {
                inverse[i] = FROM + (TO - FROM) * i / (KNOTS - 1);
                quantile[i] = searched(1 / inverse[i]);
            }
            return new SplineInterpolator().interpolate(inverse, quantile);
        }
    }

    private static double searched(double degreesOfFreedom) {
        return new TDistribution(degreesOfFreedom).inverseCumulativeProbability(0.975);
    }

    /**
     * Half width of the two-sided 95 % interval, standard errors; {@code degreesOfFreedom} at least 1. For many degrees of
     * freedom by the expansion 26.7.5 of Abramowitz and Stegun, <i>Handbook of Mathematical Functions</i>.
     */
    public static double twoSided95(double degreesOfFreedom) {
        if (degreesOfFreedom < FEW) {
            return searched(degreesOfFreedom);
        }
        if (degreesOfFreedom < MANY) {
            return Between.QUANTILE.value(1 / degreesOfFreedom);
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
