package org.bankfire.analysis.flame;

/**
 * Has the gas that flows been lit? Told by a clear rise of the chamber temperature, or by the probe heading for more than
 * the model expects without a flame, which also shows in a chamber that is still hot.
 */
final class Lighting {
    private static final double LEAST_RISE_K = 4;
    /**
     * The probe creeps back towards the hot face by itself when cold air stops or stock is taken out: after a flame-out ask
     * for more, and for a part of what a flame would give within so long, s.
     */
    private static final double LEAST_RISE_AGAIN_K = 12;

    private static final double PART_AGAIN = 0.15;
    private static final double AGAIN_WITHIN_S = 10;

    private static final double LEAST_RECENT_K = 1;
    private static final long RECENT = 1_500_000;
    private static final double SIGMAS = 6;
    /** Part of a flame's effect that must show, and the least that counts, K. */
    private static final double PART = 0.5;

    private static final double LEAST_HEADING_K = 20;
    private static final double HEADING_SIGMAS = 5;
    private static final long BEFORE = 8_000_000;
    private static final int FEWEST_BEFORE = 4;
    /** One reading above is no flame. */
    private static final int PERSISTENCE = 2;

    private final Trace trace;
    private final Heading heading;
    private final Expectation expectation;
    private double lowestC = Double.NaN;
    private long lowestAt;
    private double unlitK = Double.NaN;
    private int risesSeen;

    Lighting(Trace trace, Heading heading, Expectation expectation) {
        this.trace = trace;
        this.heading = heading;
        this.expectation = expectation;
    }

    /**
     * Gas has come on.
     *
     * @param gasOnAt when, µs
     */
    void begin(long gasOnAt, double gasKgPerS) {
        await();
        int n = 0;
        double sum = 0;
        for (int i = 0; i < trace.size() && trace.time(i) > gasOnAt - BEFORE; i++) {
            if (trace.time(i) <= gasOnAt) {
                sum += trace.residualK(i);
                n++;
            }
        }
        unlitK = n >= FEWEST_BEFORE ? sum / n : Double.NaN;
        expectation.workFallsOut(gasKgPerS);
    }

    /** The flame has gone out while gas flows: it may be lit again. */
    void beginAgain() {
        await();
        unlitK = Double.NaN;
    }

    private void await() {
        lowestC = Double.NaN;
        risesSeen = 0;
    }

    /** When the chamber was last at its lowest, µs: about when it was lit. */
    long lowestAt() {
        return lowestAt;
    }

    /**
     * Whether it is lit now.
     *
     * @param gasOnAt when gas came on, µs
     * @param again whether it is after a flame-out
     */
    boolean isLit(long at, long gasOnAt, double noiseK, boolean again) {
        double celsius = latestC();
        if (!(lowestC < celsius - noiseK)) {
            lowestAt = at;
        }
        if (!(lowestC <= celsius)) {
            lowestC = celsius;
        }
        double leastK =
                again ? Math.max(LEAST_RISE_AGAIN_K, PART_AGAIN * expectation.flameOutK(AGAIN_WITHIN_S)) : LEAST_RISE_K;
        double recentK = celsius - trace.measuredC(trace.backTo(at - RECENT, 0));
        boolean rises = celsius - lowestC >= Math.max(leastK, SIGMAS * noiseK)
                && recentK >= Math.max(LEAST_RECENT_K, 2 * noiseK);
        risesSeen = rises || headsForFlame(at, gasOnAt, noiseK) ? risesSeen + 1 : 0;
        return risesSeen >= PERSISTENCE;
    }

    private boolean headsForFlame(long at, long gasOnAt, double noiseK) {
        double sinceS = (at - gasOnAt) / 1e6;
        if (Double.isNaN(unlitK) || sinceS < heading.windowS() / 2) {
            return false;
        }
        double neededK = Math.max(
                PART * expectation.flameOutK(sinceS),
                Math.max(LEAST_HEADING_K, HEADING_SIGMAS * heading.noiseK(noiseK)));
        return trace.residualK(0) - unlitK >= neededK;
    }

    /** Middle of the newest three: a single spike is no flame. */
    private double latestC() {
        return trace.size() < 3
                ? trace.measuredC(0)
                : Heading.middle(trace.measuredC(0), trace.measuredC(1), trace.measuredC(2));
    }
}
