package org.bankfire.analysis.correction;

/**
 * A straight line through two points for a channel whose values are already linear, such as an ice point and a boiling
 * point.
 *
 * @param channel its name
 * @param read1 what the source reported at the first point, in the channel's corrected unit
 * @param true1 what was true there
 * @param read2 what the source reported at the second point, not {@code read1}
 * @param true2 what was true there
 * @param standardUncertainty of the reported values, in that unit; NaN when not known
 */
public record PointsCalibration(
        String channel, double read1, double true1, double read2, double true2, double standardUncertainty)
        implements ChannelCalibration {
    public PointsCalibration {
        if (!(Math.abs(read2 - read1) > 0) || !Double.isFinite(true1) || !Double.isFinite(true2) || true1 == true2) {
            throw new IllegalArgumentException("calibration of " + channel + ": the two points must differ");
        }
    }
}
