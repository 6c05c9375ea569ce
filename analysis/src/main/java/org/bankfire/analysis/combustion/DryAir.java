package org.bankfire.analysis.combustion;

import org.bankfire.analysis.gas.Fuel;

/**
 * Dry air as in most tables of combustion, oxygen to nitrogen 1 : 3.76 by volume; ideal gas. It lacks the argon of real
 * air, whose heat capacity is 0.3 to 0.7 % smaller per kg.
 */
public final class DryAir {
    /** Volumes of nitrogen for each of oxygen. */
    static final double NITROGEN_PER_OXYGEN = 1 / Fuel.OXYGEN_IN_AIR - 1;

    /** Per mole of air. */
    static final NasaPolynomial POLYNOMIAL = NasaPolynomial.zero()
            .plus(Fuel.OXYGEN_IN_AIR, Species.OXYGEN.polynomial())
            .plus(1 - Fuel.OXYGEN_IN_AIR, Species.NITROGEN.polynomial());

    private static final double AT_REFERENCE_J_PER_MOL = POLYNOMIAL.enthalpyJPerMol(FlueGas.REFERENCE_K);

    private DryAir() {}

    /**
     * Heat of air above 298.15 K.
     *
     * @param temperatureK 200 to 6000 K; NaN outside
     * @return J per kg of air; below 0 for air colder than 298.15 K
     */
    public static double heatOfAirJPerKg(double temperatureK) {
        return (POLYNOMIAL.enthalpyJPerMol(temperatureK) - AT_REFERENCE_J_PER_MOL) / Fuel.AIR_KG_PER_MOL;
    }
}
