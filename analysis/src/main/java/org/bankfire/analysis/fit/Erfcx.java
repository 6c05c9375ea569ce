package org.bankfire.analysis.fit;

/**
 * Scaled complementary error function e^(x²) erfc(x) for x ≥ 0, by the rational Chebyshev approximations of W. J. Cody,
 * <i>Rational Chebyshev approximations for the error function</i>, Mathematics of Computation 23, 1969 (netlib
 * specfun/erf): about 16 digits. The library's erfc is an incomplete gamma function, some fifty times slower, and its
 * product with e^(x²) overflows from x = 27.
 */
@SuppressWarnings("FloatingPointLiteralPrecision") // the coefficients stand as published
final class Erfcx {
    private static final double SMALL = 0.46875;
    private static final double LARGE = 4;
    private static final double ONE_OVER_ROOT_PI = 0.564_189_583_547_756_286_95;

    private static final double[] A = {
        1.85777706184603153e-1,
        3.16112374387056560e0,
        1.13864154151050156e2,
        3.77485237685302021e2,
        3.20937758913846947e3
    };
    private static final double[] B = {
        1, 2.36012909523441209e1, 2.44024637934444173e2, 1.28261652607737228e3, 2.84423683343917062e3
    };
    private static final double[] C = {
        2.15311535474403846e-8,
        5.64188496988670089e-1,
        8.88314979438837594e0,
        6.61191906371416295e1,
        2.98635138197400131e2,
        8.81952221241769090e2,
        1.71204761263407058e3,
        2.05107837782607147e3,
        1.23033935479799725e3
    };
    private static final double[] D = {
        1,
        1.57449261107098347e1,
        1.17693950891312499e2,
        5.37181101862009858e2,
        1.62138957456669019e3,
        3.29079923573345963e3,
        4.36261909014324716e3,
        3.43936767414372164e3,
        1.23033935480374942e3
    };
    private static final double[] P = {
        1.63153871373020978e-2,
        3.05326634961232344e-1,
        3.60344899949804439e-1,
        1.25781726111229246e-1,
        1.60837851487422766e-2,
        6.58749161529837803e-4
    };
    private static final double[] Q = {
        1,
        2.56852019228982242e0,
        1.87295284992346725e0,
        5.27905102951428412e-1,
        6.05183413124413191e-2,
        2.33520497626869185e-3
    };

    private Erfcx() {}

    static double of(double x) {
        if (x <= SMALL) {
            double square = x * x;
            return Math.exp(square) * (1 - x * ratio(A, B, square));
        }
        if (x <= LARGE) {
            return ratio(C, D, x);
        }
        double inverse = 1 / (x * x);
        return (ONE_OVER_ROOT_PI - inverse * ratio(P, Q, inverse)) / x;
    }

    private static double ratio(double[] above, double[] below, double at) {
        double top = above[0];
        double bottom = below[0];
        for (int i = 1; i < above.length; i++) {
            top = top * at + above[i];
            bottom = bottom * at + below[i];
        }
        return top / bottom;
    }
}
