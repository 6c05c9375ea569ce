package org.bankfire.analysis.combustion;

import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.gas.Jet;
import org.bankfire.analysis.quantity.Range;

/**
 * The gas that leaves the chamber when a fuel burns in dry air at a mixture λ (air over the air that burns the fuel
 * completely), and the heat that it takes along. Combustion is complete when the mixture is lean. When it is rich, the
 * oxygen is shared out over CO2, CO, H2O and H2 by the water-gas shift CO + H2O ⇌ CO2 + H2. Nothing dissociates; for
 * flame temperatures, where that matters, see {@link FlameTemperature}.
 *
 * <p>The shift is in equilibrium above {@value #FREEZING_K} K and frozen at its share there below. The reaction needs OH,
 * which a rich gas has next to none of once it cools: with 4e11 cm³/(mol s) for CO + OH → CO2 + H (the fit of Baulch and
 * others near 1700 K, from memory) and the OH of {@link Equilibrium} for propane at λ = 0.85 the share follows the
 * temperature within 0.03 s at 1740 K and 0.05 s at 1700 K, less than the tenth of a second or so that the gas stays in a
 * chamber of some litres, but within 0.7 s only at 1500 K and in minutes at 1200 K. That is also where engine exhausts are
 * found frozen: J. B. Heywood, <i>Internal Combustion Engine Fundamentals</i>, section 4.9, takes 3.5 for
 * [CO][H2O] / ([CO2][H2]), which is equilibrium at 1740 K (from memory). If it froze colder, CO would be less, H2 more and the
 * flue loss at 1200 K smaller by 0.3 (λ = 0.9) to 0.6 % (λ = 0.7) of the heating value: a caution had rather too much CO
 * than too little.
 *
 * <p>Immutable; the methods allocate nothing. Temperatures are 250 to 3000 K. Figures stay finite from 200 to 6000 K, the
 * range of the polynomials, so that a root finder may stray; outside they are NaN.
 */
public final class FlueGas {
    /** Temperature from which heat is counted, K. */
    public static final double REFERENCE_K = 298.15;
    /** Mixtures that are known: poorer in air soot forms, richer in air nothing burns. */
    public static final Range MIXTURES = new Range(0.4, 5);

    /** Below this the water-gas shift keeps the share that it had, K. */
    public static final double FREEZING_K = 1740;

    private static final double R = Jet.GAS_CONSTANT_J_PER_MOL_K;

    /** CO + H2O → CO2 + H2, per mole. */
    private static final NasaPolynomial SHIFT = NasaPolynomial.zero()
            .plus(1, Species.CARBON_DIOXIDE.polynomial())
            .plus(1, Species.HYDROGEN.polynomial())
            .plus(-1, Species.CARBON_MONOXIDE.polynomial())
            .plus(-1, Species.WATER.polynomial());

    private final double mixture;
    private final boolean rich;
    private final double kgPerKgFuel;
    // Moles per mole of fuel.
    private final double carbon;
    private final double hydrogenPairs;
    private final double oxygenAtoms;
    private final double total;
    private final double frozenCarbonDioxide;
    private final double fuelKgPerMol;
    /** Of the gas with its frozen share, per mole of fuel. */
    private final NasaPolynomial frozen;
    /** Enthalpy of the same gas burnt out and at the reference temperature, J per mole of fuel. */
    private final double burntOutJPerMol;

    private FlueGas(Fuel fuel, double mixture) {
        this.mixture = mixture;
        rich = mixture < 1;
        kgPerKgFuel = 1 + mixture * fuel.stoichiometricAirKgPerKg();
        fuelKgPerMol = fuel.molarMassKgPerMol();
        carbon = fuel.carbon();
        hydrogenPairs = fuel.hydrogen() / 2;
        double oxygenMolecules = mixture * (carbon + hydrogenPairs / 2);
        oxygenAtoms = 2 * oxygenMolecules;
        double nitrogen = DryAir.NITROGEN_PER_OXYGEN * oxygenMolecules;
        double oxygenLeft = oxygenMolecules - carbon - hydrogenPairs / 2;
        total = carbon + hydrogenPairs + nitrogen + Math.max(0, oxygenLeft);
        frozenCarbonDioxide = rich ? shiftedCarbonDioxide(FREEZING_K) : carbon;
        double water = rich ? oxygenAtoms - carbon - frozenCarbonDioxide : hydrogenPairs;
        frozen = NasaPolynomial.zero()
                .plus(frozenCarbonDioxide, Species.CARBON_DIOXIDE.polynomial())
                .plus(carbon - frozenCarbonDioxide, Species.CARBON_MONOXIDE.polynomial())
                .plus(water, Species.WATER.polynomial())
                .plus(hydrogenPairs - water, Species.HYDROGEN.polynomial())
                .plus(Math.max(0, oxygenLeft), Species.OXYGEN.polynomial())
                .plus(nitrogen, Species.NITROGEN.polynomial());
        burntOutJPerMol = NasaPolynomial.zero()
                .plus(carbon, Species.CARBON_DIOXIDE.polynomial())
                .plus(hydrogenPairs, Species.WATER.polynomial())
                .plus(oxygenLeft, Species.OXYGEN.polynomial())
                .plus(nitrogen, Species.NITROGEN.polynomial())
                .enthalpyJPerMol(REFERENCE_K);
    }

