package org.bankfire.analysis.gas;

/**
 * What a jet sees of a gas.
 *
 * @param molarMassKgPerMol kg/mol, 0.001 to 0.2
 * @param heatCapacityRatio cp/cv near 15 °C, above 1 to 5/3
 */
public record JetGas(double molarMassKgPerMol, double heatCapacityRatio) {
    public JetGas {
        if (!(molarMassKgPerMol >= 0.001 && molarMassKgPerMol <= 0.2)) {
            throw new IllegalArgumentException("molar mass " + molarMassKgPerMol + " kg/mol; allowed are 0.001 to 0.2");
        }
        if (!(heatCapacityRatio > 1 && heatCapacityRatio <= 5.0 / 3.0)) {
            throw new IllegalArgumentException("heat capacity ratio " + heatCapacityRatio
                    + "; allowed are above 1 to 5/3, that of a monatomic gas");
        }
    }
}
