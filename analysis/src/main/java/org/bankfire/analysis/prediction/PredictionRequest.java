package org.bankfire.analysis.prediction;

import org.bankfire.analysis.heat.Bar;
import org.bankfire.analysis.quantity.Range;
import org.jspecify.annotations.Nullable;

/**
 * What shall be predicted beside the forge itself.
 *
 * @param programme gas pressure; lit as soon as it is above 0
 * @param durationS s, 60 s to a week
 * @param plugIn whether the plug is in
 * @param members how many forges drawn from the priors make the band, 0 (no band) or 20 to 2,000
 * @param bar a cold bar that is put in, or null
 * @param barInS when, s, 0 or more; anything without a bar
 */
public record PredictionRequest(
        GasProgramme programme,
        double durationS,
        boolean plugIn,
        int members,
        @Nullable Bar bar,
        double barInS) {
    /** Durations, s. */
    public static final Range DURATION_S = new Range(60, GasProgramme.LONGEST_S);
    /** Enough that the ends of a band of 95 % rest on three members each. */
    public static final int DEFAULT_MEMBERS = 128;

    private static final int FEWEST_MEMBERS = 20;
    private static final int MOST_MEMBERS = 2000;

    public PredictionRequest {
        DURATION_S.require("duration in s", durationS);
        if (members != 0 && (members < FEWEST_MEMBERS || members > MOST_MEMBERS)) {
            throw new IllegalArgumentException("members of the band are " + members + ": allowed are 0 and "
                    + FEWEST_MEMBERS + " to " + MOST_MEMBERS);
        }
        if (bar != null && !(barInS >= 0 && barInS < durationS)) {
            throw new IllegalArgumentException(
                    "the bar goes in at " + barInS + " s: allowed are 0 to the duration, " + durationS + " s");
        }
    }

    /** A heat-up under one programme, plug in, with the usual band and no bar. */
    public static PredictionRequest heatUp(GasProgramme programme, double durationS) {
        return new PredictionRequest(programme, durationS, true, DEFAULT_MEMBERS, null, 0);
    }
}
