package org.bankfire.analysis.correction;

import org.bankfire.analysis.reading.Quality;

/**
 * What one reading says of its channel, in the channel's unit.
 *
 * @param value NaN exactly when the quality is bad
 * @param standardUncertainty coverage factor 1; NaN when not known
 * @param quality whether it can be trusted
 */
record Estimate(double value, double standardUncertainty, Quality quality) {
    static Estimate of(double value, double standardUncertainty, Quality quality) {
        if (!Double.isFinite(value)) {
            return fault(Quality.RANGE);
        }
        // A number too large to add up is an uncertainty that is not known.
        return new Estimate(value, Double.isInfinite(standardUncertainty) ? Double.NaN : standardUncertainty, quality);
    }

    static Estimate fault(Quality quality) {
        return new Estimate(Double.NaN, Double.NaN, quality);
    }

    boolean isBad() {
        return quality.isBad();
    }
}
