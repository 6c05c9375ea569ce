package org.bankfire.analysis.prediction;

import java.util.List;
import java.util.function.ToDoubleFunction;
import org.bankfire.analysis.prediction.Prediction.Drawn;

/**
 * What a change of a forge is expected to change: figures of the changed one less those of today's, member by member, so
 * that what is not known of both alike cancels. NaN where one of them does not get there.
 *
 * @param timeToTargetS s
 * @param steadyK K
 * @param shellK K
 * @param lossWPerK W/K
 * @param soakedPa pressure that holds the target, Pa
 * @param soakedKgPerHour gas at that pressure
 */
public record PredictedChange(
        Band timeToTargetS, Band steadyK, Band shellK, Band lossWPerK, Band soakedPa, Band soakedKgPerHour) {
    /**
     * From one prediction to the other.
     *
     * @throws IllegalArgumentException when their bands are not of the same members
     */
    public static PredictedChange between(Prediction today, Prediction changed) {
        if (today.drawn().size() != changed.drawn().size()) {
            throw new IllegalArgumentException(
                    today.drawn().size() + " members against " + changed.drawn().size());
        }
        return new PredictedChange(
                band(today.timeToTargetS(), changed.timeToTargetS(), today, changed, Drawn::timeToTargetS),
                band(today.steadyK(), changed.steadyK(), today, changed, Drawn::steadyK),
                band(today.shellK(), changed.shellK(), today, changed, Drawn::shellK),
                band(today.lossWPerK(), changed.lossWPerK(), today, changed, Drawn::lossWPerK),
                band(today.idle().soakedPa(), changed.idle().soakedPa(), today, changed, Drawn::soakedPa),
                band(
                        today.idle().soakedKgPerHour(),
                        changed.idle().soakedKgPerHour(),
                        today,
                        changed,
                        Drawn::soakedKgPerHour));
    }

    private static Band band(Band was, Band is, Prediction today, Prediction changed, ToDoubleFunction<Drawn> figure) {
        List<Drawn> before = today.drawn();
        List<Drawn> after = changed.drawn();
        double[] differences = new double[before.size()];
        int known = 0;
        for (int i = 0; i < differences.length; i++) {
            double difference = figure.applyAsDouble(after.get(i)) - figure.applyAsDouble(before.get(i));
            if (Double.isFinite(difference)) {
                differences[known++] = difference;
            }
        }
        double value = is.value() - was.value();
        // A member that gets there on one side only has no difference, and the band would leave it out.
        return known < differences.length || known == 0
                ? new Band(value, Double.NaN, Double.NaN)
                : Band.of(value, differences);
    }

    /** Whether a difference is beyond what is not known: its interval leaves out nothing at all. */
    public static boolean isBeyondDoubt(Band difference) {
        return difference.low95() > 0 || difference.high95() < 0;
    }
}
