package org.bankfire.analysis.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;
import static org.assertj.core.api.InstanceOfAssertFactories.type;

import java.util.List;
import org.junit.jupiter.api.Test;

class ProfileLikelihoodTest {
    private static final FitSettings SETTINGS = FitSettings.STANDARD.with(FitSettings.Noise.INDEPENDENT);

    private static FitResult.Converged converged(FitProblem problem) {
        return assertThat(LeastSquaresSolver.solve(problem, SETTINGS))
                .asInstanceOf(type(FitResult.Converged.class))
                .actual();
    }

    /** A straight model has a parabola for a profile. */
    @Test
    void onAStraightModelItIsTheAsymptoticInterval() {
        List<FitParameter> parameters = List.of(
                FitParameter.of("a", "K", 0, 1).knownAs(new Prior.Normal(1, 0.5)), FitParameter.of("b", "K/s", 0, 1));
        FitProblem problem =
                new FitProblem(parameters, new ForwardDifferences(parameters, 30, 1e-15, (x, residuals) -> {
                    for (int i = 0; i < 30; i++) {
                        residuals[i] = x[0] + x[1] * i - 2 - 0.3 * i - Math.sin(7.0 * i);
                    }
                }));
        FitResult.Converged fit = converged(problem);
        for (Estimate estimate : fit.estimates()) {
            ProfileLikelihood.Interval interval = ProfileLikelihood.of95(problem, fit, SETTINGS, estimate.name());
            assertThat(interval.low()).as(estimate.name()).isCloseTo(estimate.low95(), withinPercentage(0.01));
            assertThat(interval.high()).as(estimate.name()).isCloseTo(estimate.high95(), withinPercentage(0.01));
        }
    }

    /** Student's t for 4 degrees of freedom is 2.776445; b1 is linear, so the curve's end is checked by a straight fit. */
    @Test
    void onABentModelItEndsWhereTheSumOfSquaresHasRisenByTSquared() {
        StrdSet set = StrdSet.read(StrdModel.BoxBOD);
        FitProblem problem = set.problem(2);
        FitResult.Converged fit = converged(problem);
        ProfileLikelihood.Interval interval = ProfileLikelihood.of95(problem, fit, SETTINGS, "b2");
        double limit = set.sumOfSquares() * (1 + 2.776_445 * 2.776_445 / 4);
        for (double end : new double[] {interval.low(), interval.high()}) {
            assertThat(leastSquares(set, end)).as("b2 = %s", end).isCloseTo(limit, withinPercentage(0.01));
        }
        double middle = fit.value("b2");
        assertThat(interval.high() - middle).isGreaterThan(1.2 * (middle - interval.low()));
    }

    /** Given b2, the best b1 of b1 (1 − e^(−b2 x)) is linear. */
    private static double leastSquares(StrdSet set, double b2) {
        double fy = 0;
        double ff = 0;
        double yy = 0;
        for (int i = 0; i < set.x().size(); i++) {
            double f = 1 - Math.exp(-b2 * set.x().get(i));
            double y = set.y().get(i);
            fy += f * y;
            ff += f * f;
            yy += y * y;
        }
        return yy - fy * fy / ff;
    }

    /** Measured where the curve has hardly bent: a bend of 0 is as good. */
    @Test
    void aSideThatTheDataLeaveOpenEndsAtTheBound() {
        List<FitParameter> parameters = List.of(
                FitParameter.of("rise", "K", 1, 1).within(Bounds.POSITIVE),
                FitParameter.of("bend", "1/s", 1, 1).within(Bounds.POSITIVE));
        FitProblem problem =
                new FitProblem(parameters, new ForwardDifferences(parameters, 20, 1e-15, (x, residuals) -> {
                    for (int i = 0; i < 20; i++) {
                        double t = i / 20.0;
                        residuals[i] = x[0] * -Math.expm1(-x[1] * t) / x[1]
                                + Math.expm1(-0.6 * t) / 0.6
                                - 0.1 * Math.sin(9.0 * i);
                    }
                }));
        FitResult.Converged fit = converged(problem);
        ProfileLikelihood.Interval interval = ProfileLikelihood.of95(problem, fit, SETTINGS, "bend");
        assertThat(interval.low()).isZero();
        assertThat(interval.high()).isFinite();
    }
}
