package org.bankfire.analysis.steady;

import java.util.Arrays;

/**
 * A straight line by least squares through values whose noise is a first-order autoregression, with the standard error
 * that this noise gives the slope. Made once and used for one window after another, without allocation.
 *
 * <p>With x the times about their mean, ρ the correlation of neighbours and R the matrix of ρ<sup>|i−j|</sup>, the slope is
 * b = xᵀy / xᵀx, its variance σ² xᵀRx / (xᵀx)², and the residual sum of squares is on average σ² (n − 1ᵀR1/n − xᵀRx / xᵀx)
 * with 1 a vector of ones (variance of ordinary least squares: W. H. Greene, <i>Econometric Analysis</i>, section on
 * autocorrelation; for trends J. Lee and R. Lund, <i>Revisiting simple linear regression with autocorrelated errors</i>,
 * Biometrika 91, 2004; both from memory). Both forms are summed exactly in one pass by the recursion of the
 * autoregression; for ρ = 0 they are the usual σ²/Sxx and n − 2, and for long windows they come to the effective number of
 * samples n (1 − ρ)/(1 + ρ) of climate trends (Santer et al., Journal of Geophysical Research 105, 2000, from memory).
 *
 * <p>ρ is the residuals' lag-one autocorrelation r, which a fitted line leaves too small: E r ≈ ρ − (2 + 4ρ)/n (of the kind
 * of Marriott and Pope, Biometrika 41, 1954, for a mean; with a line, Nychka et al., <i>Confidence intervals for trend
 * estimates with autocorrelated observations</i>, 2000; from memory, and held by the tests). Half its standard error
 * √((1 − ρ²)/n) is added, because an error that is too small says steady too soon. Degrees of freedom are
 * n (1 − ρ²)/(1 + ρ²) − 2: as many independent values tell a variance as well (Bayley and Hammersley, 1946).
 *
 * <p>Neighbours count as one step apart, whatever the time between them: a missing one in a hundred is nothing.
 */
public final class CorrelatedLine {
    /** Fewest values that tell a correlation at all. */
    public static final int FEWEST = 8;

    /** Above this a window holds a wave or two of its noise, and tells nothing of what lies behind them. */
    private static final double MOST_CORRELATED = 0.97;

    private double slope;
    private double standardError;
    private double degreesOfFreedom;
    private double correlation;
    private double endSlope;
    private double[] residuals = new double[0];

    /**
     * Fits the line.
     *
     * @param times in order, any unit
     * @param values as many
     * @param from first that counts
     * @param count how many count
     * @return whether it tells anything: {@value #FEWEST} values or more at differing times
     */
    public boolean fit(double[] times, double[] values, int from, int count) {
        if (count < FEWEST) {
            return false;
        }
        double meanTime = mean(times, from, count);
        double meanValue = mean(values, from, count);
        double xx = 0;
        double xy = 0;
        for (int i = from; i < from + count; i++) {
            double x = times[i] - meanTime;
            xx += x * x;
            xy += x * (values[i] - meanValue);
        }
        if (!(xx > 0)) {
            return false;
        }
        slope = xy / xx;
        double squares = residuals(times, values, from, count, meanTime, meanValue);
        correlation = correlation(count, squares);
        spread(times, from, count, meanTime, xx, squares);
        endSlope = slope + 2 * bend(times, from, count, meanTime, xx) * (times[from + count - 1] - meanTime);
        return true;
    }

    private double residuals(double[] times, double[] values, int from, int count, double meanTime, double meanValue) {
        if (residuals.length < count) {
            residuals = Arrays.copyOf(residuals, count);
        }
        double squares = 0;
        for (int i = 0; i < count; i++) {
            double residual = values[from + i] - meanValue - slope * (times[from + i] - meanTime);
            residuals[i] = residual;
            squares += residual * residual;
        }
        return squares;
    }

    private double correlation(int count, double squares) {
        double products = 0;
        for (int i = 1; i < count; i++) {
            products += residuals[i] * residuals[i - 1];
        }
        double seen = squares > 0 ? products / squares : 0;
        double unbiased = Math.min(Math.max((count * seen + 2) / (count - 4), 0), 1);
        return Math.min(unbiased + Math.sqrt((1 - unbiased * unbiased) / count) / 2, MOST_CORRELATED);
    }

    private void spread(double[] times, int from, int count, double meanTime, double xx, double squares) {
        double ones = 0;
        double line = 0;
        double tailOfOnes = 0;
        double tailOfLine = 0;
        for (int i = from; i < from + count; i++) {
            double x = times[i] - meanTime;
            ones += 1 + 2 * correlation * tailOfOnes;
            line += x * (x + 2 * correlation * tailOfLine);
            tailOfOnes = correlation * tailOfOnes + 1;
            tailOfLine = correlation * tailOfLine + x;
        }
        double variance = squares / (count - ones / count - line / xx);
        standardError = Math.sqrt(variance * line) / xx;
        double square = correlation * correlation;
        degreesOfFreedom = Math.max(count * (1 - square) / (1 + square) - 2, 0);
    }

    // x² about its mean is orthogonal to x for times as far apart as each other, which they nearly are.
    private double bend(double[] times, int from, int count, double meanTime, double xx) {
        double squares = 0;
        double products = 0;
        for (int i = 0; i < count; i++) {
            double x = times[from + i] - meanTime;
            double z = x * x - xx / count;
            squares += z * z;
            products += z * residuals[i];
        }
        return products / squares;
    }

    private static double mean(double[] of, int from, int count) {
        double sum = 0;
        for (int i = from; i < from + count; i++) {
            sum += of[i];
        }
        return sum / count;
    }

    /** Values per unit of time. */
    public double slope() {
        return slope;
    }

    /** Slope at the last of the values, of the parabola through them; its error is some four times that of the line's. */
    public double endSlope() {
        return endSlope;
    }

    /** Of the slope; 0 for values without noise. */
    public double standardError() {
        return standardError;
    }

    /** Of the standard error, 0 or more. */
    public double degreesOfFreedom() {
        return degreesOfFreedom;
    }

    /** Correlation of neighbours as the standard error takes it, 0 to {@value #MOST_CORRELATED}. */
    public double correlation() {
        return correlation;
    }
}
