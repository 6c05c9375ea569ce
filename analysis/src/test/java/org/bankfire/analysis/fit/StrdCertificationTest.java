package org.bankfire.analysis.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.InstanceOfAssertFactories.type;

import java.util.Arrays;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Certified values of the NIST/ITL Statistical Reference Datasets, nonlinear regression, in {@code nist-strd}. */
class StrdCertificationTest {
    /** Six digits, relative. */
    private static final double SIX_DIGITS = 1e-6;

    private static final FitSettings SETTINGS =
            FitSettings.STANDARD.with(FitSettings.Noise.INDEPENDENT).withTolerance(1e-14);

    static Stream<Arguments> setsAndStarts() {
        return Arrays.stream(StrdModel.values())
                .flatMap(model -> Stream.of(1, 2).map(start -> Arguments.of(model, start)));
    }

    @ParameterizedTest(name = "{0} from start {1}")
    @MethodSource("setsAndStarts")
    void theCertifiedValuesAreFoundToSixDigits(StrdModel model, int start) {
        StrdSet set = StrdSet.read(model);
        FitResult result = LeastSquaresSolver.solve(set.problem(start), SETTINGS);
        FitResult.Converged fit = assertThat(result)
                .as("%s from start %s", model, start)
                .asInstanceOf(type(FitResult.Converged.class))
                .actual();
        for (int j = 0; j < set.parameters().size(); j++) {
            StrdSet.Certified certified = set.parameters().get(j);
            Estimate estimate = fit.estimates().get(j);
            near(estimate.value(), certified.value(), "%s of %s from start %s", estimate.name(), model, start);
            near(
                    estimate.standardError(),
                    certified.standardDeviation(),
                    "standard deviation of %s of %s from start %s",
                    estimate.name(),
                    model,
                    start);
        }
        near(fit.residuals().sumOfSquares(), set.sumOfSquares(), "sum of squares of %s from start %s", model, start);
        near(
                fit.residuals().standardDeviation(),
                Math.sqrt(
                        set.sumOfSquares() / (set.x().size() - set.parameters().size())),
                "residual standard deviation of %s from start %s",
                model,
                start);
    }

    /** Hard on purpose: from far off and with few evaluations the fit says so, and gives no estimates. */
    @Test
    void aFitThatRunsOutOfEvaluationsSaysSo() {
        FitResult result =
                LeastSquaresSolver.solve(StrdSet.read(StrdModel.MGH09).problem(1), SETTINGS.withEvaluations(10));
        assertThat(result)
                .asInstanceOf(type(FitResult.NotConverged.class))
                .satisfies(failed -> assertThat(failed.why()).isEqualTo(FitResult.Why.EVALUATIONS_SPENT));
    }

    /** The far start of MGH09 is hard on purpose: MINPACK's customary first step is too bold there, a hundredth of it is not. */
    @Test
    void theFarStartOfMgh09NeedsTheMoreCautiousFirstStep() {
        FitProblem problem = StrdSet.read(StrdModel.MGH09).problem(1);
        assertThat(descend(problem, Minimizer.CUSTOMARY_STEP).failure).isEqualTo(FitResult.Why.EVALUATIONS_SPENT);
        assertThat(descend(problem, Minimizer.CUSTOMARY_STEP / 100).failure).isNull();
    }

    private static Minimizer.Minimum descend(FitProblem problem, double firstStep) {
        return Minimizer.descend(problem, Weighting.UNIT, problem.starts(), SETTINGS, firstStep);
    }

    private static void near(double found, double certified, String what, Object... of) {
        assertThat(Math.abs(found / certified - 1)).as(what, of).isLessThanOrEqualTo(SIX_DIGITS);
    }
}
