package org.bankfire.analysis.prediction;

import java.util.Arrays;

/**
 * A figure with its interval.
 *
 * @param value with the parameters as described; NaN when the forge does not get there
 * @param low95 2.5 % of the members lie below; NaN without a band; −∞ never
 * @param high95 2.5 % lie above; infinite when that many do not get there
 */
public record Band(double value, double low95, double high95) {
    /**
     * Takes the interval from members; those that are NaN count as infinite.
     *
     * @param value as described
     * @param members of the band, sorted in place; none for no band
     */
    public static Band of(double value, double[] members) {
        if (members.length == 0) {
            return new Band(value, Double.NaN, Double.NaN);
        }
        for (int i = 0; i < members.length; i++) {
            members[i] = Double.isNaN(members[i]) ? Double.POSITIVE_INFINITY : members[i];
        }
        Arrays.sort(members);
        return new Band(value, quantile(members, 0.025), quantile(members, 0.975));
    }

    /** Linear between order statistics, type 7 of Hyndman and Fan (1996). */
    static double quantile(double[] sorted, double share) {
        double place = share * (sorted.length - 1);
        int below = (int) place;
        if (below + 1 >= sorted.length) {
            return sorted[below];
        }
        double part = place - below;
        // Two infinities have no difference, and infinity times nothing is not a number.
        return part == 0 || sorted[below] == sorted[below + 1]
                ? sorted[below]
                : sorted[below] + part * (sorted[below + 1] - sorted[below]);
    }
}
