package org.bankfire.analysis.flame;

/**
 * Could the fall be chance? A cumulative sum over how far the quarter seconds lie below their level, in standard deviations
 * of their noise; its decision interval lets noise alone call once in 10,000 hours.
 */
final class Chance {
    /** Half of a fall of two standard deviations, for which the sum is then the quickest (G. Lorden, 1971, from memory). */
    private static final double REFERENCE = 1;

    private static final double QUARTER_SECONDS = 4.0 * 3_600 * 10_000;
    private static final double INTERVAL = Cusum.intervalFor(QUARTER_SECONDS, REFERENCE);
    /** The level follows slowly while nothing falls, and hardly at all while something does, s. */
    private static final double FOLLOW_S = 8;

    private static final double FOLLOW_FALLING_S = 200;

    private final Cusum sum = new Cusum(REFERENCE, INTERVAL);
    private double levelK = Double.NaN;

    /** Nothing is known of the level. */
    void forget() {
        levelK = Double.NaN;
        sum.reset();
    }

    /**
     * Takes a quarter second.
     *
     * @param residualK measured less expected
     * @param noiseK its standard deviation
     */
    void add(double seconds, double residualK, double noiseK) {
        if (Double.isNaN(levelK)) {
            levelK = residualK;
        }
        boolean falls = sum.add((levelK - residualK) / noiseK);
        levelK += (residualK - levelK) * -Math.expm1(-seconds / (falls ? FOLLOW_FALLING_S : FOLLOW_S));
    }

    /** Whether chance alone would hardly have made this fall. */
    boolean isExcluded() {
        return sum.calls();
    }
}
