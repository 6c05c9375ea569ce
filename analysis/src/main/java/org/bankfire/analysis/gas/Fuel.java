package org.bankfire.analysis.gas;

/**
 * A fuel gas as the jet and the ledger see it.
 *
 * @param name such as {@code propane}
 * @param molarMassKgPerMol kg/mol
 * @param heatCapacityRatio cp/cv near 15 °C, 1
 * @param lowerHeatingValueJPerKg water as vapour, J/kg at 25 °C
 */
public record Fuel(String name, double molarMassKgPerMol, double heatCapacityRatio, double lowerHeatingValueJPerKg) {}
