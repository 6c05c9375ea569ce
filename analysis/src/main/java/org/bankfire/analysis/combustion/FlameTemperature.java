package org.bankfire.analysis.combustion;

import java.util.Map;
import java.util.function.DoubleUnaryOperator;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.gas.Hydrocarbon;
import org.bankfire.analysis.quantity.Range;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;

/**
 * Adiabatic flame temperature at constant pressure: where the burnt gas holds all of the heat that fuel and dry air brought
 * along. No flame in a chamber is as hot, for it radiates while it burns.
 */
public final class FlameTemperature {
    /** Temperatures that fuel and air may have before they burn, K. */
    public static final Range REACTANTS_K = new Range(220, 1000);

    /** Where the temperature is sought, K: λ = 5 from the coldest reactants to λ = 1 from the hottest, and more. */
    private static final double LEAST_K = 500;

    private static final double GREATEST_K = 3500;
    private static final double TOLERANCE_K = 1e-6;
    /** Interpolation order of the root finder; 5 is its default. */
    private static final int ORDER = 5;
    /** Brent's method halves its bracket at worst: 3000 K to 1e-6 K in 32 steps of which each may be refused twice. */
    private static final int MAX_EVALUATIONS = 100;

    private FlameTemperature() {}

    /**
     * When nothing dissociates: {@link FlueGas}. It is the temperature of simple textbooks, some 100 K too high near
     * λ = 1.
     *
     * @param fuel what burns
     * @param mixture λ, air over stoichiometric air, 0.4 to 5
     * @param reactantsK temperature of fuel and air, 220 to 1000 K
     * @return K
     * @throws IllegalArgumentException naming the argument, its value and its range
     */
    public static double completeK(Fuel fuel, double mixture, double reactantsK) {
        FlueGas gas = FlueGas.of(fuel, mixture);
        return solve(gas::heatLeftJPerKg, heatBroughtJPerKg(fuel, mixture, reactantsK));
    }

    /**
     * With dissociation: {@link Equilibrium}.
     *
     * @param fuel what burns
     * @param mixture λ, air over stoichiometric air, 0.4 to 5
     * @param reactantsK temperature of fuel and air, 220 to 1000 K
     * @param pressurePa Pa absolute, 1e3 to 1e7
     * @return K
     * @throws IllegalArgumentException naming the argument, its value and its range
     */
    public static double equilibriumK(Fuel fuel, double mixture, double reactantsK, double pressurePa) {
        double heat = heatBroughtJPerKg(fuel, mixture, reactantsK);
        return solve(kelvin -> Equilibrium.of(fuel, mixture, kelvin, pressurePa).heatLeftJPerKg(), heat);
    }

    private static double solve(DoubleUnaryOperator heatLeftJPerKg, double heatJPerKg) {
        return new BracketingNthOrderBrentSolver(TOLERANCE_K, ORDER)
                .solve(
                        MAX_EVALUATIONS,
                        kelvin -> heatLeftJPerKg.applyAsDouble(kelvin) / heatJPerKg - 1,
                        LEAST_K,
                        GREATEST_K);
    }

    /** The lower heating value and the heat of fuel and air above 298.15 K, J per kg of fuel. */
    private static double heatBroughtJPerKg(Fuel fuel, double mixture, double reactantsK) {
        REACTANTS_K.require("temperature of fuel and air, K,", reactantsK);
        double fuelJPerMol = 0;
        for (Map.Entry<Hydrocarbon, Double> share : fuel.fractions().entrySet()) {
            Species species = species(share.getKey());
            fuelJPerMol += share.getValue()
                    * (species.enthalpyJPerMol(reactantsK) - species.enthalpyJPerMol(FlueGas.REFERENCE_K));
        }
        return fuel.lowerHeatingValueJPerKg()
                + fuelJPerMol / fuel.molarMassKgPerMol()
                + mixture * fuel.stoichiometricAirKgPerKg() * DryAir.heatOfAirJPerKg(reactantsK);
    }

    private static Species species(Hydrocarbon gas) {
        return switch (gas) {
            case METHANE -> Species.METHANE;
            case ETHANE -> Species.ETHANE;
            case PROPANE -> Species.PROPANE;
            case PROPYLENE -> Species.PROPYLENE;
            case BUTANE -> Species.BUTANE;
            case ISOBUTANE -> Species.ISOBUTANE;
        };
    }
}
