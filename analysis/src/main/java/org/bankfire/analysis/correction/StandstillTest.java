package org.bankfire.analysis.correction;

/**
 * Tells a hot thermocouple whose raw value has not changed by a digit for longer than a fire allows. It speaks only once
 * the source has been seen to report in fine steps: a coarse one may stand still for good reasons.
 */
final class StandstillTest {
    private static final double MICROS_PER_SECOND = 1e6;
    // Readings further apart than this say nothing of what lay between them.
    private static final double LONGEST_GAP_S = 60;

    private final CorrectionSettings settings;
    private double lastRaw = Double.NaN;
    private double lastCelsius = Double.NaN;
    private long lastMicros;
    private long sinceMicros;
    private double finestStepK = Double.POSITIVE_INFINITY;

    StandstillTest(CorrectionSettings settings) {
        this.settings = settings;
    }

    /** Takes the next reading, as it came and as temperature, and says whether the sensor is stuck. */
    boolean isStuck(double raw, double celsius, long micros) {
        double gapS = (micros - lastMicros) / MICROS_PER_SECOND;
        if (raw != lastRaw) {
            double stepK = Math.abs(celsius - lastCelsius);
            if (stepK > 0) {
                finestStepK = Math.min(finestStepK, stepK);
            }
            sinceMicros = micros;
        } else if (gapS < 0 || gapS > LONGEST_GAP_S) {
            sinceMicros = micros;
        }
        lastRaw = raw;
        lastCelsius = celsius;
        lastMicros = micros;
        return finestStepK <= settings.stuckResolutionK()
                && celsius >= settings.stuckAboveC()
                && (micros - sinceMicros) / MICROS_PER_SECOND >= settings.stuckAfterS();
    }
}
