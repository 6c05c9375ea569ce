package org.bankfire.analysis.thermocouple;

/**
 * The reference function of type K thermocouples against a junction at 0 °C, both ways.
 *
 * <p>Coefficients as published: NIST Monograph 175 (1993), NIST SRD 60, the same as IEC 60584-1:2013; temperatures on
 * the ITS-90. Nothing here allocates, and what lies outside a range gives NaN: in the measurement chain that is a
 * reading of bad quality and no exception.
 */
public final class TypeK {
    /** Lowest temperature of the direct function, °C. */
    public static final double MIN_CELSIUS = -270;
    /** Lowest temperature of the inverse, °C: below it the published inverse ends and the wire hardly answers. */
    public static final double MIN_INVERSE_CELSIUS = -200;
    /** Highest temperature of both, °C. */
    public static final double MAX_CELSIUS = 1372;

    /** mV per °C to the power of the index, −270…0 °C. */
    private static final double[] DIRECT_BELOW_ZERO = {
        0.0,
        0.394501280250e-1,
        0.236223735980e-4,
        -0.328589067840e-6,
        -0.499048287770e-8,
        -0.675090591730e-10,
        -0.574103274280e-12,
        -0.310888728940e-14,
        -0.104516093650e-16,
        -0.198892668780e-19,
        -0.163226974860e-22
    };

    /** mV per °C to the power of the index, 0…1372 °C, without the exponential term. */
    private static final double[] DIRECT_ABOVE_ZERO = {
        -0.176004136860e-1,
        0.389212049750e-1,
        0.185587700320e-4,
        -0.994575928740e-7,
        0.318409457190e-9,
        -0.560728448890e-12,
        0.560750590590e-15,
        -0.320207200030e-18,
        0.971511471520e-22,
        -0.121047212750e-25
    };

    // a0·exp(a1·(t − a2)²): mV, 1/°C², °C. Stands for the magnetic ordering of the negative leg.
    private static final double BUMP_MILLIVOLT = 0.118597600000;
    private static final double BUMP_NARROWNESS = -0.118343200000e-3;
    private static final double BUMP_CELSIUS = 0.126968600000e3;

    /** °C per mV to the power of the index, −5.891…0 mV; −0.02…0.04 K off. */
    private static final double[] INVERSE_BELOW_ZERO = {
        0.0,
        2.5173462e1,
        -1.1662878,
        -1.0833638,
        -8.9773540e-1,
        -3.7342377e-1,
        -8.6632643e-2,
        -1.0450598e-2,
        -5.1920577e-4
    };

    /** °C per mV to the power of the index, 0…20.644 mV; −0.05…0.04 K off. */
    private static final double[] INVERSE_TO_500 = {
        0.0,
        2.508355e1,
        7.860106e-2,
        -2.503131e-1,
        8.315270e-2,
        -1.228034e-2,
        9.804036e-4,
        -4.413030e-5,
        1.057734e-6,
        -1.052755e-8
    };

    /** °C per mV to the power of the index, 20.644…54.886 mV; −0.05…0.06 K off. */
    private static final double[] INVERSE_FROM_500 = {
        -1.318058e2, 4.830222e1, -1.646031, 5.464731e-2, -9.650715e-4, 8.802193e-6, -3.110810e-8
    };

    private static final double EMF_AT_500 = 20.644;

    private static final double MIN_INVERSE_MILLIVOLT = belowZero(MIN_INVERSE_CELSIUS);
    private static final double MAX_MILLIVOLT = aboveZero(MAX_CELSIUS);
    // The upper polynomial starts 2e-9 mV above zero as published; what lies in that gap is 0 °C.
    private static final double MIN_ABOVE_ZERO_MILLIVOLT = aboveZero(0);

    // From 0.06 K off, Newton on this gently curved function leaves 1e-6 K after one step and rounding after two; the
    // third settles the last digit.
    private static final int NEWTON_STEPS = 3;

    private TypeK() {}

    /**
     * Thermoelectric voltage.
     *
     * @param celsius temperature of the measuring junction, −270…1372 °C
     * @return mV; NaN outside that range
     */
    public static double emfMillivolt(double celsius) {
        if (!(celsius >= MIN_CELSIUS && celsius <= MAX_CELSIUS)) {
            return Double.NaN;
        }
        return celsius > 0 ? aboveZero(celsius) : belowZero(celsius);
    }

    /**
     * Slope of the voltage over temperature.
     *
     * @param celsius −270…1372 °C
     * @return mV/K; NaN outside that range
     */
    public static double sensitivityMillivoltPerKelvin(double celsius) {
        if (!(celsius >= MIN_CELSIUS && celsius <= MAX_CELSIUS)) {
            return Double.NaN;
        }
        return celsius > 0 ? slopeAboveZero(celsius) : slope(DIRECT_BELOW_ZERO, celsius);
    }

    /**
     * Temperature at which {@link #emfMillivolt} gives that voltage, to rounding: the published inverse polynomial,
     * polished with Newton steps on the direct function. Round trip within 1e-9 K.
     *
     * @param emfMillivolt thermoelectric voltage against 0 °C, E(−200 °C)…E(1372 °C), about −5.891…54.886 mV
     * @return °C; NaN outside that range
     */
    public static double celsius(double emfMillivolt) {
        if (!(emfMillivolt >= MIN_INVERSE_MILLIVOLT && emfMillivolt <= MAX_MILLIVOLT)) {
            return Double.NaN;
        }
        if (emfMillivolt <= 0) {
            double celsius = polynomial(INVERSE_BELOW_ZERO, emfMillivolt);
            for (int step = 0; step < NEWTON_STEPS; step++) {
                celsius += (emfMillivolt - belowZero(celsius)) / slope(DIRECT_BELOW_ZERO, celsius);
            }
            return celsius;
        }
        if (emfMillivolt < MIN_ABOVE_ZERO_MILLIVOLT) {
            return 0;
        }
        double celsius = polynomial(emfMillivolt < EMF_AT_500 ? INVERSE_TO_500 : INVERSE_FROM_500, emfMillivolt);
        for (int step = 0; step < NEWTON_STEPS; step++) {
            celsius += (emfMillivolt - aboveZero(celsius)) / slopeAboveZero(celsius);
        }
        return celsius;
    }

    private static double belowZero(double celsius) {
        return polynomial(DIRECT_BELOW_ZERO, celsius);
    }

    private static double aboveZero(double celsius) {
        double fromBump = celsius - BUMP_CELSIUS;
        return polynomial(DIRECT_ABOVE_ZERO, celsius)
                + BUMP_MILLIVOLT * Math.exp(BUMP_NARROWNESS * fromBump * fromBump);
    }

    private static double slopeAboveZero(double celsius) {
        double fromBump = celsius - BUMP_CELSIUS;
        return slope(DIRECT_ABOVE_ZERO, celsius)
                + 2 * BUMP_NARROWNESS * fromBump * BUMP_MILLIVOLT * Math.exp(BUMP_NARROWNESS * fromBump * fromBump);
    }

    private static double polynomial(double[] coefficients, double x) {
        double sum = 0;
        for (int power = coefficients.length - 1; power >= 0; power--) {
            sum = sum * x + coefficients[power];
        }
        return sum;
    }

    private static double slope(double[] coefficients, double x) {
        double sum = 0;
        for (int power = coefficients.length - 1; power >= 1; power--) {
            sum = sum * x + power * coefficients[power];
        }
        return sum;
    }
}
