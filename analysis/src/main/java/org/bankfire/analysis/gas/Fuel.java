package org.bankfire.analysis.gas;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.StringJoiner;
import org.jspecify.annotations.Nullable;

/**
 * A fuel gas by its composition, and what follows from it. Heating values are those at 25 °C of the ideal gas; a printed
 * table differs by up to 0.1 %. Immutable.
 */
public final class Fuel {
    /** Propane without companions. What is sold as propane holds some propylene and butane: describe it as a mixture. */
    public static final Fuel PROPANE = Fuel.of("propane", Map.of(Hydrocarbon.PROPANE, 1.0));
    /** n-butane. */
    public static final Fuel BUTANE = Fuel.of("butane", Map.of(Hydrocarbon.BUTANE, 1.0));
    /** Isobutane. */
    public static final Fuel ISOBUTANE = Fuel.of("isobutane", Map.of(Hydrocarbon.ISOBUTANE, 1.0));
    /** Propylene. */
    public static final Fuel PROPYLENE = Fuel.of("propylene", Map.of(Hydrocarbon.PROPYLENE, 1.0));
    /** Methane, which stands for natural gas. */
    public static final Fuel METHANE = Fuel.of("methane", Map.of(Hydrocarbon.METHANE, 1.0));

    /** Oxygen in dry air by volume, as in most tables of combustion (O2 : N2 = 1 : 3.76). */
    public static final double OXYGEN_IN_AIR = 1 / 4.76;
    /** Molar mass of that air, kg/mol. */
    public static final double AIR_KG_PER_MOL = (0.0319988 + 3.76 * 0.0280134) / 4.76;

    private static final List<Fuel> KNOWN = List.of(PROPANE, BUTANE, ISOBUTANE, PROPYLENE, METHANE);

    // NASA TM-4513, J/mol at 298.15 K; the heat of condensation of water at 25 °C is 44.004 kJ/mol.
    private static final double CARBON_DIOXIDE_FORMATION = -393_507.8;
    private static final double WATER_FORMATION = -241_824.6;
    private static final double CONDENSATION = 44_004;
    /** How far fractions may miss a sum of one: rounding of percentages to two digits. */
    public static final double SUM_TOLERANCE = 1e-3;
    /** How far a sum of one misses it by the rounding of its terms. */
    private static final double SUM_ROUNDING = 1e-12;

    /** Digits of a percentage in a name made of parts. */
    private static final MathContext NAMED_DIGITS = new MathContext(3, RoundingMode.HALF_EVEN);

    private final String name;
    private final Map<Hydrocarbon, Double> fractions;
    private final JetGas jetGas;
    private final double carbon;
    private final double hydrogen;
    private final double formationJPerMol;
    private final double lowerHeatingValueJPerKg;
    private final double higherHeatingValueJPerKg;

    private Fuel(String name, Map<Hydrocarbon, Double> fractions) {
        this.name = name;
        this.fractions = Collections.unmodifiableMap(fractions);
        double mass = 0;
        double heatCapacity = 0;
        double carbonSum = 0;
        double hydrogenSum = 0;
        double formation = 0;
        for (Map.Entry<Hydrocarbon, Double> share : fractions.entrySet()) {
            Hydrocarbon part = share.getKey();
            double fraction = share.getValue();
            mass += fraction * part.molarMassKgPerMol();
            heatCapacity += fraction * part.heatCapacityJPerMolK();
            carbonSum += fraction * part.carbon();
            hydrogenSum += fraction * part.hydrogen();
            formation += fraction * part.formationJPerMol();
        }
        carbon = carbonSum;
        hydrogen = hydrogenSum;
        formationJPerMol = formation;
        jetGas = new JetGas(mass, heatCapacity / (heatCapacity - Jet.GAS_CONSTANT_J_PER_MOL_K));
        double lower = formation - carbon * CARBON_DIOXIDE_FORMATION - hydrogen / 2 * WATER_FORMATION;
        lowerHeatingValueJPerKg = lower / mass;
        higherHeatingValueJPerKg = (lower + hydrogen / 2 * CONDENSATION) / mass;
    }

    /**
     * A mixture.
     *
     * @param name for the reader, not blank
     * @param volumeFractions of each gas, 0 to 1 and 1 together within 0.001; brought to 1 in proportion
     * @throws IllegalArgumentException naming the gas, its fraction and what is allowed
     */
    public static Fuel of(String name, Map<Hydrocarbon, Double> volumeFractions) {
        if (name.isBlank()) {
            throw new IllegalArgumentException("a fuel needs a name");
        }
        return new Fuel(name, wholeOf(name, volumeFractions));
    }

