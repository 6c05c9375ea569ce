package org.bankfire.analysis.combustion;

import org.bankfire.analysis.gas.Jet;

/**
 * Enthalpy, heat capacity and entropy of an ideal gas at 1 bar in the seven-coefficient form of NASA TM-4513 (McBride,
 * Gordon, Reno, 1993), with coefficients a1 to a7 below 1000 K and another seven above:
 *
 * <pre>
 *   cp/R   = a1 + a2 T   + a3 T²   + a4 T³   + a5 T⁴
 *   h/(RT) = a1 + a2 T/2 + a3 T²/3 + a4 T³/4 + a5 T⁴/5 + a6/T
 *   s/R    = a1 ln T + a2 T + a3 T²/2 + a4 T³/3 + a5 T⁴/4 + a7</pre>
 *
 * The enthalpy counts from the elements at 298.15 K, so it holds the heat of formation. The form is linear in the
 * coefficients: enthalpy and heat capacity of a mixture of fixed composition are again such a polynomial, per whatever
 * amount the mixture is reckoned. 200 to 6000 K; outside, every figure is NaN.
 */
final class NasaPolynomial {
    private static final double R = Jet.GAS_CONSTANT_J_PER_MOL_K;
    private static final double LEAST_K = 200;
    private static final double JOIN_K = 1000;
    private static final double GREATEST_K = 6000;
    private static final int COEFFICIENTS = 7;
    private static final double[] NOT_KNOWN = {
        Double.NaN, Double.NaN, Double.NaN, Double.NaN, Double.NaN, Double.NaN, Double.NaN
    };

    private final double[] low;
    private final double[] high;

    /** From the coefficients as published, a1 to a7 below 1000 K and above. */
    NasaPolynomial(double[] low, double[] high) {
        if (low.length != COEFFICIENTS || high.length != COEFFICIENTS) {
            throw new IllegalArgumentException(
                    low.length + " and " + high.length + " coefficients: a range has " + COEFFICIENTS);
        }
        this.low = low.clone();
        this.high = high.clone();
    }

    /** Nothing of anything: the start of a sum. */
    static NasaPolynomial zero() {
        return new NasaPolynomial(new double[COEFFICIENTS], new double[COEFFICIENTS]);
    }

    /** This and {@code amount} of another. Entropies are added without that of mixing. */
    NasaPolynomial plus(double amount, NasaPolynomial other) {
        NasaPolynomial sum = new NasaPolynomial(low, high);
        for (int i = 0; i < COEFFICIENTS; i++) {
            sum.low[i] += amount * other.low[i];
            sum.high[i] += amount * other.high[i];
        }
        return sum;
    }

    /** Enthalpy with the heat of formation, J/mol. */
    double enthalpyJPerMol(double temperatureK) {
        double t = temperatureK;
        double[] a = range(t);
        return R * (a[5] + t * (a[0] + t * (a[1] / 2 + t * (a[2] / 3 + t * (a[3] / 4 + t * (a[4] / 5))))));
    }

    /** Heat capacity at constant pressure, J/(mol K). */
    double heatCapacityJPerMolK(double temperatureK) {
        double t = temperatureK;
        double[] a = range(t);
        return R * (a[0] + t * (a[1] + t * (a[2] + t * (a[3] + t * a[4]))));
    }

    /** Entropy at 1 bar, J/(mol K). */
    double entropyJPerMolK(double temperatureK) {
        double t = temperatureK;
        double[] a = range(t);
        return R * (a[6] + a[0] * Math.log(t) + t * (a[1] + t * (a[2] / 2 + t * (a[3] / 3 + t * (a[4] / 4)))));
    }

    /** Gibbs energy at 1 bar over RT. */
    double gibbsOverRt(double temperatureK) {
        return (enthalpyJPerMol(temperatureK) / temperatureK - entropyJPerMolK(temperatureK)) / R;
    }

    private double[] range(double temperatureK) {
        if (temperatureK < JOIN_K) {
            return temperatureK >= LEAST_K ? low : NOT_KNOWN;
        }
        return temperatureK <= GREATEST_K ? high : NOT_KNOWN;
    }
}
