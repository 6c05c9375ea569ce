package org.bankfire.analysis.combustion;

import org.bankfire.analysis.gas.Atmosphere;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.quantity.Range;

/**
 * Carbon monoxide in the flue gas, for a caution: the greater of what a rich mixture leaves unburnt ({@link FlueGas}) and of
 * what equilibrium holds at the chamber's temperature and sea level ({@link Equilibrium}).
 *
 * <p>It is the least to be expected. Gas and air that are not mixed well, a flame that strikes something cold, and flames
 * that reach out of an opening leave more, however lean the mixture is on the whole; and no figure of the flue says what gathers
 * in the room. A CO alarm does.
 *
 * @param wetPpm of the gas as it leaves, 1e-6 by volume
 * @param dryPpm of the gas without its water, as flue gas analysers have it, 1e-6 by volume
 */
public record CarbonMonoxide(double wetPpm, double dryPpm) {
    /** Temperatures of the chamber, K. */
    public static final Range CHAMBER_K = new Range(500, 3000);

    private static final double PPM = 1e6;

    /**
     * In the flue gas of a chamber.
     *
     * @param fuel what burns
     * @param mixture λ, air over stoichiometric air, 0.4 to 5
     * @param chamberTemperatureK 500 to 3000 K
     * @throws IllegalArgumentException naming the argument, its value and its range
     */
    public static CarbonMonoxide of(Fuel fuel, double mixture, double chamberTemperatureK) {
        CHAMBER_K.require("temperature of the chamber, K,", chamberTemperatureK);
        FlueGas gas = FlueGas.of(fuel, mixture);
        Equilibrium equilibrium = Equilibrium.of(fuel, mixture, chamberTemperatureK, Atmosphere.SEA_LEVEL_PA);
        double unburnt = gas.carbonMonoxideFraction(chamberTemperatureK);
        double dissociated = equilibrium.fraction(Species.CARBON_MONOXIDE);
        double wet = Math.max(unburnt, dissociated);
        double water = unburnt > dissociated ? gas.waterFraction() : equilibrium.fraction(Species.WATER);
        return new CarbonMonoxide(PPM * wet, PPM * wet / (1 - water));
    }
}
