package org.bankfire.analysis.gas;

import java.util.List;
import java.util.Optional;

/**
 * A fuel gas as the jet and the ledger see it.
 *
 * @param name such as {@code propane}
 * @param molarMassKgPerMol kg/mol, 0.001 to 0.2
 * @param heatCapacityRatio cp/cv near 15 °C, above 1 to 5/3
 * @param lowerHeatingValueJPerKg water as vapour, J/kg at 25 °C, 1 to 130 MJ/kg
 */
public record Fuel(String name, double molarMassKgPerMol, double heatCapacityRatio, double lowerHeatingValueJPerKg) {
    /**
     * C3H8. Molar mass from the IUPAC atomic weights; cp/cv at 15 °C and the heating value from the polynomials of NASA
     * TM-4513 (heating value with the products at 25 °C; printed elsewhere as 46.33 to 46.36 MJ/kg).
     */
    public static final Fuel PROPANE = new Fuel("propane", 0.0440956, 1.131, 46.334e6);
    /** n-C4H10. Sources as for {@link #PROPANE}; printed elsewhere as 45.72 to 45.75 MJ/kg. */
    public static final Fuel BUTANE = new Fuel("butane", 0.0581222, 1.095, 45.720e6);
    /** CH4, which stands for natural gas. Sources as for {@link #PROPANE}; printed elsewhere as 50.0 to 50.05 MJ/kg. */
    public static final Fuel METHANE = new Fuel("methane", 0.0160425, 1.308, 50.027e6);

    private static final List<Fuel> KNOWN = List.of(PROPANE, BUTANE, METHANE);

    public Fuel {
        if (!(molarMassKgPerMol >= 0.001 && molarMassKgPerMol <= 0.2)) {
            throw new IllegalArgumentException(
                    "fuel " + name + ": molar mass " + molarMassKgPerMol + " kg/mol; allowed are 0.001 to 0.2");
        }
        if (!(heatCapacityRatio > 1 && heatCapacityRatio <= 5.0 / 3.0)) {
            throw new IllegalArgumentException("fuel " + name + ": heat capacity ratio " + heatCapacityRatio
                    + "; allowed are above 1 to 5/3, that of a monatomic gas");
        }
        if (!(lowerHeatingValueJPerKg >= 1e6 && lowerHeatingValueJPerKg <= 130e6)) {
            throw new IllegalArgumentException("fuel " + name + ": lower heating value " + lowerHeatingValueJPerKg
                    + " J/kg; allowed are 1e6 to 130e6, beyond hydrogen's");
        }
    }

    /** The fuels that need no description, in the order in which they should be offered. */
    public static List<Fuel> known() {
        return KNOWN;
    }

    /** The known fuel of that name. */
    public static Optional<Fuel> ofName(String name) {
        for (Fuel fuel : KNOWN) {
            if (fuel.name.equals(name)) {
                return Optional.of(fuel);
            }
        }
        return Optional.empty();
    }
}
