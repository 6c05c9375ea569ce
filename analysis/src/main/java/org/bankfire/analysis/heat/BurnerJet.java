package org.bankfire.analysis.heat;

/**
 * Convection from the burner's flame to the walls that it plays upon: mean coefficient under a round impinging jet
 * (H. Martin, Advances in Heat Transfer 13 (1977), as in Incropera, Fundamentals of Heat and Mass Transfer, section 7.7).
 * A chamber is wider against the burner's bore than the correlation covers (radius over bore above 7.5), the flame does not
 * meet the wall head on, and the gas goes round: a factor of its own stands before it in the forge's parameters.
 */
final class BurnerJet {
    /** Hot flue gas as air at 1,400 K, Incropera table A.4. */
    private static final double VISCOSITY_PA_S = 530e-7;

    private static final double CONDUCTIVITY_W_PER_M_K = 0.091;
    private static final double PRANDTL_FACTOR = Math.pow(0.70, 0.42);
    /** Still hot gas along a wall of some 0.2 m, W/(m² K). Common practice, no source. */
    private static final double STILL_W_PER_M2_K = 8;

    private BurnerJet() {}

    /**
     * Coefficient.
     *
     * @param flueKgPerS through the burner's tube, kg/s, 0 or more
     * @param boreM of the tube, m
     * @param distanceM to the wall opposite, m
     * @param wallM2 wall that the gas plays upon, m²
     * @return W/(m² K)
     */
    static double coefficientWPerM2K(double flueKgPerS, double boreM, double distanceM, double wallM2) {
        double reynolds = 4 * flueKgPerS / (Math.PI * boreM * VISCOSITY_PA_S);
        double perRadius = boreM / Math.sqrt(wallM2 / Math.PI);
        double reach = perRadius * Math.max(0, 1 - 1.1 * perRadius) / (1 + 0.1 * (distanceM / boreM - 6) * perRadius);
        double stir = 2 * Math.sqrt(reynolds * (1 + 0.005 * Math.pow(reynolds, 0.55)));
        double forced = reach * stir * PRANDTL_FACTOR * CONDUCTIVITY_W_PER_M_K / boreM;
        // Two mechanisms that do not simply add: Churchill and Usagi's blending with the power 3.
        return Math.cbrt(forced * forced * forced + STILL_W_PER_M2_K * STILL_W_PER_M2_K * STILL_W_PER_M2_K);
    }
}
