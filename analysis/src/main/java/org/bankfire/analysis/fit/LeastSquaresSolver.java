package org.bankfire.analysis.fit;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.fit.FitResult.Why;
import org.jspecify.annotations.Nullable;

/**
 * Fits a problem: the most probable parameters given data and priors.
 *
 * <p>A descent ({@link Minimizer}) runs with given weights; the noise and the robust weights are then taken from its residuals
 * ({@link NoiseLevel}) and it runs again from where it was, until nothing changes (iteratively reweighted least squares,
 * Holland and Welsch 1977). With priors, the noise's autocorrelation is taken from a fit in which the data had their full
 * weight, and a last descent gives each residual the weight of its share of the effective sample size: else correlated
 * residuals would shout the priors down. Without priors and with squares, one descent does.
 *
 * <p>When a descent ends without a minimum or in a valley, it is tried again from the start with a first step a hundred and
 * a thousand times more cautious, MINPACK's range for it; the lower sum of squares wins. A start that is far off can still
 * end in a minimum that is only local: the method promises no more.
 */
public final class LeastSquaresSolver {
    /** MINPACK's recommended range of its {@code factor}, 0.1 to 100. */
    private static final double[] FIRST_STEPS = {Minimizer.CUSTOMARY_STEP, 1, 0.1};

    /** Reweighting shrinks a change to about a third each round; 40 rounds are 19 digits. */
    private static final int ROUNDS = 40;

    /** A change of a parameter, in scales or in itself, that is none, unless the descent itself is less exact. */
    private static final double STILL = 1e-7;

    /** A descent ends this many times its tolerance from where it would end. */
    private static final double ROUGHLY = 100;

    /** A change of the noise that is none: intervals are not known better than that. */
    private static final double NOISE_STILL = 0.01;

    /** An error that was stated need not be estimated from few samples: Student's quantile is then nearly the normal one. */
    private static final double STATED_FREEDOM = 60;

    /** Two sums of squares this near, relatively, are the same. */
    private static final double SAME_COST = 1e-6;

    private LeastSquaresSolver() {}

    /** The fit of {@code problem}; bounded by the evaluations of {@code settings} times rounds times first steps. */
    public static FitResult solve(FitProblem problem, FitSettings settings) {
        FitResult best = attempt(problem, settings, FIRST_STEPS[0]);
        for (int i = 1; i < FIRST_STEPS.length && worthAnother(best); i++) {
            FitResult next = attempt(problem, settings, FIRST_STEPS[i]);
            double least = best.residuals().sumOfSquares();
            double found = next.residuals().sumOfSquares();
            if (found < least * (1 - SAME_COST)
                    || (next instanceof FitResult.Converged && found <= least * (1 + SAME_COST))) {
                best = next;
            }
        }
        return best;
    }

    private static boolean worthAnother(FitResult result) {
        if (result instanceof FitResult.NotConverged failed) {
            return failed.why() == Why.EVALUATIONS_SPENT || failed.why() == Why.UNDEFINED_DERIVATIVE;
        }
        return result instanceof FitResult.IllConditioned;
    }

    private static FitResult attempt(FitProblem problem, FitSettings settings, double firstStep) {
        return new Attempt(problem, settings).run(firstStep);
    }

    /** One way from the start to a result. */
    private static final class Attempt {
        private final FitProblem problem;
        private final FitSettings settings;
        private final boolean priors;
        private final boolean robust;
        private final boolean correlated;
        private double[] values;
        private double[] residuals = {};
        private double[][] triangle = {};
        private Weighting weighting = Weighting.UNIT;

        Attempt(FitProblem problem, FitSettings settings) {
            this.problem = problem;
            this.settings = settings;
            this.priors = problem.priorCount() > 0;
            this.robust = !(settings.loss() instanceof Loss.Squares);
            this.correlated = settings.noise() == FitSettings.Noise.CORRELATED;
            this.values = problem.starts();
        }

        FitResult run(double firstStep) {
            int n = problem.model().residualCount();
            residuals = new double[n];
            if (n <= problem.size() && !priors) {
                problem.model().residuals(values, residuals);
                return failed(Why.TOO_FEW_RESIDUALS);
            }
            Weighting first = Weighting.UNIT;
            if (priors) {
                // The size of the residuals matters from the beginning; what the start leaves is a first guess.
                problem.model().residuals(values, residuals);
                double level = NoiseLevel.of(residuals, problem.size(), Loss.SQUARES, settings.modelError(), false)
                        .weighting()
                        .overall();
                first = new Weighting(Double.isNaN(level) ? 1 : level, null);
            }
            Why why = descend(first, firstStep);
            if (why == null && (priors || robust)) {
                why = reweigh(firstStep);
            }
            if (why != null) {
                return failed(why);
            }
            NoiseLevel level = level(correlated);
            why = priors || robust ? settle(level, firstStep) : null;
            return why == null ? result(level) : failed(why);
        }

