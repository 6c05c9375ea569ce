package org.bankfire.analysis.combustion;

import java.util.EnumMap;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.quantity.Range;

/**
 * Burnt gas in chemical equilibrium at a temperature and a pressure, among CO2, CO, H2O, H2, OH, O2, O, H, NO and N2. No
 * soot, methane or ammonia: below about 1000 K a rich gas would in truth hold some, if it ever came to equilibrium there.
 *
 * <p>Found as in S. Gordon and B. J. McBride, <i>Computer Program for Calculation of Complex Chemical Equilibrium
 * Compositions and Applications</i>, NASA RP-1311, part I (1994): Newton's method on the logarithms of the moles, reduced to
 * one unknown for each conserved quantity and one for the total (their equations 2.24 and 2.26), with their damping
 * (equations 3.1 to 3.3).
 *
 * <p>What is conserved is here not oxygen but its excess over what burns all carbon and hydrogen, O − 2 C − H/2, which is
 * the same condition written with other numbers. CO2, H2O and N2 have none of it, so it is made of the rare gases alone. In a
 * mixture that just burns they are 1e-9 of all or less below 900 K, and the equation for oxygen itself drowns in the rounding
 * of the others: with it the iteration fails there. Immutable.
 */
public final class Equilibrium {
    /** Temperatures for which a composition is sought, K. */
    public static final Range TEMPERATURES_K = new Range(500, 4000);
    /** Pressures for which a composition is sought, Pa absolute. */
    public static final Range PRESSURES_PA = new Range(1e3, 1e7);

    private final EnumMap<Species, Double> fractions;
    private final double heatLeftJPerKg;

    private Equilibrium(EnumMap<Species, Double> fractions, double heatLeftJPerKg) {
        this.fractions = fractions;
        this.heatLeftJPerKg = heatLeftJPerKg;
    }

    /**
     * The burnt gas of a fuel in dry air.
     *
     * @param fuel what burns
     * @param mixture λ, air over stoichiometric air, 0.4 to 5
     * @param temperatureK 500 to 4000 K
     * @param pressurePa Pa absolute, 1e3 to 1e7
     * @throws IllegalArgumentException naming the argument, its value and its range
     */
    public static Equilibrium of(Fuel fuel, double mixture, double temperatureK, double pressurePa) {
        FlueGas.MIXTURES.require("mixture of " + fuel.name() + ", air over the air that it needs,", mixture);
        TEMPERATURES_K.require("temperature of burnt gas, K,", temperatureK);
        PRESSURES_PA.require("absolute pressure of burnt gas, Pa,", pressurePa);
        double oxygenNeeded = fuel.carbon() + fuel.hydrogen() / 4;
        double nitrogen = DryAir.NITROGEN_PER_OXYGEN * mixture * oxygenNeeded;
        double[] conserved = {fuel.carbon(), fuel.hydrogen(), 2 * nitrogen, 2 * (mixture - 1) * oxygenNeeded};
        EquilibriumNewton newton = new EquilibriumNewton(conserved, temperatureK, pressurePa);
        newton.solve();
        EnumMap<Species, Double> fractions = new EnumMap<>(Species.class);
        double enthalpy = 0;
        for (int k = 0; k < EquilibriumNewton.PRODUCTS.length; k++) {
            Species species = EquilibriumNewton.PRODUCTS[k];
            fractions.put(species, newton.moles(k) / newton.total());
            enthalpy += newton.moles(k) * species.enthalpyJPerMol(temperatureK);
        }
        // Oxygen and nitrogen at 298.15 K count nothing.
        double burntOut = fuel.carbon() * Species.CARBON_DIOXIDE.enthalpyJPerMol(FlueGas.REFERENCE_K)
                + fuel.hydrogen() / 2 * Species.WATER.enthalpyJPerMol(FlueGas.REFERENCE_K);
        return new Equilibrium(fractions, (enthalpy / newton.scale() - burntOut) / fuel.molarMassKgPerMol());
    }

    /** Mole fraction in the wet gas; 0 for a gas that is not among the products. */
    public double fraction(Species species) {
        return fractions.getOrDefault(species, 0.0);
    }

    /**
     * Heat in the gas above burnt out gas at 298.15 K, J per kg of fuel, as {@link FlueGas#heatLeftJPerKg}: sensible heat
     * and what dissociation has taken up.
     */
    public double heatLeftJPerKg() {
        return heatLeftJPerKg;
    }
}
