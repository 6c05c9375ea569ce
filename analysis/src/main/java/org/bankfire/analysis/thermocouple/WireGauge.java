package org.bankfire.analysis.thermocouple;

/**
 * Gauges of type K wire with the highest temperature that ASTM E230 suggests for protected wire, that is in a closed-end
 * sheath or tube. Limits from memory of its table 6; bare wire in a flame lasts less.
 */
public enum WireGauge {
    AWG_8(8, 3.264e-3, 1260),
    AWG_14(14, 1.628e-3, 1090),
    AWG_20(20, 0.8118e-3, 980),
    AWG_24(24, 0.5106e-3, 870),
    AWG_28(28, 0.3211e-3, 870),
    AWG_30(30, 0.2546e-3, 760);

    // Sold diameters are rounded: 0.8 mm is AWG 20, 0.5 mm is AWG 24, 0.25 mm is AWG 30.
    private static final double ROUNDING = 0.025;

    private final int number;
    private final double diameterM;
    private final double limitC;

    WireGauge(int number, double diameterM, double limitC) {
        this.number = number;
        this.diameterM = diameterM;
        this.limitC = limitC;
    }

    /** Number of the American wire gauge. */
    public int number() {
        return number;
    }

    /** Diameter, m (ASTM B258). */
    public double diameterM() {
        return diameterM;
    }

    /** Highest suggested temperature of protected wire, °C. */
    public double limitC() {
        return limitC;
    }

    /**
     * Highest suggested temperature of protected wire: that of the next thinner gauge listed, for limits are not
     * interpolated.
     *
     * @param diameterM bare wire, m
     * @return °C; NaN for wire thinner than AWG 30, for which none is suggested, and for a diameter that is not known
     */
    public static double limitC(double diameterM) {
        for (WireGauge gauge : values()) {
            if (diameterM >= gauge.diameterM * (1 - ROUNDING)) {
                return gauge.limitC;
            }
        }
        return Double.NaN;
    }
}
