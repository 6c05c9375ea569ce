package org.bankfire.analysis.trial;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.ForgeRun;
import org.bankfire.analysis.heat.HeatLedger;
import org.bankfire.analysis.heat.SteadyForge;
import org.bankfire.analysis.prediction.GasProgramme;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.prediction.Prior;
import org.bankfire.analysis.quantity.Constants;

/**
 * What the fit of a burn tells, at common conditions.
 *
 * <p>The fit's covariance holds two things: what the burn left open, and what the description says of the forge, which is
 * the same for all its burns and cancels in a difference. With P the covariance of the logarithms of the parameters, Λ the
 * inverse of that before the burn (diagonal) and g a figure's gradient, the error that a burn has for itself has the
 * variance gᵀPg − gᵀPΛPg: that of a least-squares estimate with a prior, over repeated data (A. Gelman et al., <i>Bayesian
 * Data Analysis</i>, 3rd ed., 14.8 has the estimate; from memory). A figure for which the second part is large is the
 * description's, and no difference of burns shows in it.
 */
final class FittedFigures {
    /** Step of a gradient, in the logarithm of a parameter. */
    private static final double STEP = 0.01;
    /** Builders measure walls and holes with a rule; as in the fit of a burn. */
    private static final double BUILDER = 0.05;
    /** Part of the variance that comes from the description, from which on a figure is the description's. */
    private static final double DESCRIBED = 0.5;
    /** A share, or K, from which on an interval is no figure. */
    private static final double TOO_WIDE_SHARE = 0.25;

    private static final double TOO_WIDE_K = 80;

    private static final double NORMAL95 = 1.959964;
    private static final double S_PER_H = 3600;
    private static final double STEP_S = 20;
    private static final double LONGEST_S = 4 * 3600;
    private static final double HIGHEST_PA = GasProgramme.GAUGE_PA.high();
    private static final int HEAT_RELEASE = 0;

    private final TrialStretch stretch;
    private final Conditions at;
    private final Optional<KnownForge> fit;
    private final double[][] covariance;
    private final double[] before;

    FittedFigures(TrialStretch stretch, Conditions at) {
        this.stretch = stretch;
        this.at = at;
        fit = Optional.ofNullable(stretch.burn().fit())
                .filter(known -> known.basis() == KnownForge.Basis.FITTED
                        && known.members().size() > ForgeParameters.COUNT);
        covariance = fit.map(FittedFigures::covariance).orElse(new double[0][0]);
        before = fit.map(FittedFigures::before).orElse(new double[0]);
    }

    private static double[][] covariance(KnownForge known) {
        double[] best = logs(known.parameters());
        double[][] sums = new double[best.length][best.length];
        for (ForgeParameters member : known.members()) {
            double[] log = logs(member);
            for (int i = 0; i < best.length; i++) {
                for (int j = 0; j < best.length; j++) {
                    sums[i][j] += (log[i] - best[i])
                            * (log[j] - best[j])
                            / known.members().size();
                }
            }
        }
        return sums;
    }

    /** What is 0 has no logarithm, and is not varied. */
    private static double[] logs(ForgeParameters parameters) {
        double[] all = parameters.inOrder();
        for (int i = 0; i < all.length; i++) {
            all[i] = all[i] > 0 ? Math.log(all[i]) : 0;
        }
        return all;
    }

    /** Variances before the burn. */
    private static double[] before(KnownForge known) {
        List<Prior> priors = Prior.of(known.description());
        double[] variances = new double[priors.size()];
        for (int i = 0; i < variances.length; i++) {
            double deviation = priors.get(i).relativeStandardDeviation();
            boolean built = switch (priors.get(i).name()) {
                case "liningConductivityScale", "liningCapacityScale", "effectiveOpeningArea" -> true;
                default -> false;
            };
            variances[i] = deviation * deviation + (built ? BUILDER * BUILDER : 0);
        }
        return variances;
    }

