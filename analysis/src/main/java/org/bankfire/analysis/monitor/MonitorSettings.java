package org.bankfire.analysis.monitor;

import org.bankfire.analysis.flame.FlameTest;
import org.bankfire.analysis.steady.SteadyTest;

/**
 * Limits and times that the monitor watches. All of them are the user's to set; {@link #defaults()} says where the
 * defaults come from.
 *
 * @param targetC forging temperature that the user works at, °C
 * @param chamberHighC the user's working limit, °C
 * @param chamberLimitC what the weakest hot-face layer can take, °C
 * @param shellLimitC highest temperature of the outside of the frame, °C
 * @param gasLimitPa highest gauge pressure that regulator and hose are made for, Pa
 * @param gasOnPa gauge pressure from which gas is taken to flow, Pa
 * @param noDataAfterS silence after which a source is taken to be lost, s
 * @param lightingTimeS time after gas on in which the chamber must begin to heat, s
 * @param temperatureDeadbandK how far a temperature must fall below its limit to clear the alarm, K
 * @param gasPricePerKg in the user's currency per kg; NaN when not told
 * @param ratedStockShare surface of the most cold stock that is put in at once over the chamber's inner surface, 0 to 0.5
 * @param steadyBandKPerS slopes of the chamber temperature within ± this are called steady, K/s
 * @param conditions what is told of cylinder, first firing and wire
 */
public record MonitorSettings(
        double targetC,
        double chamberHighC,
        double chamberLimitC,
        double shellLimitC,
        double gasLimitPa,
        double gasOnPa,
        double noDataAfterS,
        double lightingTimeS,
        double temperatureDeadbandK,
        double gasPricePerKg,
        double ratedStockShare,
        double steadyBandKPerS,
        ConditionSettings conditions) {
    private static final double S_PER_MIN = 60;

    /** Settings of a forge with the usual stock, of whose cylinder, first firing and wire nothing is told. */
    public MonitorSettings(
            double targetC,
            double chamberHighC,
            double chamberLimitC,
            double shellLimitC,
            double gasLimitPa,
            double gasOnPa,
            double noDataAfterS,
            double lightingTimeS,
            double temperatureDeadbandK,
            double gasPricePerKg) {
        this(
                targetC,
                chamberHighC,
                chamberLimitC,
                shellLimitC,
                gasLimitPa,
                gasOnPa,
                noDataAfterS,
                lightingTimeS,
                temperatureDeadbandK,
                gasPricePerKg,
                FlameTest.USUAL_RATED_STOCK,
                SteadyTest.USUAL_BAND_K_PER_MIN / S_PER_MIN,
                ConditionSettings.NONE);
    }

    /**
     * A forge at 1150 °C with a lining good for 1260 °C. Shell 250 °C, gas limit 4 bar, gas-on 1 kPa and silence of 3 s
     * are common practice, no source. Lighting time 13.5 s: with the readings' own delay the alarm stands within
     * the 15 s of a trial for ignition of NFPA 86 (from memory). Deadband 1 % of range: start
     * value of ISA-18.2 for temperatures.
     */
    public static MonitorSettings defaults() {
        return new MonitorSettings(1150, 1240, 1260, 250, 4e5, 1e3, 3, 13.5, 12, Double.NaN);
    }

    /** These settings with other conditions. */
    public MonitorSettings with(ConditionSettings others) {
        return with(ratedStockShare, steadyBandKPerS, others);
    }

    /** These settings with another rated stock. */
    public MonitorSettings withRatedStock(double share) {
        return with(share, steadyBandKPerS, conditions);
    }

    /** These settings with another steady band, K/s. */
    public MonitorSettings withSteadyBand(double kPerS) {
        return with(ratedStockShare, kPerS, conditions);
    }

    private MonitorSettings with(double share, double band, ConditionSettings others) {
        return new MonitorSettings(
                targetC,
                chamberHighC,
                chamberLimitC,
                shellLimitC,
                gasLimitPa,
                gasOnPa,
                noDataAfterS,
                lightingTimeS,
                temperatureDeadbandK,
                gasPricePerKg,
                share,
                band,
                others);
    }
}
