package org.bankfire.analysis.burnfit;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import org.bankfire.analysis.burnfit.BurnFitResult.Comparison;
import org.bankfire.analysis.burnfit.BurnFitResult.Explanation;
import org.bankfire.analysis.burnfit.BurnFitResult.Milestone;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.SteadyForge;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.LatinHypercube;
import org.bankfire.analysis.quantity.Constants;

/** A burn against what its description lets expect, along the pressure that was really set. */
final class Comparing {
    /** Fewer than a prediction's: their ends rest on one or two members, and a burn is fitted on a small board. */
    private static final int MEMBERS = 40;

    private static final double MILESTONE_K = 100;
    /** The last stretch of fire that tells the pressure for the steady state. */
    private static final double LAST_FIRE_S = 120;

    private final ForgeDescription forge;
    private final BurnModel model;
    private final double[] expected;
    private final double[] fitted;
    private final List<FittedParameter> parameters;
    private final List<Stretch> stretches;
    private final double[] predictedK;
    private final Band[] bands;
    private final double[][] members;
    private final double[] memberTimesS = new double[MEMBERS];
    private final double steadyGaugePa;

    Comparing(
            ForgeDescription forge,
            BurnRecord record,
            BurnModel model,
            Knowledge knowledge,
            double[] expected,
            double[] fitted,
            List<FittedParameter> parameters) {
        this.forge = forge;
        this.model = model;
        this.expected = expected;
        this.fitted = fitted;
        this.parameters = parameters;
        stretches = record.stretches();
        predictedK = curve(expected);
        members = members(knowledge);
        bands = bands();
        steadyGaugePa = steadyGaugePa();
    }

    static Comparison nothing() {
        Band none = new Band(Double.NaN, Double.NaN, Double.NaN);
        return new Comparison(Double.NaN, none, Double.NaN, Double.NaN, none, List.of(), List.of(), "");
    }

    private double[] curve(double[] at) {
        double[] curve = new double[stretches.size()];
        model.walk(at, (i, meanK, run) -> curve[i] = meanK);
        return curve;
    }

    private double[][] members(Knowledge knowledge) {
        double[][] deviations = LatinHypercube.normal(MEMBERS, expected.length);
        for (double[] member : deviations) {
            for (Unknown unknown : Unknown.values()) {
                int j = unknown.place();
                member[j] = expected[j] * Math.exp(knowledge.deviation(unknown) * member[j]);
            }
        }
        return deviations;
    }

    private Band[] bands() {
        double[][] curves = new double[MEMBERS][];
        for (int m = 0; m < MEMBERS; m++) {
            curves[m] = curve(members[m]);
            memberTimesS[m] = timeTo(curves[m], forge.targetK());
        }
        Band[] result = new Band[stretches.size()];
        for (int i = 0; i < result.length; i++) {
            double[] at = new double[MEMBERS];
            for (int m = 0; m < MEMBERS; m++) {
                at[m] = curves[m][i];
            }
            result[i] = Band.of(predictedK[i], at);
        }
        return result;
    }

    /** Prediction over a stretch. */
    Band predictedK(int stretch) {
        return bands[stretch];
    }

    private double steadyGaugePa() {
        double lastS = Double.NaN;
        double sum = 0;
        double seconds = 0;
        for (int i = stretches.size() - 1; i >= 0; i--) {
            Stretch stretch = stretches.get(i);
            double gaugePa = model.gaugePa(stretch);
            if (gaugePa > RecordDrive.GAS_ON_PA && stretch.lit()) {
                lastS = Double.isNaN(lastS) ? stretch.endS() : lastS;
                if (lastS - stretch.startS() > LAST_FIRE_S && seconds > 0) {
                    break;
                }
                sum += gaugePa * stretch.lengthS();
                seconds += stretch.lengthS();
            }
        }
        return seconds > 0 ? sum / seconds : Double.NaN;
    }

    private double steadyK(double[] at) {
        if (Double.isNaN(steadyGaugePa)) {
            return Double.NaN;
        }
        ForgeModel forgeModel = model.model(at);
        Firing firing = new Firing(forgeModel.gasKgPerS(steadyGaugePa, forge.ambientK()), true);
        return new SteadyForge(forgeModel, true, forge.ambientK()).at(firing).chamberK();
    }

