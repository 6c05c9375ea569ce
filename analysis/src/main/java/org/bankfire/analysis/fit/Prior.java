package org.bankfire.analysis.fit;

/**
 * What is known of a parameter before the record is looked at, as one more residual beside those of the data: the fit is
 * then the maximum of the posterior density (Tarantola, <i>Inverse Problem Theory</i>, SIAM 2005, chapter 3).
 */
public sealed interface Prior {
    /** The residual, 1: how many prior standard deviations {@code value} lies from the middle. */
    double residual(double value);

    /** Derivative of the residual, one over the parameter's unit. */
    double slope(double value);

    /** The middle, in the parameter's unit. */
    double middle();

    /** Standard deviation near {@code value}, in the parameter's unit: 1 / slope. */
    default double standardDeviation(double value) {
        return 1 / slope(value);
    }

    /**
     * Normal: residual (x − mean) / standard deviation.
     *
     * @param mean in the parameter's unit
     * @param deviation standard deviation, in the parameter's unit, above 0
     */
    record Normal(double mean, double deviation) implements Prior {
        public Normal {
            if (!(Double.isFinite(mean) && deviation > 0 && Double.isFinite(deviation))) {
                throw new IllegalArgumentException("normal prior of mean " + mean + " and standard deviation "
                        + deviation + ": above 0 is allowed");
            }
        }

        @Override
        public double residual(double value) {
            return (value - mean) / deviation;
        }

        @Override
        public double slope(double value) {
            return 1 / deviation;
        }

        @Override
        public double middle() {
            return mean;
        }
    }

    /**
     * Log-normal, for factors and other positive quantities: residual (ln x − ln median) / logDeviation.
     *
     * @param median in the parameter's unit, above 0
     * @param logDeviation standard deviation of ln x, 1, above 0; 0.05 is about ±5 %
     */
    record LogNormal(double median, double logDeviation) implements Prior {
        public LogNormal {
            if (!(median > 0 && Double.isFinite(median) && logDeviation > 0 && Double.isFinite(logDeviation))) {
                throw new IllegalArgumentException("log-normal prior of median " + median
                        + " and logarithmic standard deviation " + logDeviation + ": both above 0 are allowed");
            }
        }

        @Override
        public double residual(double value) {
            return Math.log(value / median) / logDeviation;
        }

        @Override
        public double slope(double value) {
            return 1 / (value * logDeviation);
        }

        @Override
        public double middle() {
            return median;
        }
    }
}