    StretchFigure of(FigureKey key) {
        if (fit.isEmpty()) {
            return StretchFigure.untold(
                    key,
                    "there is no fit of this burn that follows its readings",
                    "a burn from cold with gas pressure recorded, an idle of ten minutes and a cool-down");
        }
        if (!stretch.isOfOneForge()) {
            return StretchFigure.untold(
                    key,
                    "settings other than the plug changed during the burn, and its fit is of all of it",
                    "a burn under one set of settings");
        }
        ForgeParameters best = fit.get().parameters();
        TrialFigure figure = key.figure();
        double value = value(key, best);
        double scaled = figure.scaled(value);
        if (!Double.isFinite(scaled)) {
            return StretchFigure.untold(
                    key, "by the fit, the forge does not get there", "more gas pressure, or a lower target");
        }
        double[] gradient = gradient(key, best, scaled);
        double total = 0;
        double common = 0;
        double jet = 0;
        for (int i = 0; i < gradient.length; i++) {
            double shifted = 0;
            for (int j = 0; j < gradient.length; j++) {
                shifted += covariance[i][j] * gradient[j];
            }
            total += gradient[i] * shifted;
            double part = shifted * shifted / before[i];
            common += part;
            jet += i == HEAT_RELEASE ? part : 0;
        }
        return judged(key, value, total, common, jet);
    }

    private StretchFigure judged(FigureKey key, double value, double total, double common, double jet) {
        double error = Math.sqrt(total);
        if (!(error > 0) || error > (key.figure().isPlain() ? TOO_WIDE_K : TOO_WIDE_SHARE)) {
            return StretchFigure.untold(
                    key, "the burn leaves it open", "a burn from cold, an idle of ten minutes and a cool-down");
        }
        double described = Math.min(1, common / total);
        StretchFigure told = StretchFigure.told(
                        key,
                        value,
                        error,
                        NORMAL95,
                        described > DESCRIBED ? Double.NaN : error / Math.sqrt(1 - described))
                .withJetError(Math.sqrt(jet));
        return described > DESCRIBED
                ? new StretchFigure(
                        key,
                        told.band(),
                        Double.NaN,
                        told.jetError(),
                        "most of it is what the description says: a difference would not show",
                        "weigh the cylinder, record an idle of ten minutes and a cool-down")
                : told;
    }

    private double[] gradient(FigureKey key, ForgeParameters best, double scaled) {
        double[] gradient = new double[ForgeParameters.COUNT];
        for (int j = 0; j < gradient.length; j++) {
            double[] all = best.inOrder();
            all[j] *= Math.exp(STEP);
            try {
                double moved = key.figure().scaled(value(key, ForgeParameters.ofOrder(all)));
                gradient[j] = Double.isFinite(moved) ? (moved - scaled) / STEP : 0;
            } catch (IllegalArgumentException beyondItsRange) {
                gradient[j] = 0;
            }
        }
        return gradient;
    }

    private double value(FigureKey key, ForgeParameters parameters) {
        ForgeDescription forge = fit.orElseThrow().description();
        double ambientK = ForgeDescription.AMBIENT_K.nearest(at.ambientK());
        ForgeModel model = new ForgeModel(forge, parameters);
        SteadyForge rest = new SteadyForge(model, stretch.isPlugIn(), ambientK);
        return switch (key.figure()) {
            case STEADY_TEMPERATURE ->
                rest.at(new Firing(model.gasKgPerS(at.gaugePa(), forge.ambientK()), true))
                                .chamberK()
                        - Constants.ZERO_CELSIUS_K;
            case GAS_AT_TARGET ->
                S_PER_H * rest.holdingKgPerS(key.atK(), model.gasKgPerS(HIGHEST_PA, forge.ambientK()));
            case LOSS_COEFFICIENT -> rest.lossWPerK(key.atK());
            case EFFICIENCY -> efficiency(model, key.atK(), ambientK);
            case MIXTURE -> parameters.mixture();
            case TIME_TO_TARGET, HEATING_RATE, CHAMBER_FLUTTER, GAS_FLUTTER ->
                throw new IllegalArgumentException(key + " is not fitted");
        };
    }

    private double efficiency(ForgeModel model, double targetK, double ambientK) {
        ForgeRun run = new ForgeRun(model, ForgeRun.START_K.nearest(at.throughoutK()), ambientK);
        run.plug(stretch.isPlugIn());
        run.fire(new Firing(model.gasKgPerS(at.gaugePa(), model.forge().ambientK()), true));
        double beforeK = run.chamberK();
        HeatLedger earlier = run.ledgerJ();
        while (run.timeS() < LONGEST_S) {
            run.advanceTo(run.timeS() + STEP_S);
            HeatLedger ledger = run.ledgerJ();
            if (run.chamberK() >= targetK) {
                double part = (targetK - beforeK) / (run.chamberK() - beforeK);
                double input = earlier.input() + part * (ledger.input() - earlier.input());
                double flue = earlier.flue() + part * (ledger.flue() - earlier.flue());
                return input > 0 ? 1 - flue / input : Double.NaN;
            }
            beforeK = run.chamberK();
            earlier = ledger;
        }
        return Double.NaN;
    }
}
