package org.bankfire.analysis.fit;

/**
 * How far neighbours in a series resemble each other.
 *
 * <p>Integrated autocorrelation time τ = 1 + 2 Σ ρ(k), in samples, with Sokal's self-consistent window: the sum ends at
 * the first lag M ≥ 5 τ(M) (A. Sokal, <i>Monte Carlo Methods in Statistical Mechanics</i>, in <i>Functional
 * Integration</i>, Plenum 1997, section 3). A mean over n samples is as good as one over n/τ independent ones (Bayley and
 * Hammersley, <i>The “effective” number of independent observations in an autocorrelated time series</i>, Journal of the
 * Royal Statistical Society supplement 8, 1946); so is every parameter whose sensitivity varies slowly beside the noise,
 * and a faster one is better than said.
 *
 * <p>Residuals show less correlation than the noise, since the fit has taken its part of the slowest waves. For a mean the sum
 * to lag W over n samples is short by its (2W + 1)/n-th part, and is enlarged by that (U. Wolff, <i>Monte Carlo errors with
 * less errors</i>, Computer Physics Communications 156, 2004, section 3.2); for p slow sensitivities it is taken p times.
 *
 * <p>τ is never taken below 1: noise that alternates is not relied upon.
 */
final class Autocorrelation {
    private static final double WINDOW = 5;

    /**
     * Where so many lags do not close the window, the series is averaged in blocks and looked at again: that keeps the
     * long-run variance, which τ measures, and bounds the work at some forty products a sample.
     */
    private static final int LAGS = 32;

    private static final int BLOCK = 4;

    /** Fewer blocks are not averaged further: their own lags are few enough. */
    private static final int FEW = 4 * BLOCK * LAGS;

    private Autocorrelation() {}

    /** ρ(1), −1 to 1; 0 for fewer than two samples or a constant zero. */
    static double lagOne(double[] series) {
        double squares = 0;
        double products = 0;
        for (int i = 0; i < series.length; i++) {
            squares += series[i] * series[i];
            products += i == 0 ? 0 : series[i] * series[i - 1];
        }
        return squares > 0 ? products / squares : 0;
    }

    /**
     * τ, samples: 1 to the length of the series.
     *
     * @param series residuals in the order of time
     * @param parameters how many a fit has taken from the series; 0 for plain noise
     */
    static double time(double[] series, int parameters) {
        double variance = covariance(series, 0);
        if (!(variance > 0)) {
            return 1;
        }
        double[] blocks = series;
        double size = 1;
        while (true) {
            double own = covariance(blocks, 0);
            if (!(own > 0)) {
                return 1;
            }
            double sum = 1;
            int lag = 1;
            boolean further = blocks.length > FEW;
            while (lag < blocks.length && lag < WINDOW * Math.max(sum, 1) && (!further || lag <= LAGS)) {
                sum += 2 * covariance(blocks, lag) / own;
                lag++;
            }
            if (!further || lag >= WINDOW * Math.max(sum, 1)) {
                double taken = parameters * (2.0 * lag - 1) / blocks.length;
                return Math.min(Math.max(size * own / variance * sum * (1 + taken), 1), series.length);
            }
            blocks = averaged(blocks);
            size *= BLOCK;
        }
    }

    /** About zero, for a fit's residuals have no mean of their own; over n, which keeps the sum positive definite. */
    private static double covariance(double[] series, int lag) {
        double even = 0;
        double odd = 0;
        int i = lag;
        // Two sums at a time: an addition need not wait for the one before.
        for (; i < series.length - 1; i += 2) {
            even += series[i] * series[i - lag];
            odd += series[i + 1] * series[i + 1 - lag];
        }
        if (i < series.length) {
            even += series[i] * series[i - lag];
        }
        return (even + odd) / series.length;
    }

    private static double[] averaged(double[] series) {
        double[] means = new double[series.length / BLOCK];
        for (int i = 0; i < means.length; i++) {
            double sum = 0;
            for (int k = 0; k < BLOCK; k++) {
                sum += series[i * BLOCK + k];
            }
            means[i] = sum / BLOCK;
        }
        return means;
    }
}
