package org.bankfire.analysis.combustion;

import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.quantity.Range;

/**
 * The air that a jet of gas draws through the throat of a mixing tube, by Prigg's relation as D. Fulford gives it in
 * <i>Biogas Stove Design</i> (1996):
 *
 * <pre>  r = √s · (d_throat / d_jet − 1)</pre>
 *
 * with r in volumes of air per volume of gas and s the density of the gas relative to air. A choke or an obstruction leaves a
 * fraction f of the throat's area free: its bore then counts as d_throat · √f.
 *
 * <p>The relation is a balance of momentum between jet and mixture, in which the pressure of the gas cancels: draught and
 * mixture rise and fall together (common practice, no source: a burner that is set keeps its mixture when it is turned up or
 * down). What that leaves out:
 *
 * <ul>
 *   <li>The gas expands on its way out and leaves colder and denser, so slower for its mass. A balance of momentum with an
 *       isentropic jet gives 4 to 5 % less air per gas at 100 kPa gauge than at 5 kPa (propane at sea level), and 14 %
 *       less at 200 kPa.
 *   <li>The pressure in the chamber, chimney draught and wind, which weigh most when the gas is turned low.
 *   <li>Where the jet stands and whether it is true to the axis, the shape of the inlet, length and roughness of the tube,
 *       the area of the flame holes (Fulford: ports of 1.5 to 2.2 times the throat, from memory), and a warm tube. They set
 *       the level: take the figure for a first guess within some tens of per cent, and compare burners by its ratio.
 * </ul>
 */
public final class AtmosphericBurner {
    /** Bores of a jet, m. */
    public static final Range JET_M = new Range(1e-4, 5e-3);
    /** Bores of a throat, m. */
    public static final Range THROAT_M = new Range(1e-3, 0.2);
    /** Fractions of the throat's area that are free. */
    public static final Range FREE_THROAT = new Range(0, 1);

    private AtmosphericBurner() {}

    /**
     * Mixture that the burner draws, air from the throat only.
     *
     * @param fuel the gas
     * @param jetDiameterM bore of the jet, m, 1e-4 to 5e-3
     * @param throatDiameterM narrowest bore of the mixing tube, m, 1e-3 to 0.2, wider than the jet
     * @param freeThroatFraction area that choke and obstruction leave free, 1, 0 to 1
     * @return λ, air over stoichiometric air; 0 when the free bore is no wider than the jet; it may lie outside of what
     *     {@link FlueGas#MIXTURES} takes, and then such a burner does not burn
     * @throws IllegalArgumentException naming the argument, its value and its range
     */
    public static double mixture(Fuel fuel, double jetDiameterM, double throatDiameterM, double freeThroatFraction) {
        JET_M.require("jet bore in m", jetDiameterM);
        THROAT_M.require("throat bore in m", throatDiameterM);
        FREE_THROAT.require("free fraction of the throat's area", freeThroatFraction);
        if (throatDiameterM <= jetDiameterM) {
            throw new IllegalArgumentException(
                    "the throat must be wider than the jet: " + throatDiameterM + " m against " + jetDiameterM + " m");
        }
        double freeBoreM = throatDiameterM * Math.sqrt(freeThroatFraction);
        double airVolumes = Math.sqrt(fuel.relativeDensity()) * (freeBoreM / jetDiameterM - 1);
        return Math.max(0, airVolumes) / fuel.stoichiometricAirVolumes();
    }
}
