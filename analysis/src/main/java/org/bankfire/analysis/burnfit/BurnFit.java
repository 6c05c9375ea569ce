package org.bankfire.analysis.burnfit;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.burnfit.BurnFitResult.LedgerEntry;
import org.bankfire.analysis.burnfit.BurnFitResult.Loss;
import org.bankfire.analysis.burnfit.BurnFitResult.Moment;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.burnfit.FittedParameter.Status;
import org.bankfire.analysis.fit.Estimate;
import org.bankfire.analysis.fit.FitParameter;
import org.bankfire.analysis.fit.FitProblem;
import org.bankfire.analysis.fit.FitResult;
import org.bankfire.analysis.fit.FitSettings;
import org.bankfire.analysis.fit.ForwardDifferences;
import org.bankfire.analysis.fit.LeastSquaresSolver;
import org.bankfire.analysis.fit.ModelError;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.HeatLedger;
import org.bankfire.analysis.heat.SteadyForge;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.quantity.Range;

/**
 * Fits the forge's model to a burn: heat-up, idle, cool-down, or any part of them together, with the measured pressure as
 * its input and the description as what is known beforehand.
 */
public final class BurnFit {
    /** Hot faces at which a loss coefficient can be stated, K. */
    public static final Range LOSS_AT_K = new Range(473.15, 1873.15);
    /** The usual one, K: 1000 °C. */
    public static final double USUAL_LOSS_AT_K = 1273.15;

    /** Half a minute by the second: less is no burn. */
    private static final int FEWEST_STRETCHES = 20;
    /** Of the model's value: steps that are fixed make it smooth, and only the gas temperature's tolerance is left. */
    private static final double RELATIVE_NOISE = 1e-9;

    /**
     * What two forge models of different hands differ by when they have the same forge, K, and how many independent pieces
     * of knowledge an hour of it holds at most: found with the virtual forge, whose equations are others.
     */
    private static final ModelError MODEL_ERROR = new ModelError(3.5, 30);

    private static final int MOST_EVALUATIONS = 100;
    private static final double TOLERANCE = 1e-4;
    /** Narrowed to this share of what it was, the knowledge of a parameter comes from the burn. */
    private static final double TOLD = 0.5;
    /** A factor known no better than this is not known. */
    private static final double UNKNOWN = 0.2;
    /** An interval wider than this share of its value, either way, is no figure to show. */
    private static final double TOO_WIDE = 0.5;

    /** A fit that misses the readings by more than this, root mean square, tells nothing. */
    private static final double MISFIT_K = 30;

    private static final String MORE = "record a cool-down of a quarter of an hour and an idle of ten minutes";

    private static final double STEP = 1e-4;
    private static final int MOST_LEDGER_ENTRIES = 120;
    /** A forge that starts this much above ambient is still warm from before. */
    private static final double WARM_K = 60;

    private final ForgeDescription forge;
    private final BurnRecord record;
    private final double lossAtK;
    private final Knowledge knowledge;
    private final List<FitParameter> unknowns;
    private final BurnModel model;

    private BurnFit(ForgeDescription forge, BurnRecord record, double lossAtK) {
        this.forge = forge;
        this.record = record;
        this.lossAtK = lossAtK;
        knowledge = Knowledge.of(forge, record);
        unknowns = Unknown.parameters(forge, knowledge);
        model = new BurnModel(forge, record, expected());
    }

    /**
     * Fits a burn.
     *
     * @param forge what is known of the forge
     * @param record of the burn, from gas on
     * @param lossAtK hot face at which the loss coefficient is stated, K, 473 to 1873
     */
    public static BurnFitResult fit(ForgeDescription forge, BurnRecord record, double lossAtK) {
        LOSS_AT_K.require("temperature of the loss coefficient in K", lossAtK);
        return new BurnFit(forge, record, lossAtK).fit();
    }

    private double[] expected() {
        return unknowns.stream().mapToDouble(FitParameter::start).toArray();
    }

