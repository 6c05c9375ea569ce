package org.bankfire.analysis.fit;

/**
 * e^(−t/τ) at all times of a series: the library's exponential once for a block of neighbours, and the Taylor series of the
 * offset within the block, which the compiler works out several samples at a time. Offsets up to a quarter of τ and the
 * eleventh power leave an error below 1e-16; where a block is wider than that, each sample has its own exponential.
 */
final class Decay {
    private static final int BLOCK = 32;
    private static final double WIDEST = 0.25;

    private Decay() {}

    /**
     * Fills {@code into}.
     *
     * @param elapsedS rising, s
     * @param tauS above 0, s
     * @param into as long as the times
     */
    static void fill(double[] elapsedS, double tauS, double[] into) {
        double rate = 1 / tauS;
        for (int from = 0; from < elapsedS.length; from += BLOCK) {
            int to = Math.min(from + BLOCK, elapsedS.length);
            double middleS = (elapsedS[from] + elapsedS[to - 1]) / 2;
            if ((elapsedS[to - 1] - middleS) * rate <= WIDEST) {
                series(elapsedS, middleS, rate, from, to, into);
            } else {
                for (int i = from; i < to; i++) {
                    into[i] = Math.exp(-elapsedS[i] * rate);
                }
            }
        }
    }

    private static void series(double[] elapsedS, double middleS, double rate, int from, int to, double[] into) {
        double middle = Math.exp(-middleS * rate);
        for (int i = from; i < to; i++) {
            double u = (middleS - elapsedS[i]) * rate;
            double high = 1 + u * (1.0 / 9) * (1 + u * (1.0 / 10) * (1 + u * (1.0 / 11)));
            double mid = 1 + u * (1.0 / 5) * (1 + u * (1.0 / 6) * (1 + u * (1.0 / 7) * (1 + u * (1.0 / 8) * high)));
            into[i] = middle * (1 + u * (1 + u * (1.0 / 2) * (1 + u * (1.0 / 3) * (1 + u * (1.0 / 4) * mid))));
        }
    }
}