    /**
     * The flue gas of a fuel at a mixture.
     *
     * @param fuel what burns
     * @param mixture λ, air over stoichiometric air, 0.4 to 5
     * @throws IllegalArgumentException naming the mixture and its range
     */
    public static FlueGas of(Fuel fuel, double mixture) {
        MIXTURES.require("mixture of " + fuel.name() + ", air over the air that it needs,", mixture);
        return new FlueGas(fuel, mixture);
    }

    /** Air over stoichiometric air, λ. */
    public double mixture() {
        return mixture;
    }

    /** Mass of flue gas per mass of fuel, kg/kg. */
    public double kgPerKgFuel() {
        return kgPerKgFuel;
    }

    /**
     * Heat that leaves with the gas: sensible above 298.15 K, water as vapour, and when rich the heat of burning of the CO
     * and H2 in it. With fuel and air supplied at 298.15 K, the lower heating value less this is what stays in the
     * chamber.
     *
     * @return J per kg of fuel
     */
    public double heatLeftJPerKg(double temperatureK) {
        double joulePerMol = frozen.enthalpyJPerMol(temperatureK) - burntOutJPerMol;
        if (rich && temperatureK > FREEZING_K) {
            joulePerMol +=
                    (shiftedCarbonDioxide(temperatureK) - frozenCarbonDioxide) * SHIFT.enthalpyJPerMol(temperatureK);
        }
        return joulePerMol / fuelKgPerMol;
    }

    /**
     * Derivative of {@link #heatLeftJPerKg}; it has a small step where the water-gas shift freezes.
     *
     * @return J/K per kg of fuel
     */
    public double heatCapacityJPerKgK(double temperatureK) {
        double joulePerMolK = frozen.heatCapacityJPerMolK(temperatureK);
        if (rich && temperatureK > FREEZING_K) {
            double carbonDioxide = shiftedCarbonDioxide(temperatureK);
            double heat = SHIFT.enthalpyJPerMol(temperatureK);
            // d CO2 / d ln K from the equilibrium's logarithm, d ln K / dT = Δh / RT² (van 't Hoff).
            double water = oxygenAtoms - carbon - carbonDioxide;
            double perLogarithm =
                    1 / (1 / carbonDioxide + 1 / (hydrogenPairs - water) + 1 / (carbon - carbonDioxide) + 1 / water);
            joulePerMolK += (carbonDioxide - frozenCarbonDioxide) * SHIFT.heatCapacityJPerMolK(temperatureK)
                    + perLogarithm * heat * heat / (R * temperatureK * temperatureK);
        }
        return joulePerMolK / fuelKgPerMol;
    }

    /** Mole fraction of CO2 in the wet gas, with the share of the shift frozen, as below {@value #FREEZING_K} K. */
    public double carbonDioxideFraction() {
        return frozenCarbonDioxide / total;
    }

    /** Mole fraction of water vapour in the wet gas, with the share of the shift frozen, as below {@value #FREEZING_K} K. */
    public double waterFraction() {
        return (rich ? oxygenAtoms - carbon - frozenCarbonDioxide : hydrogenPairs) / total;
    }

    /** Mole fraction of CO in the wet gas at that temperature; 0 when lean. */
    public double carbonMonoxideFraction(double temperatureK) {
        return rich ? (carbon - carbonDioxide(temperatureK)) / total : 0;
    }

    /** Mole fraction of H2 in the wet gas at that temperature; 0 when lean. */
    public double hydrogenFraction(double temperatureK) {
        return rich ? (hydrogenPairs - oxygenAtoms + carbon + carbonDioxide(temperatureK)) / total : 0;
    }

    private double carbonDioxide(double temperatureK) {
        return temperatureK > FREEZING_K ? shiftedCarbonDioxide(temperatureK) : frozenCarbonDioxide;
    }

    /**
     * Moles of CO2 at equilibrium of the shift, per mole of fuel. With x of CO2 there are c − x of CO, w − x of water
     * (w = oxygen atoms − c) and b + x of H2, so x (b + x) = K (c − x) (w − x): a quadratic, in the form that keeps its
     * digits for either sign of 1 − K.
     */
    private double shiftedCarbonDioxide(double temperatureK) {
        double k = Math.exp(-SHIFT.gibbsOverRt(temperatureK));
        double water = oxygenAtoms - carbon;
        double linear = hydrogenPairs - water + k * oxygenAtoms;
        double product = k * carbon * water;
        double root = 2 * product / (linear + Math.sqrt(linear * linear + 4 * (1 - k) * product));
        return Math.min(root, Math.min(carbon, water));
    }
}
