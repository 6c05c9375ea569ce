package org.bankfire.analysis.fit;

/**
 * What the residuals look like.
 *
 * @param samples how many
 * @param effectiveSamples how many independent ones they are worth: samples / autocorrelationTime
 * @param sumOfSquares in the residuals' unit squared, unweighted
 * @param rms root of the mean square, in the residuals' unit
 * @param standardDeviation of the noise, √(sumOfSquares / (samples − parameters)), in the residuals' unit; NaN when there
 *     are no more samples than parameters
 * @param autocorrelationTime integrated, samples, 1 and more; 1 when the noise was taken as independent
 * @param lagOne autocorrelation of neighbours, −1 to 1
 * @param runs stretches of one sign
 * @param runsZ how many standard deviations {@code runs} lies above what chance gives (Wald and Wolfowitz, <i>On a test
 *     whether two samples are from the same population</i>, Annals of Mathematical Statistics 11, 1940): far below 0 the
 *     model misses a trend
 */
public record ResidualReport(
        int samples,
        double effectiveSamples,
        double sumOfSquares,
        double rms,
        double standardDeviation,
        double autocorrelationTime,
        double lagOne,
        int runs,
        double runsZ) {
    /** Of {@code residuals} in the order of time, after a fit of {@code parameters} parameters. */
    static ResidualReport of(double[] residuals, int parameters, double autocorrelationTime) {
        double squares = 0;
        int above = 0;
        int below = 0;
        int runs = 0;
        int previous = 0;
        for (double residual : residuals) {
            squares += residual * residual;
            int sign = (int) Math.signum(residual);
            above += sign > 0 ? 1 : 0;
            below += sign < 0 ? 1 : 0;
            if (sign != 0 && sign != previous) {
                runs++;
                previous = sign;
            }
        }
        int free = residuals.length - parameters;
        return new ResidualReport(
                residuals.length,
                residuals.length / autocorrelationTime,
                squares,
                Math.sqrt(squares / residuals.length),
                free > 0 ? Math.sqrt(squares / free) : Double.NaN,
                autocorrelationTime,
                Autocorrelation.lagOne(residuals),
                runs,
                runsZ(above, below, runs));
    }

    /** 0 when one sign is missing: the test then says nothing. */
    private static double runsZ(int above, int below, int runs) {
        double n = (double) above + below;
        double twice = 2.0 * above * below;
        if (!(twice > 0) || !(twice > n)) {
            return 0;
        }
        double expected = twice / n + 1;
        double variance = twice * (twice - n) / (n * n * (n - 1));
        return (runs - expected) / Math.sqrt(variance);
    }
}