    /**
     * A mixture named after its parts, such as {@code propane 60 %, butane 40 %}; the known fuel when it is one gas alone.
     *
     * @param volumeFractions as for {@link #of}
     * @throws IllegalArgumentException as {@link #of}
     */
    public static Fuel mixture(Map<Hydrocarbon, Double> volumeFractions) {
        Map<Hydrocarbon, Double> fractions = wholeOf("mixture", volumeFractions);
        for (Fuel fuel : KNOWN) {
            if (fuel.fractions.equals(fractions)) {
                return fuel;
            }
        }
        StringJoiner name = new StringJoiner(", ");
        for (Map.Entry<Hydrocarbon, Double> share : fractions.entrySet()) {
            BigDecimal percent =
                    new BigDecimal(100 * share.getValue()).round(NAMED_DIGITS).stripTrailingZeros();
            name.add(share.getKey().id() + " " + percent.toPlainString() + " %");
        }
        return new Fuel(name.toString(), fractions);
    }

    private static Map<Hydrocarbon, Double> wholeOf(String name, Map<Hydrocarbon, Double> volumeFractions) {
        double sum = 0;
        for (Map.Entry<Hydrocarbon, Double> share : volumeFractions.entrySet()) {
            if (!(share.getValue() >= 0 && share.getValue() <= 1)) {
                throw new IllegalArgumentException("fuel " + name + ": volume fraction of "
                        + share.getKey().id() + " is " + share.getValue() + ": allowed are 0 to 1");
            }
            sum += share.getValue();
        }
        if (!(Math.abs(sum - 1) <= SUM_TOLERANCE)) {
            throw new IllegalArgumentException(
                    "fuel " + name + ": volume fractions add up to " + sum + ": they must add up to 1");
        }
        double whole = Math.abs(sum - 1) <= SUM_ROUNDING ? 1 : sum;
        EnumMap<Hydrocarbon, Double> fractions = new EnumMap<>(Hydrocarbon.class);
        for (Map.Entry<Hydrocarbon, Double> share : volumeFractions.entrySet()) {
            if (share.getValue() > 0) {
                fractions.put(share.getKey(), share.getValue() / whole);
            }
        }
        return fractions;
    }

    /** The fuels that need no description, in the order in which they should be offered. */
    public static List<Fuel> known() {
        return KNOWN;
    }

    /** The known fuel of that name. */
    public static Optional<Fuel> ofName(String name) {
        return KNOWN.stream().filter(fuel -> fuel.name.equals(name)).findFirst();
    }

    /** Name, such as {@code propane}. */
    public String name() {
        return name;
    }

    /** Volume fraction of each gas that is present; together 1. */
    public Map<Hydrocarbon, Double> fractions() {
        return fractions;
    }

    /** What the jet sees. */
    public JetGas jetGas() {
        return jetGas;
    }

    /** Mean molar mass, kg/mol. */
    public double molarMassKgPerMol() {
        return jetGas.molarMassKgPerMol();
    }

    /** Carbon atoms in the mean molecule. */
    public double carbon() {
        return carbon;
    }

    /** Hydrogen atoms in the mean molecule. */
    public double hydrogen() {
        return hydrogen;
    }

    /** Enthalpy of formation of the mean molecule at 298.15 K, J/mol. */
    public double formationJPerMol() {
        return formationJPerMol;
    }

    /** Heat of burning at 25 °C with the water as vapour, J/kg. */
    public double lowerHeatingValueJPerKg() {
        return lowerHeatingValueJPerKg;
    }

    /** Heat of burning at 25 °C with the water condensed, J/kg. */
    public double higherHeatingValueJPerKg() {
        return higherHeatingValueJPerKg;
    }

    /** Density over that of air at the same temperature and pressure. */
    public double relativeDensity() {
        return molarMassKgPerMol() / AIR_KG_PER_MOL;
    }

    /** Volumes of dry air that burn one volume of gas completely and leave no oxygen. */
    public double stoichiometricAirVolumes() {
        return (carbon + hydrogen / 4) / OXYGEN_IN_AIR;
    }

    /** Mass of dry air that burns one mass of gas completely and leaves no oxygen, kg/kg. */
    public double stoichiometricAirKgPerKg() {
        return stoichiometricAirVolumes() * AIR_KG_PER_MOL / molarMassKgPerMol();
    }

    /** Least volume fraction in air that burns, by Le Chatelier's rule for mixtures. */
    public double lowerFlammableFraction() {
        double sum = 0;
        for (Map.Entry<Hydrocarbon, Double> share : fractions.entrySet()) {
            sum += share.getValue() / share.getKey().lowerFlammableFraction();
        }
        return 1 / sum;
    }

    /** Greatest volume fraction in air that burns, by Le Chatelier's rule for mixtures, which is rougher here. */
    public double upperFlammableFraction() {
        double sum = 0;
        for (Map.Entry<Hydrocarbon, Double> share : fractions.entrySet()) {
            sum += share.getValue() / share.getKey().upperFlammableFraction();
        }
        return 1 / sum;
    }

    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof Fuel that && name.equals(that.name) && fractions.equals(that.fractions);
    }

    @Override
    public int hashCode() {
        return Objects.hash(name, fractions);
    }

    @Override
    public String toString() {
        return name + " " + fractions;
    }
}
