package org.bankfire.analysis.fit;

import java.util.ArrayList;
import java.util.List;

/**
 * Interval of one parameter by its profile: the parameter is held, the others are fitted anew, and the interval ends where the
 * cost has risen by t², t being Student's (Bates and Watts, <i>Nonlinear Regression Analysis and Its Applications</i>, Wiley
 * 1988, section 6.1). It needs no straight model, unlike the asymptotic one, and costs some ten fits on each side. Weights
 * of the residuals stay as the fit left them.
 */
public final class ProfileLikelihood {
    /** Steps outward for a bracket, each 1.6 times the last: 12 reach 450 standard errors. */
    private static final int OUTWARD = 12;

    private static final double GROWTH = 1.6;

    /** Of the root search; it needs about six, and two in three more where the profile jumps. */
    private static final int SEARCH = 90;

    /** Of the root, in free coordinates relative to the standard error: more than an interval deserves. */
    private static final double TOLERANCE = 1e-6;

    private ProfileLikelihood() {}

    /**
     * An interval; infinite, or at the bound, on a side where the cost never rises enough.
     *
     * @param low in the parameter's unit
     * @param high in the parameter's unit
     */
    public record Interval(double low, double high) {}

    /**
     * The 95 % interval.
     *
     * @param problem as it was fitted
     * @param fit what came of it
     * @param settings as it was fitted with
     * @param parameter its name; not one at its bound
     */
    public static Interval of95(FitProblem problem, FitResult.Converged fit, FitSettings settings, String parameter) {
        Estimate estimate = fit.estimate(parameter);
        if (estimate.atBound()) {
            throw new IllegalArgumentException(parameter + " lies at its bound: it has no profile");
        }
        Profile profile = new Profile(problem, fit, settings, parameter);
        return new Interval(profile.end(-1), profile.end(1));
    }

    private static final class Profile {
        private final FitProblem problem;
        private final FitResult.Converged fit;
        private final FitSettings settings;
        private final int place;
        private final FitParameter held;
        private final double t;
        private final double least;
        private final double freeAt;
        private final double freeError;
        private double[] others;

        Profile(FitProblem problem, FitResult.Converged fit, FitSettings settings, String parameter) {
            this.problem = problem;
            this.fit = fit;
            this.settings = settings;
            this.t = StudentT.twoSided95(fit.degreesOfFreedom());
            int found = 0;
            while (!problem.parameters().get(found).name().equals(parameter)) {
                found++;
            }
            this.place = found;
            this.held = problem.parameters().get(place);
            Estimate estimate = fit.estimates().get(place);
            this.freeAt = held.bounds().toFree(estimate.value(), held.scale());
            this.freeError = estimate.standardError() / held.bounds().slope(freeAt, held.scale());
            this.others = best();
            this.least = cost(freeAt);
        }

        private double[] best() {
            double[] values = new double[problem.size() - 1];
            for (int j = 0, k = 0; j < problem.size(); j++) {
                if (j != place) {
                    values[k++] = fit.estimates().get(j).value();
                }
            }
            return values;
        }

        double end(int side) {
            others = best();
            double inner = freeAt;
            double below = -t;
            double step = t * freeError;
            for (int i = 0; i <= OUTWARD; i++) {
                double outer = inner + side * step;
                double above = excess(outer);
                if (above >= 0) {
                    return held.bounds().fromFree(root(inner, below, outer, above), held.scale());
                }
                if (held.bounds().touches(held.bounds().fromFree(outer, held.scale()), held.scale())) {
                    break;
                }
                inner = outer;
                below = above;
                step *= GROWTH;
            }
            return limit(side);
        }

        /**
         * By false position with every third step halved, on the values already known at the ends: a library's search would
         * ask for them again, and a fit from another start may answer a little differently.
         */
        private double root(double inner, double below, double outer, double above) {
            double a = inner;
            double b = outer;
            double fa = below;
            double fb = above;
            for (int i = 0; i < SEARCH && Math.abs(b - a) > TOLERANCE * freeError; i++) {
                double middle = i % 3 == 2 ? (a + b) / 2 : (a * fb - b * fa) / (fb - fa);
                double value = excess(middle);
                if (Math.abs(value) <= TOLERANCE * t) {
                    return middle;
                }
                if (value < 0) {
                    a = middle;
                    fa = value;
                } else {
                    b = middle;
                    fb = value;
                }
            }
            return (a + b) / 2;
        }

        private double limit(int side) {
            return held.bounds().fromFree(side * Double.POSITIVE_INFINITY, held.scale());
        }

        /** √(rise of the cost) − t: nearly straight, so the root is quickly found. */
        private double excess(double free) {
            double rise = cost(free) - least;
            // Where the model is undefined the data exclude the parameter.
            return Double.isFinite(rise) ? Math.sqrt(Math.max(rise, 0)) - t : t;
        }

        private double cost(double free) {
            double value = held.bounds().fromFree(free, held.scale());
            double[] values = all(value, others);
            Prior prior = held.prior();
            double fromPrior = prior == null ? 0 : Math.pow(prior.residual(value), 2);
            if (others.length == 0) {
                return fromPrior + costOfData(values);
            }
            List<FitParameter> rest = new ArrayList<>(problem.parameters());
            rest.remove(place);
            FitProblem reduced = new FitProblem(rest, new Held(value));
            Minimizer.Minimum minimum =
                    Minimizer.descend(reduced, fit.weighting(), others, settings, Minimizer.CUSTOMARY_STEP);
            if (Double.isFinite(minimum.cost)) {
                others = minimum.values;
            }
            return fromPrior + minimum.cost;
        }

        private double costOfData(double[] values) {
            double[] residuals = new double[problem.model().residualCount()];
            problem.model().residuals(values, residuals);
            double cost = 0;
            for (int i = 0; i < residuals.length; i++) {
                double weighted = fit.weighting().root(i) * residuals[i];
                cost += weighted * weighted;
            }
            return cost;
        }

        private double[] all(double value, double[] rest) {
            double[] values = new double[problem.size()];
            System.arraycopy(rest, 0, values, 0, place);
            values[place] = value;
            System.arraycopy(rest, place, values, place + 1, rest.length - place);
            return values;
        }

        /** The problem's model with the parameter held. */
        private final class Held implements ResidualModel {
            private final double value;
            private final double[] unused = new double[problem.model().residualCount()];

            Held(double value) {
                this.value = value;
            }

            @Override
            public int residualCount() {
                return problem.model().residualCount();
            }

            @Override
            public void residuals(double[] parameters, double[] residuals) {
                problem.model().residuals(all(value, parameters), residuals);
            }

            @Override
            public void jacobian(double[] parameters, double[] residuals, double[][] columns) {
                double[][] full = new double[problem.size()][];
                for (int j = 0, k = 0; j < full.length; j++) {
                    full[j] = j == place ? unused : columns[k++];
                }
                problem.model().jacobian(all(value, parameters), residuals, full);
            }
        }
    }
}
