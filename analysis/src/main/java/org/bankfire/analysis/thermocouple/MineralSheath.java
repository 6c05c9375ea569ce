package org.bankfire.analysis.thermocouple;

/**
 * Outer diameters of mineral-insulated, metal-sheathed type K thermocouples with the highest temperature that ASTM
 * E608/E608M suggests for them. From memory of its table of upper temperature limits; a sheath in a reducing flame lasts
 * less.
 */
public enum MineralSheath {
    MM_6(6e-3, 1150),
    MM_4_5(4.5e-3, 1150),
    MM_3(3e-3, 1070),
    MM_2(2e-3, 920),
    MM_1_5(1.5e-3, 920),
    MM_1(1e-3, 700),
    MM_0_5(0.5e-3, 700);

    // Inch sizes are a little thicker or thinner: 1/8 in is sold as 3 mm, 3/16 in as 4.8 mm.
    private static final double ROUNDING = 0.025;

    private final double diameterM;
    private final double limitC;

    MineralSheath(double diameterM, double limitC) {
        this.diameterM = diameterM;
        this.limitC = limitC;
    }

    /** Outer diameter, m. */
    public double diameterM() {
        return diameterM;
    }

    /** Highest suggested temperature, °C. */
    public double limitC() {
        return limitC;
    }

    /**
     * Highest suggested temperature: that of the next thinner sheath listed, for limits are not interpolated.
     *
     * @param diameterM outer diameter, m
     * @return °C; NaN for a sheath thinner than 0.5 mm and for a diameter that is not known
     */
    public static double limitC(double diameterM) {
        for (MineralSheath sheath : values()) {
            if (diameterM >= sheath.diameterM * (1 - ROUNDING)) {
                return sheath.limitC;
            }
        }
        return Double.NaN;
    }
}