        /** Rounds in which noise and robust weights follow the residuals, each residual for a full sample. */
        private @Nullable Why reweigh(double firstStep) {
            for (int round = 0; round < ROUNDS; round++) {
                NoiseLevel level = level(false);
                double[] before = values;
                Why why = descend(level.weighting(), firstStep);
                if (why != null) {
                    return why;
                }
                double change =
                        level(false).weighting().overall() / level.weighting().overall();
                if ((still(before) || !robust) && Math.abs(change - 1) < NOISE_STILL) {
                    return null;
                }
            }
            return Why.WEIGHTS_UNSETTLED;
        }

        /** The last descents: the noise is held, only the robust weights still follow. */
        private @Nullable Why settle(NoiseLevel noise, double firstStep) {
            NoiseLevel level = noise;
            for (int round = 0; round < ROUNDS; round++) {
                double[] before = values;
                weighting = level.weighting();
                Why why = descend(weighting, firstStep);
                if (why != null || !robust || still(before)) {
                    return why;
                }
                level = noise.reweighed(residuals, settings.loss());
            }
            return Why.WEIGHTS_UNSETTLED;
        }

        private @Nullable Why descend(Weighting weights, double firstStep) {
            Minimizer.Minimum minimum = Minimizer.descend(problem, weights, values, settings, firstStep);
            values = minimum.values;
            residuals = minimum.residuals;
            if (minimum.failure == null && !robust) {
                triangle = Information.unweighted(problem, minimum, weights.overall());
            }
            return minimum.failure;
        }

        private NoiseLevel level(boolean withTime) {
            return NoiseLevel.of(residuals, problem.size(), settings.loss(), settings.modelError(), withTime);
        }

        private boolean still(double[] before) {
            for (int j = 0; j < values.length; j++) {
                double size = Math.max(problem.parameters().get(j).scale(), Math.abs(values[j]));
                if (Math.abs(values[j] - before[j]) > Math.max(STILL, ROUGHLY * settings.tolerance()) * size) {
                    return false;
                }
            }
            return true;
        }

        private FitResult failed(Why why) {
            return new FitResult.NotConverged(why, reached(), ResidualReport.of(residuals, problem.size(), 1));
        }

        private FitResult result(NoiseLevel level) {
            ResidualReport report = ResidualReport.of(residuals, problem.size(), level.autocorrelationTime);
            if (robust) {
                // A robust fit's errors stand on the Jacobian without its weights.
                triangle = Information.unweighted(problem, values, residuals);
            }
            Information information = Information.at(problem, values, triangle, level.information());
            if (!(information.condition <= settings.conditionLimit())) {
                return new FitResult.IllConditioned(information.weakest, information.condition, reached(), report);
            }
            double least = settings.modelError().deviation() > 0 ? STATED_FREEDOM : 1;
            double freedom = Math.max(report.effectiveSamples() - information.settledByData(), least);
            double t = StudentT.twoSided95(freedom);
            Covariance covariance = information.covariance();
            List<Estimate> estimates = new ArrayList<>();
            double misfit = 0;
            for (int j = 0; j < values.length; j++) {
                FitParameter parameter = problem.parameters().get(j);
                Prior prior = parameter.prior();
                misfit += prior == null ? 0 : Math.pow(prior.residual(values[j]), 2);
                estimates.add(estimate(parameter, values[j], Math.sqrt(covariance.at(j, j)), t));
            }
            Weighting weights = priors || robust ? weighting : level.weighting();
            return new FitResult.Converged(
                    estimates, covariance, report, information.condition, freedom, misfit, weights);
        }

        private List<FitResult.Reached> reached() {
            List<FitResult.Reached> reached = new ArrayList<>();
            for (int j = 0; j < values.length; j++) {
                FitParameter parameter = problem.parameters().get(j);
                reached.add(new FitResult.Reached(parameter.name(), parameter.unit(), values[j]));
            }
            return reached;
        }
    }

    private static Estimate estimate(FitParameter parameter, double value, double error, double t) {
        Bounds bounds = parameter.bounds();
        double free = bounds.toFree(value, parameter.scale());
        double freeError = error / bounds.slope(free, parameter.scale());
        Prior prior = parameter.prior();
        return new Estimate(
                parameter.name(),
                parameter.unit(),
                value,
                error,
                bounds.fromFree(free - t * freeError, parameter.scale()),
                bounds.fromFree(free + t * freeError, parameter.scale()),
                prior == null ? Double.NaN : error / prior.standardDeviation(value),
                bounds.touches(value, parameter.scale()));
    }
}
