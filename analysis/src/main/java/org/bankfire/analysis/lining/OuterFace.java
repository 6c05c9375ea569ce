package org.bankfire.analysis.lining;

import org.bankfire.analysis.quantity.Constants;
import org.bankfire.analysis.quantity.Range;

/**
 * What the outside of the frame gives to the workshop: natural convection from an upright wall (Churchill and Chu 1975, as
 * in Incropera, Fundamentals of Heat and Mass Transfer, eq. 9.26) and radiation to surroundings at ambient temperature.
 * Top and bottom are taken as upright too; wind is not. Immutable.
 */
public final class OuterFace {
    /** Emissivities, 1. */
    public static final Range EMISSIVITY = new Range(0.01, 1);

    // Air at one atmosphere, Incropera table A.4: power laws within 3 % from 280 to 900 K.
    private static final double PRANDTL = 0.70;
    private static final double VISCOSITY_M2_PER_S = 15.89e-6;
    private static final double VISCOSITY_POWER = 1.72;
    private static final double CONDUCTIVITY_W_PER_M_K = 0.0263;
    private static final double CONDUCTIVITY_POWER = 0.80;
    private static final double REFERENCE_K = 300;
    /** (1 + (0.492 / Pr)^(9/16))^(8/27) of the correlation, for this Prandtl number. */
    private static final double PRANDTL_FACTOR = Math.pow(1 + Math.pow(0.492 / PRANDTL, 9.0 / 16), 8.0 / 27);

    private final double areaM2;
    private final double heightM;
    private final double emissivity;

    /**
     * An outer face.
     *
     * @param areaM2 above 0
     * @param heightM of the upright sides, m, above 0
     * @param emissivity 0.01 to 1: painted, rusty or burnt sheet 0.9, bright galvanised sheet 0.3 (common practice, no
     *     source)
     */
    public OuterFace(double areaM2, double heightM, double emissivity) {
        if (!(areaM2 > 0 && heightM > 0)) {
            throw new IllegalArgumentException(
                    "outer face of " + areaM2 + " m² and " + heightM + " m height: both must be above 0");
        }
        EMISSIVITY.require("emissivity of the outer face", emissivity);
        this.areaM2 = areaM2;
        this.heightM = heightM;
        this.emissivity = emissivity;
    }

    /** Heat given off at a surface temperature, W; negative when the surface is colder than the ambient. */
    public double heatW(double surfaceK, double ambientK) {
        double surface2 = surfaceK * surfaceK;
        double ambient2 = ambientK * ambientK;
        double radiation =
                emissivity * Constants.STEFAN_BOLTZMANN_W_PER_M2_K4 * (surface2 + ambient2) * (surface2 - ambient2);
        return areaM2 * (convectionWPerM2K(surfaceK, ambientK) * (surfaceK - ambientK) + radiation);
    }

    /** About how that heat rises with the surface temperature, W/K. */
    public double slopeWPerK(double surfaceK, double ambientK) {
        double radiation = 4 * emissivity * Constants.STEFAN_BOLTZMANN_W_PER_M2_K4 * surfaceK * surfaceK * surfaceK;
        // The coefficient itself rises with the fourth to third root of the difference.
        return areaM2 * (1.3 * convectionWPerM2K(surfaceK, ambientK) + radiation);
    }

    /** Coefficient of natural convection, W/(m² K). */
    public double convectionWPerM2K(double surfaceK, double ambientK) {
        double filmK = (surfaceK + ambientK) / 2;
        double ratio = filmK / REFERENCE_K;
        double viscosity = VISCOSITY_M2_PER_S * Math.pow(ratio, VISCOSITY_POWER);
        double rayleigh = Constants.GRAVITY_M_PER_S2
                / filmK
                * Math.abs(surfaceK - ambientK)
                * heightM
                * heightM
                * heightM
                * PRANDTL
                / (viscosity * viscosity);
        double root = 0.825 + 0.387 * Math.pow(rayleigh, 1.0 / 6) / PRANDTL_FACTOR;
        return CONDUCTIVITY_W_PER_M_K * Math.pow(ratio, CONDUCTIVITY_POWER) / heightM * root * root;
    }
}
