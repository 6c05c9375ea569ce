package org.bankfire.analysis.reading;

/**
 * One value of one channel at one time. Its key is channel and source time: storing twice is storing once.
 *
 * @param channel what was measured
 * @param value in {@code unit}; NaN exactly when the quality is bad and no value came with the fault
 * @param unit the unit that the value was received or corrected in; the corrected channels of {@link ChannelNames} are
 *     in Cel, Pa (gauge), kg and /
 * @param standardUncertainty of the value, in {@code unit} (kelvin for temperatures), coverage factor 1 (GUM); NaN when
 *     not known
 * @param quality whether the value can be trusted
 * @param sourceTime when it was measured, by the source's word; else when it was received
 * @param receiptTime when it reached the daemon
 */
public record Reading(
        Channel channel,
        double value,
        Unit unit,
        double standardUncertainty,
        Quality quality,
        WallTime sourceTime,
        WallTime receiptTime) {
    public Reading {
        if (!Double.isFinite(value) && !(Double.isNaN(value) && quality.isBad())) {
            throw new IllegalArgumentException(channel + ": value " + value + " with quality " + quality.code()
                    + "; allowed is a finite value, or NaN of bad quality");
        }
        if (standardUncertainty < 0 || Double.isInfinite(standardUncertainty)) {
            throw new IllegalArgumentException(
                    channel + ": standard uncertainty " + standardUncertainty + "; allowed is 0 or more, or NaN");
        }
    }

    /** A reading of good quality whose uncertainty is not known. */
    public static Reading good(Channel channel, double value, Unit unit, WallTime sourceTime, WallTime receiptTime) {
        return new Reading(channel, value, unit, Double.NaN, Quality.GOOD, sourceTime, receiptTime);
    }

    /** A fault without a value. */
    public static Reading fault(
            Channel channel, Unit unit, Quality quality, WallTime sourceTime, WallTime receiptTime) {
        return new Reading(channel, Double.NaN, unit, Double.NaN, quality, sourceTime, receiptTime);
    }

    /** The value in the coherent SI unit of its quantity: K, Pa, V, A, kg. */
    public double siValue() {
        return unit.toSi(value);
    }
}
