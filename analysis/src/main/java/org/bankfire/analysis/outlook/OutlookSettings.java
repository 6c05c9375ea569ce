package org.bankfire.analysis.outlook;

import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.prediction.GasProgramme;
import org.bankfire.analysis.quantity.Range;

/**
 * What the user wants of an outlook.
 *
 * @param targetK temperature to hold, K, 573 to 1,873
 * @param steadyKPerMin slope below which the chamber counts as steady, K/min, 0.1 to 20
 * @param lowestStablePa lowest pressure at which the burner burns stably, Pa gauge; NaN when not marked
 * @param highestStablePa highest one, above the lowest, Pa gauge; NaN when not marked
 * @param workingPa pressure of a full burn, Pa gauge; NaN for that of the burn so far
 * @param pricePerKg of gas, in the user's currency; NaN when not told
 * @param pauseS expected pause, s, 60 s to 12 h
 */
public record OutlookSettings(
        double targetK,
        double steadyKPerMin,
        double lowestStablePa,
        double highestStablePa,
        double workingPa,
        double pricePerKg,
        double pauseS) {
    /** Steady bands, K/min: below, a noisy thermocouple never is; above, nothing is ever unsteady. */
    public static final Range STEADY_K_PER_MIN = new Range(0.1, 20);
    /** Pauses, s: shorter ones nobody turns the gas off for, after longer ones the forge is cold. */
    public static final Range PAUSE_S = new Range(60, 12 * 3600);
    /** The steady band unless told otherwise, K/min. Common practice, no source. */
    public static final double USUAL_STEADY_K_PER_MIN = 1;
    /** The pause unless told otherwise, s: to drink a coffee. */
    public static final double USUAL_PAUSE_S = 20 * 60;

    public OutlookSettings {
        ForgeDescription.TARGET_K.require("target in K", targetK);
        STEADY_K_PER_MIN.require("steady band in K/min", steadyKPerMin);
        requireOrNaN(GasProgramme.GAUGE_PA, "lowest stable pressure in Pa", lowestStablePa);
        requireOrNaN(GasProgramme.GAUGE_PA, "highest stable pressure in Pa", highestStablePa);
        requireOrNaN(Burner.HEAT_UP_PA, "working pressure in Pa", workingPa);
        PAUSE_S.require("pause in s", pauseS);
        if (lowestStablePa >= highestStablePa) {
            throw new IllegalArgumentException("the lowest stable pressure, " + lowestStablePa
                    + " Pa, must be below the highest, " + highestStablePa + " Pa");
        }
        if (pricePerKg < 0 || Double.isInfinite(pricePerKg)) {
            throw new IllegalArgumentException("price of a kilogram is " + pricePerKg + ": it must be 0 or more");
        }
    }

    /** The forge's own target, no limits marked, no price, the usual pause. */
    public static OutlookSettings of(ForgeDescription forge) {
        return new OutlookSettings(
                forge.targetK(), USUAL_STEADY_K_PER_MIN, Double.NaN, Double.NaN, Double.NaN, Double.NaN, USUAL_PAUSE_S);
    }

    /** The same with limits of stable burning, Pa gauge; NaN for none. */
    public OutlookSettings withLimits(double lowestPa, double highestPa) {
        return new OutlookSettings(targetK, steadyKPerMin, lowestPa, highestPa, workingPa, pricePerKg, pauseS);
    }

    /** The same with a price of gas; NaN for none. */
    public OutlookSettings withPrice(double perKg) {
        return new OutlookSettings(targetK, steadyKPerMin, lowestStablePa, highestStablePa, workingPa, perKg, pauseS);
    }

    /** The same with another steady band, K/min. */
    public OutlookSettings withSteadyBand(double kPerMin) {
        return new OutlookSettings(targetK, kPerMin, lowestStablePa, highestStablePa, workingPa, pricePerKg, pauseS);
    }

    /** The same with an expected pause, s. */
    public OutlookSettings withPause(double seconds) {
        return new OutlookSettings(
                targetK, steadyKPerMin, lowestStablePa, highestStablePa, workingPa, pricePerKg, seconds);
    }

    /** The same with another target, K. */
    public OutlookSettings withTarget(double kelvin) {
        return new OutlookSettings(
                kelvin, steadyKPerMin, lowestStablePa, highestStablePa, workingPa, pricePerKg, pauseS);
    }

    private static void requireOrNaN(Range range, String what, double value) {
        if (!Double.isNaN(value)) {
            range.require(what, value);
        }
    }
}
