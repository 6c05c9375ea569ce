package org.bankfire.analysis.fit;

/**
 * How to fit.
 *
 * @param loss how much a residual counts
 * @param noise what is taken for known about the residuals' order
 * @param modelError how wrong the model is at least, though its parameters be right
 * @param evaluations most evaluations of the residuals in one descent, at least 10
 * @param tolerance relative change of parameters and of the cost below which a descent is at its end, 1e-14 to 1e-3
 * @param conditionLimit greatest condition number of the sensitivities, their columns scaled to length 1, at which
 *     parameters are told apart; above 1
 */
public record FitSettings(
        Loss loss, Noise noise, ModelError modelError, int evaluations, double tolerance, double conditionLimit) {
    /** Whether neighbouring residuals are taken as independent. */
    public enum Noise {
        /** Each residual is a new piece of knowledge. */
        INDEPENDENT,
        /** Neighbours resemble each other: the effective sample size sets the errors. */
        CORRELATED
    }

    /**
     * Squares, correlated noise. Tolerance 1e-10: what is left to gain is below a thousandth of a standard error. 500 evaluations: the hardest certified problems in the tests need about 200. Condition
     * 1e7: beyond it a Jacobian by differences, good to about eight digits, is noise in its weakest direction.
     */
    public static final FitSettings STANDARD =
            new FitSettings(Loss.SQUARES, Noise.CORRELATED, ModelError.NONE, 500, 1e-10, 1e7);

    public FitSettings {
        if (evaluations < 10) {
            throw new IllegalArgumentException(evaluations + " evaluations: at least 10 are allowed");
        }
        if (!(tolerance >= 1e-14 && tolerance <= 1e-3)) {
            throw new IllegalArgumentException("tolerance is " + tolerance + ": allowed are 1e-14 to 1e-3");
        }
        if (!(conditionLimit > 1)) {
            throw new IllegalArgumentException("condition limit is " + conditionLimit + ": above 1 is allowed");
        }
    }

    /** With this loss. */
    public FitSettings with(Loss other) {
        return new FitSettings(other, noise, modelError, evaluations, tolerance, conditionLimit);
    }

    /** With this kind of noise. */
    public FitSettings with(Noise other) {
        return new FitSettings(loss, other, modelError, evaluations, tolerance, conditionLimit);
    }

    /** With this error of the model. */
    public FitSettings with(ModelError other) {
        return new FitSettings(loss, noise, other, evaluations, tolerance, conditionLimit);
    }

    /** With this most of evaluations. */
    public FitSettings withEvaluations(int most) {
        return new FitSettings(loss, noise, modelError, most, tolerance, conditionLimit);
    }

    /** With this tolerance. */
    public FitSettings withTolerance(double other) {
        return new FitSettings(loss, noise, modelError, evaluations, other, conditionLimit);
    }
}
