package org.bankfire.analysis.correction;

import org.jspecify.annotations.Nullable;

/** Everything said of one channel: what its sensor is, and a straight line after that. */
record Calibrations(
        @Nullable ThermocoupleCalibration thermocouple,
        @Nullable PressureCalibration pressure,
        @Nullable PointsCalibration points) {
    static final Calibrations NONE = new Calibrations(null, null, null);

    /** These and one more. */
    Calibrations with(ChannelCalibration calibration) {
        Calibrations sum;
        boolean twice;
        if (calibration instanceof ThermocoupleCalibration more) {
            twice = thermocouple != null || pressure != null;
            sum = new Calibrations(more, pressure, points);
        } else if (calibration instanceof PressureCalibration more) {
            twice = thermocouple != null || pressure != null;
            sum = new Calibrations(thermocouple, more, points);
        } else {
            twice = points != null;
            sum = new Calibrations(thermocouple, pressure, (PointsCalibration) calibration);
        }
        if (twice) {
            throw new IllegalArgumentException("channel " + calibration.channel()
                    + " is calibrated twice; allowed are one sensor and one line through two points");
        }
        return sum;
    }
}
