package org.bankfire.analysis.fit;

import java.util.List;

/** How a fit ended. */
public sealed interface FitResult {
    /** The residuals at the values reached. */
    ResidualReport residuals();

    /** The value reached of that parameter, in its unit. */
    double value(String parameter);

    /**
     * At a minimum, with its parameters told apart.
     *
     * @param estimates in the problem's order
     * @param covariance of them
     * @param residuals what they look like
     * @param condition of the sensitivities, their columns scaled to length 1
     * @param degreesOfFreedom effective samples less the parameters that the data had to settle, 1 at least
     * @param priorMisfit sum of the squares of the priors' residuals: far above their number, data and priors contradict
     *     each other
     * @param weighting of the residuals, for {@link ProfileLikelihood}
     */
    record Converged(
            List<Estimate> estimates,
            Covariance covariance,
            ResidualReport residuals,
            double condition,
            double degreesOfFreedom,
            double priorMisfit,
            Weighting weighting)
            implements FitResult {
        public Converged {
            estimates = List.copyOf(estimates);
        }

        @Override
        public double value(String parameter) {
            return estimate(parameter).value();
        }

        /** Student's quantile for two-sided intervals of 95 % at these degrees of freedom. */
        public double studentT95() {
            return StudentT.twoSided95(degreesOfFreedom);
        }

        /** Of that parameter. */
        public Estimate estimate(String parameter) {
            return estimates.stream()
                    .filter(each -> each.name().equals(parameter))
                    .findFirst()
                    .orElseThrow(() -> new IllegalArgumentException("no parameter " + parameter));
        }
    }

    /**
     * Without a minimum.
     *
     * @param why the reason
     * @param reached best values found: no estimates
     * @param residuals there
     */
    record NotConverged(Why why, List<Reached> reached, ResidualReport residuals) implements FitResult {
        public NotConverged {
            reached = List.copyOf(reached);
        }

        @Override
        public double value(String parameter) {
            return Reached.find(reached, parameter);
        }
    }

    /**
     * At a minimum that is a valley: some combination of the parameters changes nothing that the data show.
     *
     * @param direction that combination
     * @param condition of the sensitivities, above the limit of the settings
     * @param reached one point of the valley
     * @param residuals there: the curve may fit well all the same
     */
    record IllConditioned(Combination direction, double condition, List<Reached> reached, ResidualReport residuals)
            implements FitResult {
        public IllConditioned {
            reached = List.copyOf(reached);
        }

        @Override
        public double value(String parameter) {
            return Reached.find(reached, parameter);
        }
    }

    /**
     * A value without any claim about its error.
     *
     * @param name the parameter
     * @param unit its unit
     * @param value in its unit
     */
    record Reached(String name, String unit, double value) {
        private static double find(List<Reached> reached, String name) {
            return reached.stream()
                    .filter(each -> each.name().equals(name))
                    .findFirst()
                    .orElseThrow(() -> new IllegalArgumentException("no parameter " + name))
                    .value();
        }
    }

    /** Why there is no minimum. */
    enum Why {
        /** There are no more residuals than parameters, and no priors to make up for it. */
        TOO_FEW_RESIDUALS("there are no more samples than unknowns"),
        /** The model gives no number at the start values. */
        UNDEFINED_AT_START("the model is undefined at the start values"),
        /** The model gives no number for a derivative on the way. */
        UNDEFINED_DERIVATIVE("the model has no derivative at the point reached"),
        /** The bound of evaluations was met on the way. */
        EVALUATIONS_SPENT("the evaluations allowed were spent on the way"),
        /** Robust weights or the noise kept changing from round to round. */
        WEIGHTS_UNSETTLED("the weights of the residuals did not settle");

        private final String text;

        Why(String text) {
            this.text = text;
        }

        /** In words. */
        public String text() {
            return text;
        }
    }
}
