package org.bankfire.analysis.trial;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Two trials against each other.
 *
 * @param from the first
 * @param to the second; differences are of this one against the first
 * @param changed names of the settings in which they differ
 * @param about the figure that the verdict is about; null when no figure is told by both
 * @param verdict on that figure
 * @param sentence the verdict in words, with figures
 * @param differences of every figure
 */
public record TrialComparison(
        Trial from,
        Trial to,
        List<String> changed,
        @Nullable FigureKey about,
        Verdict verdict,
        String sentence,
        List<Difference> differences) {
    public TrialComparison {
        changed = List.copyOf(changed);
        differences = List.copyOf(differences);
    }

    /**
     * A difference of a figure, at common conditions, as the reader has it: K, or %.
     *
     * @param key which figure
     * @param value of the second trial less the first, or against it; NaN when it cannot be told
     * @param low95 of its 95 % interval by itself
     * @param high95 of it
     * @param p two-sided chance of such a difference when nothing has changed
     * @param pTogether the same with all figures of the comparison in view
     * @param verdict judged by {@code pTogether}
     * @param scatter what it was judged with; null when it cannot be told
     * @param correctedFrom mean corrections of the first trial, in K or %; null where nothing was corrected
     * @param correctedTo of the second
     * @param evidence in a sentence
     * @param would what would tell; empty when it is told
     */
    public record Difference(
            FigureKey key,
            double value,
            double low95,
            double high95,
            double p,
            double pTogether,
            Verdict verdict,
            @Nullable Scatter scatter,
            @Nullable Correction correctedFrom,
            @Nullable Correction correctedTo,
            String evidence,
            String would) {
        /** Whether there is a difference to judge. */
        public boolean isTold() {
            return !Double.isNaN(value);
        }
    }

    /**
     * What a difference was judged with.
     *
     * @param source of the scatter from burn to burn
     * @param value standard deviation of one burn, K or %
     * @param degreesOfFreedom of the difference
     * @param modelAndSensors standard uncertainty of the difference by corrections and jets, K or %
     */
    public record Scatter(ScatterSource source, double value, double degreesOfFreedom, double modelAndSensors) {}
}
