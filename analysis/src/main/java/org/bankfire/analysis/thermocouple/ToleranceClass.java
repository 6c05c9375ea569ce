package org.bankfire.analysis.thermocouple;

/**
 * Tolerance classes of new type K wire: in its range the greater of an absolute part and a part in proportion to the
 * temperature in °C. IEC 60584-1:2013 table 12; ASTM E230/E230M. Wire that has been at forging temperature drifts beyond
 * its class.
 */
public enum ToleranceClass {
    /** IEC 60584-1 class 1: −40…1000 °C, 1.5 K or 0.4 %. */
    IEC_1(-40, 1000, 1.5, 0.004, 0.004),
    /** IEC 60584-1 class 2: −40…1200 °C, 2.5 K or 0.75 %. */
    IEC_2(-40, 1200, 2.5, 0.0075, 0.0075),
    /** IEC 60584-1 class 3: −200…40 °C, 2.5 K or 1.5 %. */
    IEC_3(-200, 40, 2.5, 0.015, 0.015),
    /** ASTM E230 special: 0…1260 °C, 1.1 K or 0.4 %. */
    ASTM_SPECIAL(0, 1260, 1.1, 0.004, 0.004),
    /** ASTM E230 standard: −200…0 °C 2.2 K or 2 %, 0…1260 °C 2.2 K or 0.75 %. */
    ASTM_STANDARD(-200, 1260, 2.2, 0.02, 0.0075);

    private static final double SQRT_3 = Math.sqrt(3);

    private final double minCelsius;
    private final double maxCelsius;
    private final double absoluteK;
    private final double fractionBelowZero;
    private final double fractionAboveZero;

    ToleranceClass(
            double minCelsius,
            double maxCelsius,
            double absoluteK,
            double fractionBelowZero,
            double fractionAboveZero) {
        this.minCelsius = minCelsius;
        this.maxCelsius = maxCelsius;
        this.absoluteK = absoluteK;
        this.fractionBelowZero = fractionBelowZero;
        this.fractionAboveZero = fractionAboveZero;
    }

    /** Lowest temperature that the class speaks of, °C. */
    public double minCelsius() {
        return minCelsius;
    }

    /** Highest temperature that the class speaks of, °C. */
    public double maxCelsius() {
        return maxCelsius;
    }

    /** Whether the class says anything of {@code celsius}. */
    public boolean covers(double celsius) {
        return celsius >= minCelsius && celsius <= maxCelsius;
    }

    /**
     * Greatest deviation of new wire from the reference function.
     *
     * @param celsius temperature of the measuring junction, °C
     * @return K; NaN where the class says nothing
     */
    public double toleranceK(double celsius) {
        return covers(celsius) ? limitK(celsius) : Double.NaN;
    }

    /**
     * The tolerance as a standard uncertainty: a rectangular distribution over ± the tolerance (GUM, JCGM 100:2008,
     * 4.3.7). Outside the range of the class its rule is carried on as the best figure there is; {@link #covers} tells.
     *
     * @param celsius temperature of the measuring junction, °C
     * @return K
     */
    public double standardUncertaintyK(double celsius) {
        return limitK(celsius) / SQRT_3;
    }

    private double limitK(double celsius) {
        double fraction = celsius < 0 ? fractionBelowZero : fractionAboveZero;
        return Math.max(absoluteK, fraction * Math.abs(celsius));
    }
}
