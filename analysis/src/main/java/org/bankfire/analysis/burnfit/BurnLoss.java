package org.bankfire.analysis.burnfit;

import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.reading.WallTime;

/**
 * The loss coefficient that one burn told of its forge.
 *
 * @param burnId the burn's id
 * @param start when it was lit
 * @param atC hot face at which it is stated, °C
 * @param wattsPerK with its 95 % interval, W/K; all above 0
 */
public record BurnLoss(String burnId, WallTime start, double atC, Band wattsPerK) {
    public BurnLoss {
        if (!isKnown(wattsPerK)) {
            throw new IllegalArgumentException(
                    "loss " + wattsPerK + " W/K of burn " + burnId + ": allowed are 0 < low95 ≤ value ≤ high95");
        }
    }

    /** Whether a loss is a figure with an interval around it. */
    public static boolean isKnown(Band wattsPerK) {
        return wattsPerK.low95() > 0
                && wattsPerK.low95() <= wattsPerK.value()
                && wattsPerK.value() <= wattsPerK.high95()
                && Double.isFinite(wattsPerK.high95());
    }
}