    private BurnFitResult fit() {
        if (model.residualCount() < FEWEST_STRETCHES) {
            return unfitted("the record has " + model.residualCount()
                    + " stretches with good chamber readings: at least " + FEWEST_STRETCHES + " are needed");
        }
        ForwardDifferences differences = new ForwardDifferences(
                unknowns, model.residualCount(), RELATIVE_NOISE, (at, residuals) -> model.residuals(at, residuals));
        FitSettings settings = FitSettings.STANDARD
                .with(org.bankfire.analysis.fit.Loss.HUBER)
                .with(MODEL_ERROR)
                .withEvaluations(MOST_EVALUATIONS)
                .withTolerance(TOLERANCE);
        FitResult fit = LeastSquaresSolver.solve(new FitProblem(unknowns, differences), settings);
        if (fit instanceof FitResult.Converged converged) {
            return result(converged);
        }
        if (fit instanceof FitResult.IllConditioned ill) {
            return unfitted("the record cannot tell apart " + ill.direction());
        }
        return unfitted("no fit was found: " + ((FitResult.NotConverged) fit).why());
    }

    private BurnFitResult unfitted(String why) {
        List<FittedParameter> parameters = new ArrayList<>();
        for (Unknown unknown : Unknown.values()) {
            double expected = unknowns.get(unknown.place()).start();
            parameters.add(new FittedParameter(
                    unknown.code(),
                    unknown.unit(),
                    expected,
                    Double.NaN,
                    Double.NaN,
                    Double.NaN,
                    Status.NOT_IDENTIFIABLE,
                    expected,
                    Double.NaN,
                    unknown.remedy()));
        }
        Band nothing = new Band(Double.NaN, Double.NaN, Double.NaN);
        return new BurnFitResult(
                false,
                why,
                record.samples(),
                Double.NaN,
                Double.NaN,
                Double.NaN,
                parameters,
                new Loss(lossAtK, nothing, Double.NaN, why),
                Double.NaN,
                List.of(),
                List.of(),
                Comparing.nothing(),
                List.of(why),
                KnownForge.described(forge, ToldForge.MEMBERS));
    }

    private BurnFitResult result(FitResult.Converged fit) {
        double[] at = fit.estimates().stream().mapToDouble(Estimate::value).toArray();
        List<FittedParameter> parameters = new ArrayList<>();
        for (Unknown unknown : Unknown.values()) {
            parameters.add(parameter(unknown, fit.estimates().get(unknown.place())));
        }
        Comparing comparing = new Comparing(forge, record, model, knowledge, expected(), at, parameters);
        double[] fittedK = new double[record.stretches().size()];
        List<LedgerEntry> ledger = new ArrayList<>();
        walk(at, fittedK, ledger);
        List<Moment> curve = new ArrayList<>();
        for (int i = 0; i < fittedK.length; i++) {
            Stretch stretch = record.stretches().get(i);
            curve.add(new Moment(
                    (stretch.startS() + stretch.endS()) / 2, stretch.chamberK(), fittedK[i], comparing.predictedK(i)));
        }
        Loss loss = loss(fit, at);
        return new BurnFitResult(
                true,
                "",
                record.samples(),
                fit.residuals().effectiveSamples(),
                fit.residuals().rms(),
                fit.residuals().runsZ(),
                parameters,
                loss,
                ResponseTime.seconds(model.model(at), forge.targetK(), forge.ambientK()),
                curve,
                ledger,
                comparing.comparison(),
                remarks(fit),
                known(fit));
    }

    /** What a model that does not follow the burn says of the forge is worth nothing. */
    private KnownForge known(FitResult.Converged fit) {
        return fit.residuals().rms() > MISFIT_K
                ? KnownForge.described(forge, ToldForge.MEMBERS)
                : ToldForge.of(forge, fit);
    }

    private FittedParameter parameter(Unknown unknown, Estimate estimate) {
        double narrowedTo = estimate.narrowing();
        Status status;
        if (estimate.atBound() || (unknown == Unknown.HEAT_RELEASE && !knowledge.hasAnchor())) {
            // What narrows a heat release that nothing anchors is what was believed of walls and holes.
            status = Status.NOT_IDENTIFIABLE;
        } else if (narrowedTo <= TOLD) {
            status = Status.IDENTIFIED;
        } else {
            double relative = estimate.standardError() / estimate.value();
            status = relative <= UNKNOWN ? Status.PRIOR : Status.NOT_IDENTIFIABLE;
        }
        return new FittedParameter(
                unknown.code(),
                unknown.unit(),
                estimate.value(),
                estimate.standardError(),
                estimate.low95(),
                estimate.high95(),
                status,
                unknowns.get(unknown.place()).start(),
                narrowedTo,
                status == Status.IDENTIFIED ? "" : unknown.remedy());
    }

