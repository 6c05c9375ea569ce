package org.bankfire.analysis.heat;

import org.bankfire.analysis.quantity.Constants;
import org.bankfire.analysis.quantity.Range;

/**
 * A round bar of carbon steel in the chamber; only the length that is inside counts, and no heat runs along it to the part
 * that is outside.
 *
 * @param diameterM m, 2 mm to 200 mm
 * @param lengthM in the chamber, m, 5 mm to 3 m
 */
public record Bar(double diameterM, double lengthM) {
    /** Diameters, m. */
    public static final Range DIAMETER_M = new Range(0.002, 0.2);
    /** Lengths in the chamber, m. */
    public static final Range LENGTH_M = new Range(0.005, 3);
    /** Of steel with scale. Incropera, table A.11: oxidised steel 0.7 to 0.9. */
    static final double EMISSIVITY = 0.8;

    public Bar {
        DIAMETER_M.require("diameter of the bar in m", diameterM);
        LENGTH_M.require("length of the bar in m", lengthM);
    }

    /** Surface without the ends, m². */
    public double surfaceM2() {
        return Math.PI * diameterM * lengthM;
    }

    /** kg. */
    public double massKg() {
        return Steel.DENSITY_KG_PER_M3 * Math.PI / 4 * diameterM * diameterM * lengthM;
    }

    /**
     * Biot number h (r/2) / k (Incropera, section 5.1): below 0.1 the bar is nearly of one temperature.
     *
     * @param chamberK temperature around it, K
     * @param barK its own, K
     */
    public double biot(double chamberK, double barK) {
        double coefficient = EMISSIVITY
                * Constants.STEFAN_BOLTZMANN_W_PER_M2_K4
                * (chamberK * chamberK + barK * barK)
                * (chamberK + barK);
        return coefficient * diameterM / 4 / Steel.conductivityWPerMK(barK);
    }
}
