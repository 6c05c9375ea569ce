package org.bankfire.analysis.fit;

/**
 * How far neighbours in a series resemble each other.
 *
 * <p>Integrated autocorrelation time τ = 1 + 2 Σ ρ(k), in samples, with Sokal's self-consistent window: the sum ends at
 * the first lag M ≥ 5 τ(M) (A. Sokal, <i>Monte Carlo Methods in Statistical Mechanics</i>, in <i>Functional
 * Integration</i>, Plenum 1997, section 3). A mean over n samples is as good as one over n/τ independent ones (Bayley and
 * Hammersley, <i>The “effective” number of independent observations in an autocorrelated time series</i>, Journal of the
 * Royal Statistical Society supplement 8, 1946); so is every parameter whose sensitivity varies slowly beside the noise,
 * and a faster one is better than said. A series of residuals shows a little less correlation than the noise, since the
 * fit has taken its part of the slowest waves.
 *
 * <p>τ is never taken below 1: noise that alternates is not relied upon.
 */
final class Autocorrelation {
    private static final double WINDOW = 5;

    /**
     * Longer series are first averaged in blocks, which keeps the long-run variance that τ measures; 4096² / 2 products
     * bound the work, about 10 ms.
     */
    private static final int LONGEST = 4096;

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

    /** τ, samples: 1 to the length of the series. */
    static double time(double[] series) {
        double variance = covariance(series, 0);
        if (!(variance > 0)) {
            return 1;
        }
        int block = (series.length + LONGEST - 1) / LONGEST;
        double[] blocks = block == 1 ? series : averaged(series, block);
        double blockVariance = covariance(blocks, 0);
        double time = 1;
        if (blockVariance > 0) {
            double sum = 1;
            for (int lag = 1; lag < blocks.length && lag < WINDOW * Math.max(sum, 1); lag++) {
                sum += 2 * covariance(blocks, lag) / blockVariance;
            }
            time = block * blockVariance / variance * sum;
        }
        return Math.min(Math.max(time, 1), series.length);
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

    private static double[] averaged(double[] series, int block) {
        double[] means = new double[series.length / block];
        for (int i = 0; i < means.length; i++) {
            double sum = 0;
            for (int k = 0; k < block; k++) {
                sum += series[i * block + k];
            }
            means[i] = sum / block;
        }
        return means;
    }
}
