package org.bankfire.analysis.burnfit;

import java.util.List;
import org.bankfire.analysis.heat.HeatLedger;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;

/**
 * What a burn tells of its forge.
 *
 * @param converged whether there is a fit; else its figures are the last ones tried, without errors
 * @param why what stood in the way of a fit; empty when nothing did
 * @param samples chamber readings
 * @param effectiveSamples how many independent ones they are worth
 * @param rmsResidualK root mean square of model less measurement, K
 * @param runsZ of the residuals' signs; far below 0 the model misses a trend
 * @param parameters in a fixed order
 * @param loss the loss coefficient
 * @param timeConstantS how long the soaked forge takes for 63 % of a small change of its gas, s; NaN when unknown
 * @param curve measured, fitted and predicted temperatures over the burn
 * @param ledger where the heat went
 * @param comparison of burn and prediction
 * @param remarks what the reader must know to read the figures rightly, in words
 * @param known the forge as this burn has told it; as described when there is no fit
 */
public record BurnFitResult(
        boolean converged,
        String why,
        long samples,
        double effectiveSamples,
        double rmsResidualK,
        double runsZ,
        List<FittedParameter> parameters,
        Loss loss,
        double timeConstantS,
        List<Moment> curve,
        List<LedgerEntry> ledger,
        Comparison comparison,
        List<String> remarks,
        KnownForge known) {
    public BurnFitResult {
        parameters = List.copyOf(parameters);
        curve = List.copyOf(curve);
        ledger = List.copyOf(ledger);
        remarks = List.copyOf(remarks);
    }

    /** The parameter of that name. */
    public FittedParameter parameter(String name) {
        return parameters.stream()
                .filter(each -> each.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no parameter " + name));
    }

    /**
     * Heat lost through lining and openings in the fully soaked state, per kelvin of the hot face above ambient.
     *
     * @param atK hot face at which it is stated, K
     * @param wattsPerK with its 95 % interval; NaN when the burn cannot tell watts
     * @param narrowedTo its uncertainty over that of the description alone: near 1 the figure is the description's
     * @param advice what would tell it, or more of it; empty when the burn does
     */
    public record Loss(double atK, Band wattsPerK, double narrowedTo, String advice) {
        /** Above this the figure comes from the description, not from the burn. */
        public static final double DESCRIBED = 0.9;

        /** Whether the burn told it. */
        public boolean isTold() {
            return !Double.isNaN(wattsPerK.value()) && advice.isEmpty();
        }
    }

    /**
     * Temperatures over a stretch.
     *
     * @param timeS its middle, s since the burn's start
     * @param measuredK mean of the readings, K; NaN without readings
     * @param fittedK of the fit, K
     * @param predictedK of the description, with its 95 % band, K
     */
    public record Moment(double timeS, double measuredK, double fittedK, Band predictedK) {}

    /**
     * Heat over a stretch.
     *
     * @param fromS s since the burn's start
     * @param toS its end, s
     * @param watts mean, W
     */
    public record LedgerEntry(double fromS, double toS, HeatLedger watts) {}

    /**
     * Burn against prediction.
     *
     * @param measuredTimeToTargetS NaN when the target was not reached
     * @param predictedTimeToTargetS with its band; NaN when it is not reached
     * @param steadyGaugePa pressure that the steady temperatures belong to, Pa gauge; NaN when no gas flowed
     * @param fittedSteadyK where the forge would come to rest at that pressure by the fit, K
     * @param predictedSteadyK by the description, with its band, K
     * @param milestones times to round temperatures
     * @param explanations which parameter makes how much of the difference, greatest first
     * @param verdict in a sentence
     */
    public record Comparison(
            double measuredTimeToTargetS,
            Band predictedTimeToTargetS,
            double steadyGaugePa,
            double fittedSteadyK,
            Band predictedSteadyK,
            List<Milestone> milestones,
            List<Explanation> explanations,
            String verdict) {
        public Comparison {
            milestones = List.copyOf(milestones);
            explanations = List.copyOf(explanations);
        }
    }

    /**
     * Time to a temperature.
     *
     * @param chamberK K
     * @param measuredS s since the burn's start; NaN when not reached
     * @param predictedS s; NaN when not reached
     */
    public record Milestone(double chamberK, double measuredS, double predictedS) {}

    /**
     * What one parameter's difference from the expected does by itself.
     *
     * @param parameter its name
     * @param steadyK to the steady temperature, K
     * @param timeToTargetS to the time to target, s; NaN when not reached
     * @param beyondDoubt whether its interval leaves out what was expected
     */
    public record Explanation(String parameter, double steadyK, double timeToTargetS, boolean beyondDoubt) {}
}
