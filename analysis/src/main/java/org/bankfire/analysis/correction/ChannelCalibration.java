package org.bankfire.analysis.correction;

/** What the user says of one channel's sensor; a channel without one takes the defaults of its wire name. */
public sealed interface ChannelCalibration permits ThermocoupleCalibration, PressureCalibration, PointsCalibration {
    /** The corrected channel's name, such as {@code chamber}. */
    String channel();
}
