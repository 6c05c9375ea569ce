package org.bankfire.analysis.combustion;

import org.bankfire.analysis.gas.Fuel;

/**
 * What a chamber keeps of the heat of its gas: the lower heating value less what leaves with the flue gas, when that leaves
 * at the chamber's temperature. Walls, openings and stock live on it. It falls with the chamber's temperature nearly in a
 * straight line, and so looks like a loss through the walls in a record of temperatures alone.
 *
 * @param joulePerKg J per kg of fuel; below 0 when the gas would leave hotter than its flame can be
 * @param percentOfLower the same, % of the lower heating value
 * @param percentOfHigher the same, % of the higher heating value
 */
public record AvailableHeat(double joulePerKg, double percentOfLower, double percentOfHigher) {
    /**
     * At a temperature of the chamber, fuel and air supplied at 298.15 K.
     *
     * @param fuel what burns
     * @param mixture λ, air over stoichiometric air, 0.4 to 5
     * @param chamberTemperatureK at which the flue gas leaves, K, 250 to 3000; NaN comes of what is far outside
     * @throws IllegalArgumentException naming the mixture and its range
     */
    public static AvailableHeat of(Fuel fuel, double mixture, double chamberTemperatureK) {
        double lower = fuel.lowerHeatingValueJPerKg();
        double kept = lower - FlueGas.of(fuel, mixture).heatLeftJPerKg(chamberTemperatureK);
        return new AvailableHeat(kept, 100 * kept / lower, 100 * kept / fuel.higherHeatingValueJPerKg());
    }
}
