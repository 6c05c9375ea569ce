package org.bankfire.analysis.trial;

import java.util.Arrays;

/**
 * A chamber that heats: temperatures over time, and when and how fast they pass a level. Measured and modelled curves go
 * through the same arithmetic, so what it leaves out is left out of both.
 */
final class HeatUpCurve {
    /** A level is told from the readings within so many kelvin of it. */
    private static final double HALF_WINDOW_K = 25;
    /** Of the line through them. */
    private static final int FEWEST_POINTS = 3;
    /** A dip longer than this is no heat-up; shorter, it is noise or a hand at the door. */
    private static final double WORST_DIP_K = 40;

    private final double[] timesS;
    private final double[] kelvins;
    private final double[] weights;

    /**
     * A curve.
     *
     * @param timesS rising
     * @param kelvins as many
     * @param weights how many readings each stands for
     */
    HeatUpCurve(double[] timesS, double[] kelvins, double[] weights) {
        this.timesS = timesS;
        this.kelvins = kelvins;
        this.weights = weights;
    }

    /**
     * Passing a level.
     *
     * @param timeS when, s
     * @param timeErrorS standard error of it
     * @param perMin slope there, K/min
     * @param perMinError standard error of it
     * @param degreesOfFreedom of both errors
     */
    record Passing(double timeS, double timeErrorS, double perMin, double perMinError, double degreesOfFreedom) {
        static final Passing NEVER = new Passing(Double.NaN, Double.NaN, Double.NaN, Double.NaN, 1);

        boolean isTold() {
            return !Double.isNaN(timeS);
        }
    }

    /** The hottest of it, K; −∞ when it is empty. */
    double hottestK() {
        return Arrays.stream(kelvins).max().orElse(Double.NEGATIVE_INFINITY);
    }

    /** The first of it, K; +∞ when it is empty. */
    double coldestK() {
        return Arrays.stream(kelvins).min().orElse(Double.POSITIVE_INFINITY);
    }

    /**
     * First passing of a level upwards, by the straight line of time over temperature through the points near it: those
     * below it only, since a regulator is turned down when the target is reached.
     *
     * @param bothSides whether the points above count too, for a slope in the midst of a heat-up
     */
    Passing passing(double levelK, boolean bothSides) {
        int at = firstAtOrAbove(levelK);
        if (at <= 0) {
            return Passing.NEVER;
        }
        int from = at;
        while (from > 0 && kelvins[from - 1] >= levelK - (bothSides ? 1 : 2) * HALF_WINDOW_K) {
            from--;
        }
        int to = at + 1;
        while (bothSides
                && to < kelvins.length
                && kelvins[to] <= levelK + HALF_WINDOW_K
                && kelvins[to] > levelK - WORST_DIP_K) {
            to++;
        }
        from = Math.min(from, at - 1);
        return to - from >= FEWEST_POINTS ? line(levelK, from, to) : between(levelK, at);
    }

    private int firstAtOrAbove(double levelK) {
        for (int i = 0; i < kelvins.length; i++) {
            if (kelvins[i] >= levelK) {
                return i;
            }
        }
        return -1;
    }

    private Passing between(double levelK, int at) {
        double stepS = timesS[at] - timesS[at - 1];
        double part = (levelK - kelvins[at - 1]) / (kelvins[at] - kelvins[at - 1]);
        double perMin = 60 * (kelvins[at] - kelvins[at - 1]) / stepS;
        // Anywhere between the two, evenly.
        double error = stepS / Math.sqrt(12);
        return new Passing(timesS[at - 1] + part * stepS, error, perMin, perMin / 2, 1);
    }

    private Passing line(double levelK, int from, int to) {
        double sum = 0;
        double meanK = 0;
        double meanS = 0;
        for (int i = from; i < to; i++) {
            sum += weights[i];
            meanK += weights[i] * kelvins[i];
            meanS += weights[i] * timesS[i];
        }
        meanK /= sum;
        meanS /= sum;
        double kk = 0;
        double ks = 0;
        double ss = 0;
        for (int i = from; i < to; i++) {
            double k = kelvins[i] - meanK;
            double s = timesS[i] - meanS;
            kk += weights[i] * k * k;
            ks += weights[i] * k * s;
            ss += weights[i] * s * s;
        }
        double secondsPerK = ks / kk;
        if (!(secondsPerK > 0)) {
            return Passing.NEVER;
        }
        int degrees = to - from - 2;
        double variance = Math.max(0, ss - secondsPerK * ks) / degrees;
        double away = levelK - meanK;
        double slopeError = Math.sqrt(variance / kk);
        double perMin = 60 / secondsPerK;
        return new Passing(
                meanS + secondsPerK * away,
                Math.sqrt(variance * (1 / sum + away * away / kk)),
                perMin,
                perMin * slopeError / secondsPerK,
                degrees);
    }
}
