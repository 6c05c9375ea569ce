package org.bankfire.analysis.fit;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * The noise as the residuals show it, and the weights that follow.
 *
 * <p>With ψ the loss's derivative (for squares, the residual itself), m the mean of ψ′, n samples of which n/τ count, and p
 * parameters, the noise's variance is v = K² · mean ψ² · (n/τ) / (n/τ − p), K = 1 + p/n · (1 − m)/m (P. J. Huber,
 * <i>Robust Statistics</i>, Wiley 1981, section 7.6; for squares and τ = 1 it is the sum of squares over n − p), and an
 * estimate's covariance v τ / m² · (JᵀJ)⁻¹. Residuals weighed by √(m / (v τ)) have just that as the inverse of their
 * second derivatives, which puts data and priors on one footing.
 */
final class NoiseLevel {
    /** Median of |z| of a normal variate is 0.6745. */
    private static final double MEDIAN_TO_DEVIATION = 1 / 0.674_489_750_196_081_7;

    /** Noise of a record without any: not 0, so that its inverse is a number whatever the unit. */
    private static final double LEAST = 1e-70;

    private final double scale;
    private final double quadraticShare;
    final double autocorrelationTime;
    private final double variance;
    private final double @Nullable [] robustRoots;

    private NoiseLevel(
            double scale,
            double quadraticShare,
            double autocorrelationTime,
            double variance,
            double @Nullable [] roots) {
        this.scale = scale;
        this.quadraticShare = quadraticShare;
        this.autocorrelationTime = autocorrelationTime;
        this.variance = variance;
        this.robustRoots = roots;
    }

    /**
     * @param residuals unweighted, in the order of time
     * @param parameters of the fit
     * @param loss how a residual counts
     * @param modelError how wrong the model is at least
     * @param correlated whether τ is estimated; it is 1 otherwise
     */
    static NoiseLevel of(double[] residuals, int parameters, Loss loss, ModelError modelError, boolean correlated) {
        int n = residuals.length;
        boolean robust = !(loss instanceof Loss.Squares);
        double[] psi = residuals;
        double[] roots = null;
        double scale = 1;
        int quadratic = n;
        if (robust) {
            scale = medianScale(residuals);
            psi = new double[n];
            roots = new double[n];
            quadratic = 0;
            for (int i = 0; i < n; i++) {
                double z = residuals[i] / scale;
                double weight = loss.weight(z);
                roots[i] = Math.sqrt(weight);
                psi[i] = weight * residuals[i];
                quadratic += loss.quadratic(z) ? 1 : 0;
            }
        }
        double share = Math.max(quadratic, 1) / (double) n;
        double time = correlated ? Autocorrelation.time(psi, parameters) : 1;
        double effective = n / time;
        double meanSquare = 0;
        for (double each : psi) {
            meanSquare += each * each;
        }
        meanSquare /= n;
        double correction = 1 + (double) parameters / n * (1 - share) / share;
        // One at least is left: a record that is worth fewer samples than parameters says next to nothing of its noise.
        double free = Math.max(effective - parameters, 1);
        double variance = correction * correction * meanSquare * Math.max(effective, 1) / free;
        double least = Math.max(LEAST, modelError.deviation());
        double longest = Math.max(time, n / modelError.effectiveSamples());
        return new NoiseLevel(scale, share, longest, Math.max(variance, least * least), roots);
    }

    /** The same noise, with the robust weights that {@code residuals} ask for. */
    NoiseLevel reweighed(double[] residuals, Loss loss) {
        double[] roots = new double[residuals.length];
        for (int i = 0; i < roots.length; i++) {
            roots[i] = Math.sqrt(loss.weight(residuals[i] / scale));
        }
        return new NoiseLevel(scale, quadraticShare, autocorrelationTime, variance, roots);
    }

    /** Weights for the next descent. */
    Weighting weighting() {
        return new Weighting(Math.sqrt(quadraticShare / (variance * autocorrelationTime)), robustRoots);
    }

    /** What one unit of JᵀJ is worth: m² / (v τ). */
    double information() {
        return quadraticShare * quadraticShare / (variance * autocorrelationTime);
    }

    private static double medianScale(double[] residuals) {
        double[] sizes = new double[residuals.length];
        for (int i = 0; i < sizes.length; i++) {
            sizes[i] = Math.abs(residuals[i]);
        }
        Arrays.sort(sizes);
        double median = (sizes[(sizes.length - 1) / 2] + sizes[sizes.length / 2]) / 2;
        return Math.max(median * MEDIAN_TO_DEVIATION, LEAST);
    }
}
