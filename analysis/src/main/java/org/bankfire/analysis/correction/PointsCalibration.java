package org.bankfire.analysis.correction;

/**
 * A straight line through two points for a channel whose values are already linear, such as an ice point and a boiling
 * point.
 *
 * @param channel its name
 * @param read1 what the source reported at the first point, in the channel's corrected unit
 * @param true1 what was true there
 * @param read2 what the source reported at the second point, not {@code read1}
 * @param true2 what was true there, not {@code true1}
 * @param standardUncertainty of the reported values, in that unit; NaN when not known
 */
public record PointsCalibration(
        String channel, double read1, double true1, double read2, double true2, double standardUncertainty)
        implements ChannelCalibration {
    // Beyond any quantity measured here, and safe from overflow in the straight line.
    private static final double LARGEST = 1e12;

    public PointsCalibration {
        Checks checks = new Checks(channel);
        checks.within("first point read", read1, -LARGEST, LARGEST, "");
        checks.within("first point true", true1, -LARGEST, LARGEST, "");
        checks.within("second point read", read2, -LARGEST, LARGEST, "");
        checks.within("second point true", true2, -LARGEST, LARGEST, "");
        checks.differ("second point read", read2, "the first", read1);
        checks.differ("second point true", true2, "the first", true1);
        checks.withinOrUnknown("uncertainty", standardUncertainty, 0, LARGEST, "");
    }

    /** What was true when {@code read} was reported. */
    double correct(double read) {
        return true1 + (read - read1) * slope();
    }

    double slope() {
        return (true2 - true1) / (read2 - read1);
    }
}