    private void walk(double[] at, double[] fittedK, List<LedgerEntry> ledger) {
        int group = (fittedK.length + MOST_LEDGER_ENTRIES - 1) / MOST_LEDGER_ENTRIES;
        HeatLedger[] before = {new HeatLedger(0, 0, 0, 0, 0, 0)};
        double[] fromS = {0};
        model.walk(at, (i, meanK, run) -> {
            fittedK[i] = meanK;
            if ((i + 1) % group == 0 || i == fittedK.length - 1) {
                HeatLedger now = run.ledgerJ();
                double toS = record.stretches().get(i).endS();
                ledger.add(new LedgerEntry(fromS[0], toS, now.since(before[0]).over(toS - fromS[0])));
                before[0] = now;
                fromS[0] = toS;
            }
        });
    }

    /** The loss coefficient, its error carried over from the parameters to first order in their logarithms. */
    private Loss loss(FitResult.Converged fit, double[] at) {
        double value = lossWPerK(at);
        double[] gradient = new double[at.length];
        for (int j = 0; j < at.length; j++) {
            double[] shifted = at.clone();
            shifted[j] *= 1 + STEP;
            gradient[j] = fit.estimates().get(j).atBound() ? 0 : (lossWPerK(shifted) - value) / (at[j] * STEP);
        }
        double relative = fit.covariance().standardError(gradient) / value;
        double narrowedTo = relative / described(gradient, at, value);
        double t = fit.studentT95();
        Band interval = new Band(value, value * Math.exp(-t * relative), value * Math.exp(t * relative));
        Band nothing = new Band(Double.NaN, Double.NaN, Double.NaN);
        if (!knowledge.hasAnchor()) {
            return new Loss(
                    lossAtK,
                    nothing,
                    narrowedTo,
                    "temperatures alone fix only ratios of heats: weigh the cylinder, or measure the gas pressure at a"
                            + " jet of known bore");
        }
        if (fit.residuals().rms() > MISFIT_K) {
            return new Loss(
                    lossAtK,
                    nothing,
                    narrowedTo,
                    "no forge of this kind behaves as this record does: look whether jet, plug and probe are as described,"
                            + " and whether the readings are of one burn");
        }
        if (t * relative > TOO_WIDE) {
            return new Loss(
                    lossAtK,
                    new Band(Double.NaN, interval.low95(), interval.high95()),
                    narrowedTo,
                    "this burn does not tell losses from stored heat: " + MORE);
        }
        if (isWarm()) {
            return new Loss(
                    lossAtK, interval, narrowedTo, "the forge was still warm at the start: a burn from cold tells it");
        }
        String advice = narrowedTo > Loss.DESCRIBED
                ? "this is what the description says, and the burn hardly told more: " + MORE
                : "";
        return new Loss(lossAtK, interval, narrowedTo, advice);
    }

    /** Relative standard deviation of the loss by the description alone. */
    private double described(double[] gradient, double[] at, double value) {
        double sum = 0;
        for (Unknown unknown : Unknown.values()) {
            int j = unknown.place();
            double part = gradient[j] * at[j] / value * knowledge.deviation(unknown);
            sum += part * part;
        }
        return Math.sqrt(sum);
    }

    private double lossWPerK(double[] at) {
        return new SteadyForge(model.model(at), true, forge.ambientK()).lossWPerK(lossAtK);
    }

    private boolean isWarm() {
        return model.startK() - forge.ambientK() > WARM_K;
    }

    private List<String> remarks(FitResult.Converged fit) {
        List<String> remarks = new ArrayList<>();
        remarks.add("The wall takes heat with the square root of time at first: a loss read from the first minutes of a"
                + " heat-up would be several times too large. The loss coefficient stated here is that of the soaked"
                + " lining.");
        if (isWarm()) {
            remarks.add("The forge was still warm at the start, and how deep is not known: a cold start tells more.");
        }
        if (!record.hasPressure()) {
            remarks.add(
                    "No gas pressure was recorded: the burner was taken to run at its heat-up pressure throughout.");
        }
        if (knowledge.weighed()) {
            remarks.add("The gas flow is anchored by the cylinder's mass.");
        }
        if (record.stretches().stream().anyMatch(Stretch::stockIn)) {
            remarks.add("Readings with stock in count for little: nobody noted how large it is.");
        }
        if (fit.residuals().rms() > MISFIT_K) {
            remarks.add("The model does not follow this burn: the figures are those of the description.");
        }
        if (fit.priorMisfit() > 2 * unknowns.size()) {
            remarks.add("Burn and description contradict each other: check bores, lining and openings as described.");
        }
        return remarks;
    }
}
