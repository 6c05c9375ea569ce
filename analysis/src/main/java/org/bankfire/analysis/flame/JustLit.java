package org.bankfire.analysis.flame;

/**
 * Soon after lighting a cold forge there is nothing steady to compare with, but what the probe is heading for falls back by
 * most of what lighting gave.
 */
final class JustLit {
    /** So long after lighting a forge is young, µs, while its chamber is no hotter than so much, °C. */
    private static final long YOUNG = 120_000_000;

    private static final double COLD_C = 150;
    private static final double WARM_C = 500;
    private static final double LEAST_RISE_K = 60;
    private static final double SIGMAS = 8;
    private static final double LEFT_PART = 0.4;
    private static final double SAME_FLOW = 0.8;

    private long litAt;
    private double litFromC = Double.NaN;
    private double highestC = Double.NaN;
    private double highestFlow;
    private long highestAt;

    /** Lit, at that time and chamber temperature. */
    void begin(long at, double celsius) {
        litAt = at;
        litFromC = celsius < COLD_C ? celsius : Double.NaN;
        highestC = Double.NaN;
    }

    /** When what the probe was heading for was highest, µs. */
    long highestAt() {
        return highestAt;
    }

    /**
     * Whether it has fallen back.
     *
     * @param settlingC what the probe is heading for
     * @param measuredC what it shows
     * @param noiseK standard deviation of {@code settlingC}
     */
    boolean fellBack(long at, double settlingC, double measuredC, double noiseK, double flowKgPerS) {
        if (Double.isNaN(litFromC) || at - litAt > YOUNG || measuredC > WARM_C) {
            return false;
        }
        if (!(settlingC < highestC)) {
            highestC = settlingC;
            highestAt = at;
            highestFlow = flowKgPerS;
        }
        double rise = highestC - litFromC;
        return rise >= Math.max(LEAST_RISE_K, SIGMAS * noiseK)
                && flowKgPerS >= SAME_FLOW * highestFlow
                && settlingC - litFromC < LEFT_PART * rise;
    }
}
