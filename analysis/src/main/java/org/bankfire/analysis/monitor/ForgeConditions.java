package org.bankfire.analysis.monitor;

import org.bankfire.analysis.gas.MinutesLeft;

/**
 * How the conditions stand that need more than one reading to be judged. NaN stands for what is not known.
 *
 * @param gasLeft minutes until the sagging gas is down to {@code gasLeftToPa}; unknown while it does not sag
 * @param gasLeftToPa pressure that they lead to, Pa gauge
 * @param pressureFlutter flutter of the gas pressure over the pressure, root mean square over a minute, 1
 * @param pressureFlutterBaseline what is usual with these settings, 1
 * @param temperatureFlutterK flutter of the chamber temperature, root mean square over a minute, K
 * @param temperatureFlutterBaselineK what is usual with these settings, K
 * @param firstFireStep step of the first firing that is in progress, from 1; 0 when none is watched
 * @param firstFireHeldS how long its temperature has been held, s
 * @param predictedShellC shell temperature predicted from the chamber's, °C
 * @param predictedShellStandardUncertaintyK of it, K
 * @param wireHours hours of the chamber thermocouple above the temperature suggested for it, over all burns, h
 * @param wireLimitC that temperature, °C
 */
public record ForgeConditions(
        MinutesLeft gasLeft,
        double gasLeftToPa,
        double pressureFlutter,
        double pressureFlutterBaseline,
        double temperatureFlutterK,
        double temperatureFlutterBaselineK,
        int firstFireStep,
        double firstFireHeldS,
        double predictedShellC,
        double predictedShellStandardUncertaintyK,
        double wireHours,
        double wireLimitC) {
    /** Nothing is known. */
    public static final ForgeConditions UNKNOWN = new ForgeConditions(
            MinutesLeft.UNKNOWN,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            0,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            Double.NaN);
}