    Comparison comparison() {
        double[] measured = stretches.stream().mapToDouble(Stretch::chamberK).toArray();
        double measuredS = timeTo(measured, forge.targetK());
        double predictedS = timeTo(predictedK, forge.targetK());
        double[] memberSteady = new double[MEMBERS];
        for (int m = 0; m < MEMBERS; m++) {
            memberSteady[m] = steadyK(members[m]);
        }
        Band time = Band.of(predictedS, memberTimesS);
        Band steady = Double.isNaN(steadyGaugePa)
                ? new Band(Double.NaN, Double.NaN, Double.NaN)
                : Band.of(steadyK(expected), memberSteady);
        double fittedSteadyK = steadyK(fitted);
        List<Explanation> explanations = explanations(predictedS, steady.value());
        return new Comparison(
                measuredS,
                time,
                steadyGaugePa,
                fittedSteadyK,
                steady,
                milestones(measured),
                explanations,
                verdict(fittedSteadyK, steady, explanations));
    }

    private double timeTo(double[] kelvin, double targetK) {
        double beforeS = 0;
        double beforeK = Double.NaN;
        for (int i = 0; i < kelvin.length; i++) {
            if (Double.isNaN(kelvin[i])) {
                continue;
            }
            double middleS = (stretches.get(i).startS() + stretches.get(i).endS()) / 2;
            if (kelvin[i] >= targetK) {
                double part = (targetK - beforeK) / (kelvin[i] - beforeK);
                return Double.isNaN(beforeK) ? middleS : beforeS + part * (middleS - beforeS);
            }
            beforeS = middleS;
            beforeK = kelvin[i];
        }
        return Double.NaN;
    }

    private List<Milestone> milestones(double[] measured) {
        List<Milestone> milestones = new ArrayList<>();
        double hottest = Double.NEGATIVE_INFINITY;
        for (double kelvin : measured) {
            hottest = Double.isNaN(kelvin) ? hottest : Math.max(hottest, kelvin);
        }
        double first = Math.ceil((model.startK() - Constants.ZERO_CELSIUS_K) / MILESTONE_K + 0.5) * MILESTONE_K;
        for (double celsius = first; celsius + Constants.ZERO_CELSIUS_K <= hottest; celsius += MILESTONE_K) {
            double kelvin = celsius + Constants.ZERO_CELSIUS_K;
            milestones.add(new Milestone(kelvin, timeTo(measured, kelvin), timeTo(predictedK, kelvin)));
        }
        return milestones;
    }

    private List<Explanation> explanations(double predictedS, double predictedSteadyK) {
        List<Explanation> explanations = new ArrayList<>();
        for (Unknown unknown : Unknown.values()) {
            int j = unknown.place();
            double[] moved = expected.clone();
            moved[j] = fitted[j];
            FittedParameter parameter = parameters.get(j);
            boolean beyond = expected[j] < parameter.low95() || expected[j] > parameter.high95();
            explanations.add(new Explanation(
                    unknown.code(),
                    steadyK(moved) - predictedSteadyK,
                    timeTo(curve(moved), forge.targetK()) - predictedS,
                    beyond));
        }
        explanations.sort(Comparator.comparingDouble(each -> -Math.abs(each.steadyK())));
        return explanations;
    }

    private static String verdict(double fittedSteadyK, Band predicted, List<Explanation> explanations) {
        double difference = fittedSteadyK - predicted.value();
        if (Double.isNaN(difference)) {
            return "No gas flowed in this record: there is no steady temperature to compare.";
        }
        boolean outside = fittedSteadyK < predicted.low95() || fittedSteadyK > predicted.high95();
        String size = String.format(
                Locale.ROOT,
                "The forge would settle %.0f K %s than described",
                Math.abs(difference),
                difference < 0 ? "lower" : "higher");
        Explanation first = explanations.get(0);
        boolean itself = first.steadyK() * difference > 0 && Math.abs(first.steadyK()) < 1.5 * Math.abs(difference);
        String cause = String.format(
                Locale.ROOT,
                itself
                        ? "; most of it (%+.0f K) by %s"
                        : "; differences that partly cancel, the greatest (%+.0f K) by %s",
                first.steadyK(),
                first.parameter());
        return size
                + (outside ? ", more than the description leaves open" : ", within what the description leaves open")
                + cause
                + (first.beyondDoubt() ? "." : ", which this burn does not prove.");
    }
}
