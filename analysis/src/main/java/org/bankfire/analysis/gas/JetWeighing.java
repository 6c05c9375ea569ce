package org.bankfire.analysis.gas;

import org.bankfire.analysis.quantity.Range;

/**
 * A jet's discharge coefficient by weighing the cylinder before and after a burn:
 *
 * <pre>  Cd = (before − after) / ∫ flow through the jet at a discharge of 1 dt</pre>
 *
 * with the standard uncertainty of the GUM (5.1.2): that of two readings of the scale, and that of the integral, in
 * quadrature. All gas must have gone through the jet: no second burner, no leak, and the pressure known all through,
 * purging and lighting included. Ice and dew are weighed too: wipe the cylinder dry.
 */
public final class JetWeighing {
    /** Coefficients that a drilled jet may have, 1: below the sharp edge's 0.6 with room, and no more than the ideal flow. */
    public static final Range PLAUSIBLE = new Range(0.4, 1);
    /**
     * A standard uncertainty of the coefficient that is worth having: what is assumed of a jet that was never weighed.
     * Common practice, no source.
     */
    public static final double USEFUL_UNCERTAINTY = 0.05;

    private static final double COVERAGE = 2;

    private JetWeighing() {}

    /**
     * What was weighed and what was counted.
     *
     * @param beforeKg cylinder before the burn, kg
     * @param afterKg cylinder after it, kg
     * @param scaleStandardUncertaintyKg of one reading of the scale, kg, above 0; d/√12 for steps of d and no other error
     * @param idealKg integral over the burn of {@link Jet#massFlowKgPerS} at a discharge of 1, kg, above 0
     * @param idealStandardUncertaintyKg of that integral, kg, 0 or more: the integral of the flow times its
     *     {@link Jet#relativeUncertainty}, because the pressure sensor errs the same way all through; bore and gas
     *     temperature belong to it where they are not to be part of the coefficient
     */
    public record Weighing(
            double beforeKg,
            double afterKg,
            double scaleStandardUncertaintyKg,
            double idealKg,
            double idealStandardUncertaintyKg) {
        public Weighing {
            requireNumber("mass before the burn", beforeKg);
            requireNumber("mass after the burn", afterKg);
            requireNumber("standard uncertainty of the scale", scaleStandardUncertaintyKg);
            requireNumber("ideal flow over the burn", idealKg);
            requireNumber("standard uncertainty of the ideal flow over the burn", idealStandardUncertaintyKg);
            if (scaleStandardUncertaintyKg == 0 || idealKg == 0) {
                throw new IllegalArgumentException("scale uncertainty " + scaleStandardUncertaintyKg
                        + " kg, ideal flow " + idealKg + " kg over the burn: both must be above 0");
            }
        }

        private static void requireNumber(String what, double kg) {
            if (!(kg >= 0 && Double.isFinite(kg))) {
                throw new IllegalArgumentException(what + " is " + kg + " kg: allowed are 0 and more");
            }
        }
    }

    /** What came of it. */
    public sealed interface Result {}

    /**
     * A coefficient.
     *
     * @param dischargeCoefficient 1, 0.4 to 1
     * @param standardUncertainty of it, 1
     * @param fromScale part of that uncertainty that the scale makes, 1
     * @param fromFlow part that the integral makes, 1, the pressure sensor above all
     */
    public record Found(double dischargeCoefficient, double standardUncertainty, double fromScale, double fromFlow)
            implements Result {}

    /**
     * The weighing tells no more than is assumed of any jet.
     *
     * @param usedKg difference of the two masses, kg
     * @param neededKg gas to be burnt between two weighings on this scale, kg; NaN when no amount helps, because the
     *     pressure alone is too uncertain
     * @param next what would tell, for the builder
     */
    public record TooUncertain(double usedKg, double neededKg, String next) implements Result {}

    /**
     * No jet has this coefficient, and the uncertainty does not explain it.
     *
     * @param dischargeCoefficient 1, below 0.4 or above 1 by more than two standard uncertainties
     * @param standardUncertainty of it, 1
     * @param next what to look for, for the builder
     */
    public record Implausible(double dischargeCoefficient, double standardUncertainty, String next) implements Result {}

    /** What a weighing says. */
    public static Result judge(Weighing weighing) {
        double usedKg = weighing.beforeKg() - weighing.afterKg();
        double coefficient = usedKg / weighing.idealKg();
        double differenceUncertaintyKg = Math.sqrt(2) * weighing.scaleStandardUncertaintyKg();
        double fromScale = differenceUncertaintyKg / weighing.idealKg();
        double flowRelative = weighing.idealStandardUncertaintyKg() / weighing.idealKg();
        double fromFlow = Math.abs(coefficient) * flowRelative;
        double uncertainty = Math.hypot(fromScale, fromFlow);
        if (coefficient < PLAUSIBLE.low() - COVERAGE * uncertainty
                || coefficient > PLAUSIBLE.high() + COVERAGE * uncertainty) {
            return new Implausible(
                    coefficient,
                    uncertainty,
                    coefficient > 1
                            ? "More gas is gone than the jet can pass: look for a leak or a second burner, and check the"
                                    + " jet's bore and the pressure sensor."
                            : "Less gas is gone than any jet would have passed: check the jet's bore, the pressure sensor"
                                    + " and its zero, and wipe the cylinder dry before you weigh it.");
        }
        if (uncertainty > USEFUL_UNCERTAINTY) {
            return tooUncertain(usedKg, differenceUncertaintyKg, Math.max(coefficient, PLAUSIBLE.low()), flowRelative);
        }
        double held = Math.max(PLAUSIBLE.low(), Math.min(PLAUSIBLE.high(), coefficient));
        return new Found(held, uncertainty, fromScale, fromFlow);
    }

    private static TooUncertain tooUncertain(
            double usedKg, double differenceUncertaintyKg, double coefficient, double flowRelative) {
        double leftForScale = Math.pow(USEFUL_UNCERTAINTY / coefficient, 2) - flowRelative * flowRelative;
        if (!(leftForScale > 0)) {
            return new TooUncertain(
                    usedKg,
                    Double.NaN,
                    "The pressure is too uncertain for any weighing to tell: capture the sensor's zero with the hose off,"
                            + " or burn at a higher pressure.");
        }
        return new TooUncertain(
                usedKg,
                differenceUncertaintyKg / Math.sqrt(leftForScale),
                "Too little gas for this scale: burn longer between the two weighings, or weigh on a finer scale.");
    }
}
