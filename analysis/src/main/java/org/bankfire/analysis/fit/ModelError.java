package org.bankfire.analysis.fit;

/**
 * How wrong a model is at least, though its parameters be right. Residuals that are smaller, or that look more independent,
 * are taken for luck: a record then does not claim to know more than the model can (M. C. Kennedy and A. O'Hagan,
 * "Bayesian calibration of computer models", J. R. Statist. Soc. B 63 (2001) 425–464, in its plainest form).
 *
 * @param deviation standard deviation, in the residuals' unit, 0 or more
 * @param effectiveSamples most independent samples that any record is worth, above 0
 */
public record ModelError(double deviation, double effectiveSamples) {
    /** A model without error of its own. */
    public static final ModelError NONE = new ModelError(0, Double.POSITIVE_INFINITY);

    public ModelError {
        if (!(deviation >= 0 && deviation < Double.POSITIVE_INFINITY && effectiveSamples > 0)) {
            throw new IllegalArgumentException("model error of " + deviation + " and at most " + effectiveSamples
                    + " effective samples: allowed are 0 or more, and above 0");
        }
    }
}
