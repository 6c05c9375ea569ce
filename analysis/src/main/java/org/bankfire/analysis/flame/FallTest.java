package org.bankfire.analysis.flame;

/**
 * Is what the chamber has lost, against what it should have with the measured gas, the fall of a flame-out?
 *
 * <p>For each of several horizons the residual of the {@link Heading} now is compared with its mean over the seconds before
 * the horizon. Under <i>burning</i> it has fallen no further than the rated stock, put in cold at that moment, would make it,
 * and a second, lesser disturbance beside it (a plug, an open front, a draught); under <i>not burning</i> by most of what
 * losing the flame would. The fall counts as a flame-out at the first horizon where it is more than the one and most of the
 * other. Where rated stock weighs nearly as much as the flame, that takes a longer horizon: the effect of stock flattens as
 * it gets warm, that of a flame-out goes on.
 */
final class FallTest {
    private static final double MICROS_PER_S = 1e6;
    private static final double[] HORIZONS_S = {
        1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 20, 24, 28, 32, 40, 50, 60, 80, 100, 130, 160, 190
    };
    private static final long BASELINE = 8_000_000;
    private static final int FEWEST_IN_BASELINE = 4;
    /**
     * The constants below were chosen on the flame bench (random forges of other equations, described wrong by up to 15 %),
     * for no false flame-out in some hundred hours. Part of a flame-out's fall that must be seen at 4 s, how much less at
     * each doubling of the time, and the least.
     */
    private static final double PART_AT_4_S = 0.7;

    private static final double LESS_PER_DOUBLING = 0.04;
    private static final double LEAST_PART = 0.64;
    /** What the model may understate the effect of stock by: while the lag's error matters, after it, and after minutes. */
    private static final double STOCK_MARGIN_SOON = 1.5;

    private static final double STOCK_MARGIN_LATER = 1.22;
    private static final double STOCK_MARGIN_AT_LAST = 1.08;
    private static final double AT_LAST_FROM_S = 60;
    private static final double AT_LAST_WITHIN_S = 60;
    private static final double REACTION_S = 3;
    /** A second disturbance, as a part of a flame-out's fall: a pulled plug makes 0.07 to 0.19; and how long it counts. */
    private static final double SECOND_DISTURBANCE = 0.12;

    private static final double SECOND_FADES_S = 100;
    /** Part of a change by the regulator that the model may get wrong, and the drift of its level, K/s. */
    private static final double MODEL_ERROR = 0.3;

    private static final double DRIFT_K_PER_S = 0.15;
    private static final double LEAST_FALL_K = 10;
    private static final double SIGMAS = 4;
    /** What fell less than this ago has not had time to come back, s. */
    private static final double RECENT_S = 30;
    /** Relative standard deviations of the two falls as the model gives them, for {@link #outProbability}. */
    private static final double FALL_ERROR = 0.2;

    private final Trace trace;
    private final Expectation expectation;
    private final double blurS;
    private double ratio;
    private double recentRatio;
    private double probability;
    private long onset;

    /**
     * A test.
     *
     * @param blurS how much later than it happens a change may show in the heading, s
     */
    FallTest(Trace trace, Expectation expectation, double blurS) {
        this.trace = trace;
        this.expectation = expectation;
        this.blurS = blurS;
    }

    /** The present fall over what makes it a flame-out, at the horizon where that is greatest; 1 and more is out. */
    double ratio() {
        return ratio;
    }

    /** The same over the horizons of the last half minute only. */
    double recentRatio() {
        return recentRatio;
    }

    /**
     * How likely the flame is out, 0 to 1, if a flame-out and rated stock were as likely as each other beforehand: at the
     * horizon of {@link #ratio}, a normal density about the fall of a flame-out against an even one up to the fall of rated
     * stock and a normal one about none.
     */
    double outProbability() {
        return probability;
    }

    /** Where the greatest fall began, µs. */
    long onset() {
        return onset;
    }

