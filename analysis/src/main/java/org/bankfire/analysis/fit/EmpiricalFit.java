package org.bankfire.analysis.fit;

/**
 * One empirical curve fitted.
 *
 * @param curve which
 * @param result what came of it; parameters {@code finalTemperature} (unless it was known), {@code amplitude} and
 *     {@code timeConstant}, or {@code fastAmplitude}, {@code fastTimeConstant}, {@code slowAmplitude},
 *     {@code slowTimeConstant}
 * @param aicc Akaike's criterion, corrected, by which it stood beside the others: only differences mean something, and 10
 *     leaves the worse curve without support; infinite when the record is worth too few samples
 */
public record EmpiricalFit(EmpiricalCurve curve, FitResult result, double aicc) {
    /** The longest time constant reached, s. */
    public double slowestTimeConstantS() {
        return result.value(curve.terms() == 2 ? EmpiricalFits.SLOW_TIME_CONSTANT : EmpiricalFits.TIME_CONSTANT);
    }
}
