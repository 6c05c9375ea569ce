package org.bankfire.analysis.correction;

/**
 * What the measurement chain takes for implausible.
 *
 * @param coldJunctionMaxAgeS how far in time a cold junction may lie from the reading that it serves, s, above 0
 * @param coldJunctionMinC lowest cold junction of a working amplifier, °C
 * @param coldJunctionMaxC highest cold junction of a working amplifier, °C
 * @param jumpFloorK a temperature may always move as far as this from one reading to the next, K, above 0
 * @param jumpRateKPerS and in addition as fast as this, K/s, above 0
 * @param stuckAfterS a hot thermocouple that reports exactly one value for as long as this is stuck, s; infinite never
 * @param stuckAboveC how hot it must be for that, °C: cold, a good sensor stands still
 * @param stuckResolutionK and how fine its steps must have been seen to be, K: a coarse one stands still as well
 */
public record CorrectionSettings(
        double coldJunctionMaxAgeS,
        double coldJunctionMinC,
        double coldJunctionMaxC,
        double jumpFloorK,
        double jumpRateKPerS,
        double stuckAfterS,
        double stuckAboveC,
        double stuckResolutionK) {
    // A probe moves at most at (flame − probe) / lag; no gas-air flame is further from a cold probe than this.
    private static final double FLAME_ABOVE_PROBE_K = 2_000;
    // The probe may be faster than its description says.
    private static final double MARGIN = 2;

    public CorrectionSettings {
        Checks checks = new Checks("all channels");
        checks.within("cold junction age", coldJunctionMaxAgeS, 0.001, 3600, "s");
        checks.within("lowest cold junction", coldJunctionMinC, -100, 25, "°C");
        checks.within("highest cold junction", coldJunctionMaxC, 25, 200, "°C");
        checks.within("jump floor", jumpFloorK, 1, 2000, "K");
        checks.within("jump rate", jumpRateKPerS, 1, 1e6, "K/s");
        checks.within("stuck time", stuckAfterS, 10, Double.POSITIVE_INFINITY, "s");
        checks.within("stuck temperature", stuckAboveC, -200, 1372, "°C");
        checks.within("stuck resolution", stuckResolutionK, 0, 100, "K");
    }

    /**
     * Cold junction −40…125 °C: the operating range of amplifier chips (MAX31855, MAX31856 data sheets). A probe of 4 s
     * lag, allowed to be twice as fast. Age 30 s, floor 25 K, and stuck after 10 minutes above 300 °C with steps of 0.5 K or less are common practice,
     * no source: a flame flickers by more than that.
     */
    public static CorrectionSettings defaults() {
        return forProbe(4);
    }

    /**
     * The defaults for a probe of that lag.
     *
     * @param probeLagS first-order time constant, s, above 0
     */
    public static CorrectionSettings forProbe(double probeLagS) {
        double rateKPerS = Math.max(50, MARGIN * FLAME_ABOVE_PROBE_K / probeLagS);
        return new CorrectionSettings(30, -40, 125, 25, rateKPerS, 600, 300, 0.5);
    }
}