    /**
     * Judges how things stand at the newest of the trace.
     *
     * @param gasSeenAt when gas was last seen to flow for sure, µs
     * @param gasDoubtedAt when a pressure last said that it does not, µs: a fall that began before is the gas's doing
     * @param evidence factor on what is needed, by a witness's word
     */
    void judge(long gasSeenAt, long gasDoubtedAt, double evidence) {
        ratio = 0;
        recentRatio = 0;
        probability = 0;
        long at = trace.time(0);
        boolean doubted = gasDoubtedAt >= at - FlameTest.DOUBT_OF_GAS_LASTS;
        int back = 0;
        for (double horizonS : HORIZONS_S) {
            long from = at - Math.round(horizonS * MICROS_PER_S);
            if (!trace.reaches(from) || (doubted && gasDoubtedAt >= from)) {
                return;
            }
            back = trace.backTo(from, back);
            long seenWithin = Math.min(Math.round(0.7 * horizonS * MICROS_PER_S), FlameTest.GAS_SEEN_WITHIN);
            if (gasSeenAt >= at - seenWithin) {
                judge(back, evidence);
            }
        }
    }

    private void judge(int back, double evidence) {
        if (trace.residualK(back) - trace.residualK(0) < LEAST_FALL_K / 2) {
            return;
        }
        long from = trace.time(back) - BASELINE;
        double origin = trace.residualK(back);
        int n = 0;
        double sumT = 0;
        double sumY = 0;
        double sumTT = 0;
        double sumTY = 0;
        double sumYY = 0;
        for (int i = back; i < trace.size() && trace.time(i) >= from; i++) {
            double t = (trace.time(i) - trace.time(back)) / MICROS_PER_S;
            double y = trace.residualK(i) - origin;
            n++;
            sumT += t;
            sumY += y;
            sumTT += t * t;
            sumTY += t * y;
            sumYY += y * y;
        }
        if (n < FEWEST_IN_BASELINE) {
            return;
        }
        double sxx = sumTT - sumT * sumT / n;
        double sxy = sumTY - sumT * sumY / n;
        double noiseK = Math.sqrt(Math.max(0, sumYY - sumY * sumY / n - sxy * sxy / sxx) / (n - 2));
        compare(back, origin + sumY / n - trace.residualK(0), noiseK, evidence);
    }

    private void compare(int back, double fallK, double noiseK, double evidence) {
        double sinceS = trace.ageS(back) + blurS;
        double outK = expectation.flameOutK(sinceS);
        double stockK = expectation.stockK(sinceS);
        double second = SECOND_DISTURBANCE * Math.exp(-sinceS * sinceS / (SECOND_FADES_S * SECOND_FADES_S));
        double burningK = stockMargin(sinceS) * stockK + second * outK;
        double changedK = Math.abs(trace.expectedC(0) - trace.expectedC(back));
        double errorK = MODEL_ERROR * changedK + DRIFT_K_PER_S * sinceS;
        double neededK = evidence * Math.max(part(sinceS) * outK, burningK) + errorK;
        double reached = fallK / Math.max(neededK, Math.max(LEAST_FALL_K, SIGMAS * noiseK));
        if (sinceS < RECENT_S) {
            recentRatio = Math.max(recentRatio, reached);
        }
        if (reached > ratio) {
            ratio = reached;
            onset = trace.time(back);
            probability = probability(fallK, outK, stockK, Math.hypot(noiseK, errorK));
        }
    }

    private static double probability(double fallK, double outK, double stockK, double spreadK) {
        double out = normal(fallK - outK, Math.hypot(FALL_ERROR * outK, spreadK));
        double none = normal(fallK, Math.hypot(SECOND_DISTURBANCE * outK, spreadK));
        double most = STOCK_MARGIN_LATER * stockK;
        double stock = fallK < most ? 1 / most : normal(fallK - most, Math.hypot(FALL_ERROR * most, spreadK)) / most;
        return out / (out + (none + stock) / 2);
    }

    /** Density of a normal distribution about 0. */
    private static double normal(double distance, double deviation) {
        double z = distance / deviation;
        return Math.exp(-z * z / 2) / (deviation * Math.sqrt(2 * Math.PI));
    }

    private static double part(double sinceS) {
        double doublings = Math.max(0, Math.log(sinceS / 4) / Math.log(2));
        return Math.max(LEAST_PART, PART_AT_4_S - LESS_PER_DOUBLING * doublings);
    }

    private double stockMargin(double sinceS) {
        double soon = Math.exp(-sinceS / (expectation.lagS() + REACTION_S));
        double atLast = Math.max(0, Math.min(1, (sinceS - AT_LAST_FROM_S) / AT_LAST_WITHIN_S));
        return STOCK_MARGIN_LATER
                + (STOCK_MARGIN_SOON - STOCK_MARGIN_LATER) * soon
                - (STOCK_MARGIN_LATER - STOCK_MARGIN_AT_LAST) * atLast;
    }
}
