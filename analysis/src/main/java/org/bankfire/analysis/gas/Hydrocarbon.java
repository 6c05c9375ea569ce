package org.bankfire.analysis.gas;

import java.util.Locale;

/**
 * The gases that fuels are made of. Enthalpies of formation (298.15 K) and heat capacities (288.15 K, constant pressure)
 * follow from the polynomials of NASA TM-4513, but for propylene, which they lack: its figures are from memory of the
 * NIST-JANAF and API tables. Flammability limits in air by volume: NFPA 497-2008, propylene's from memory.
 */
public enum Hydrocarbon {
    METHANE("CH4", 1, 4, -74_599.6, 35.33, 0.05, 0.15),
    ETHANE("C2H6", 2, 6, -83_851.1, 51.33, 0.03, 0.125),
    PROPANE("C3H8", 3, 8, -104_679.4, 71.67, 0.021, 0.095),
    PROPYLENE("C3H6", 3, 6, 20_000, 62.6, 0.02, 0.111),
    BUTANE("n-C4H10", 4, 10, -125_789.3, 96.20, 0.019, 0.085),
    ISOBUTANE("i-C4H10", 4, 10, -134_989.2, 93.98, 0.018, 0.084);

    /** Of carbon, kg/mol (IUPAC conventional atomic weights, rounded as in NASA TM-4513). */
    private static final double CARBON_KG_PER_MOL = 0.012011;
    /** Of hydrogen, kg/mol. */
    private static final double HYDROGEN_KG_PER_MOL = 0.00100794;

    private final String formula;
    private final int carbon;
    private final int hydrogen;
    private final double formationJPerMol;
    private final double heatCapacityJPerMolK;
    private final double lowerFlammableFraction;
    private final double upperFlammableFraction;

    Hydrocarbon(
            String formula,
            int carbon,
            int hydrogen,
            double formationJPerMol,
            double heatCapacityJPerMolK,
            double lowerFlammableFraction,
            double upperFlammableFraction) {
        this.formula = formula;
        this.carbon = carbon;
        this.hydrogen = hydrogen;
        this.formationJPerMol = formationJPerMol;
        this.heatCapacityJPerMolK = heatCapacityJPerMolK;
        this.lowerFlammableFraction = lowerFlammableFraction;
        this.upperFlammableFraction = upperFlammableFraction;
    }

    /** Name in lower case, such as {@code propane}; {@code butane} is the straight one. */
    public String id() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** Formula, such as {@code C3H8}. */
    public String formula() {
        return formula;
    }

    /** Carbon atoms in a molecule. */
    public int carbon() {
        return carbon;
    }

    /** Hydrogen atoms in a molecule. */
    public int hydrogen() {
        return hydrogen;
    }

    /** Molar mass, kg/mol. */
    public double molarMassKgPerMol() {
        return carbon * CARBON_KG_PER_MOL + hydrogen * HYDROGEN_KG_PER_MOL;
    }

    /** Standard enthalpy of formation of the gas at 298.15 K, J/mol. */
    public double formationJPerMol() {
        return formationJPerMol;
    }

    /** Molar heat capacity at constant pressure and 288.15 K, J/(mol K). */
    public double heatCapacityJPerMolK() {
        return heatCapacityJPerMolK;
    }

    /** Least volume fraction in air that burns. */
    public double lowerFlammableFraction() {
        return lowerFlammableFraction;
    }

    /** Greatest volume fraction in air that burns. */
    public double upperFlammableFraction() {
        return upperFlammableFraction;
    }
}
