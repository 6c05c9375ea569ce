package org.bankfire.analysis.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;
import static org.assertj.core.api.InstanceOfAssertFactories.type;

import java.util.OptionalDouble;
import org.hipparchus.special.Erf;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class EmpiricalFitsTest {
    private static final OptionalDouble UNKNOWN = OptionalDouble.empty();

    private static FitResult.Converged fit(TestSeries series, EmpiricalCurve curve) {
        return assertThat(EmpiricalFits.fit(series.series(), curve, UNKNOWN, FitSettings.STANDARD))
                .asInstanceOf(type(FitResult.Converged.class))
                .actual();
    }

    /**
     * Published with the data (rstudio-pubs 558): 27.0044582029391, 62.13545433946, 0.0209644103144356 per minute, by a
     * solver that stops a few units in the seventh digit from the minimum.
     */
    @Test
    void theMugCoolsAsPublished() {
        FitResult.Converged fit = fit(TestSeries.mug(), EmpiricalCurve.ONE_EXPONENTIAL);
        assertThat(fit.value("finalTemperature")).isCloseTo(27.0044582029391, withinPercentage(1e-4));
        assertThat(fit.value("amplitude")).isCloseTo(62.13545433946, withinPercentage(1e-4));
        assertThat(1 / fit.value("timeConstant")).isCloseTo(0.0209644103144356, withinPercentage(1e-4));
    }

    /**
     * A teaching lab's fits, A e^(−B t) + y0, in the windows that come nearest, which it does not state; run 2's B is printed
     * as 8.50e-5, taken here for the 8.50e-4 that its curve needs.
     */
    @ParameterizedTest(name = "run {0} from {1} s")
    @CsvSource({
        "1, 400, 19.5, 1.22e-3, 26.1, 2.1",
        "2, 150, 20.9, 8.50e-4, 27.1, 0.6",
        "3, 30, 15.7, 8.83e-4, 24.4, 0.6"
    })
    void theCanisterCoolsAsPublished(int run, double fromS, double a, double b, double y0, double percent) {
        TestSeries series = TestSeries.canister(run, fromS);
        FitResult.Converged fit = fit(series, EmpiricalCurve.ONE_EXPONENTIAL);
        double perS = 1 / fit.value("timeConstant");
        assertThat(fit.value("finalTemperature")).isCloseTo(y0, withinPercentage(percent));
        assertThat(perS).isCloseTo(b, withinPercentage(percent));
        // The height is reckoned from the first sample, the lab's from the start of its clock.
        assertThat(fit.value("amplitude") * Math.exp(perS * fromS)).isCloseTo(a, withinPercentage(percent));
    }

    /** One mug, two stores: the published curve misses a trend, and the report says so. */
    @Test
    void theMugIsBetterDescribedByTwoExponentials() {
        EmpiricalReport report = EmpiricalFits.coolDown(TestSeries.mug().series(), UNKNOWN, FitSettings.STANDARD);
        assertThat(report.best().curve()).isEqualTo(EmpiricalCurve.TWO_EXPONENTIALS);
        assertThat(report.cautions()).contains(Caution.COOL_DOWN_GIVES_A_RATIO);
        EmpiricalFit one = report.fits().get(1);
        assertThat(one.aicc() - report.best().aicc()).isGreaterThan(10);
        assertThat(one.result().residuals().runsZ()).isLessThan(-5);
    }

    @ParameterizedTest
    @EnumSource
    void theCurveThatMadeTheHeatUpIsChosen(EmpiricalCurve curve) {
        EmpiricalReport report =
                EmpiricalFits.heatUp(TestSeries.forgeHeatUp(curve).series(), FitSettings.STANDARD);
        assertThat(report.best().curve()).isEqualTo(curve);
        assertThat(report.rmsResidualK()).isCloseTo(1.5, withinPercentage(5));
        assertThat(report.cautions()).contains(Caution.HEAT_UP_GIVES_NO_LOSS);
        assertThat(report.cautions().contains(Caution.WALL_STILL_SOAKING)).isEqualTo(curve == EmpiricalCurve.DIFFUSIVE);
    }

    @Test
    void theTruthLiesWithinFourStandardErrors() {
        FitResult.Converged fit =
                fit(TestSeries.forgeHeatUp(EmpiricalCurve.TWO_EXPONENTIALS), EmpiricalCurve.TWO_EXPONENTIALS);
        double[] truth = {1240, -700, 110, -520, 900};
        for (int j = 0; j < truth.length; j++) {
            Estimate estimate = fit.estimates().get(j);
            assertThat(Math.abs(estimate.value() - truth[j]))
                    .as("%s: %s", estimate.name(), estimate.value())
                    .isLessThan(4 * estimate.standardError());
        }
    }

    /** Five minutes of a time constant of eight: the curve fits, its end is not known. */
    @Test
    void aRecordShorterThanItsTimeConstantDoesNotNameTheEnd() {
        TestSeries series =
                TestSeries.generated(EmpiricalCurve.ONE_EXPONENTIAL, 1240, new double[] {-1220, 480}, 300, 1, 1.5, 5);
        EmpiricalReport report = EmpiricalFits.heatUp(series.series(), FitSettings.STANDARD);
        assertThat(report.cautions()).contains(Caution.FINAL_TEMPERATURE_NOT_IDENTIFIED);
        EmpiricalReport known = EmpiricalFits.coolDown(series.series(), OptionalDouble.of(1240), FitSettings.STANDARD);
        assertThat(known.cautions()).doesNotContain(Caution.FINAL_TEMPERATURE_NOT_IDENTIFIED);
        assertThat(known.best().slowestTimeConstantS()).isCloseTo(480, withinPercentage(1));
    }

    /** A straight line and a constant have no time constant. */
    @Test
    void whatDoesNotBendHasNoNumbers() {
        for (double slope : new double[] {0, 0.5}) {
            double[] times = new double[100];
            double[] values = new double[100];
            for (int i = 0; i < 100; i++) {
                times[i] = i;
                values[i] = 20 + slope * i + 0.1 * (i * 7 % 5 - 2);
            }
            EmpiricalReport report = EmpiricalFits.heatUp(TemperatureSeries.of(times, values), FitSettings.STANDARD);
            assertThat(report.cautions()).as("slope %s", slope).contains(Caution.FINAL_TEMPERATURE_NOT_IDENTIFIED);
        }
    }

    @Test
    void spikesDoNotMoveARobustFit() {
        TestSeries clean = TestSeries.forgeHeatUp(EmpiricalCurve.ONE_EXPONENTIAL);
        double[] spiky = clean.values().clone();
        for (int i = 10; i < spiky.length; i += 60) {
            spiky[i] += 400;
        }
        FitResult fit = EmpiricalFits.fit(
                TemperatureSeries.of(clean.timesS(), spiky),
                EmpiricalCurve.ONE_EXPONENTIAL,
                UNKNOWN,
                FitSettings.STANDARD.with(Loss.HUBER));
        assertThat(fit.value("timeConstant")).isCloseTo(480, withinPercentage(0.5));
        assertThat(fit.value("finalTemperature")).isCloseTo(1240, withinPercentage(0.1));
    }

    @ParameterizedTest
    @EnumSource
    void derivativesAreThoseOfTheCurve(EmpiricalCurve curve) {
        TestSeries series = TestSeries.forgeHeatUp(curve);
        FitProblem problem = EmpiricalFits.problem(series.series(), curve, UNKNOWN);
        double[] at = problem.starts();
        int n = series.values().length;
        double[] residuals = new double[n];
        double[][] exact = new double[at.length][n];
        double[][] differences = new double[at.length][n];
        problem.model().residuals(at, residuals);
        problem.model().jacobian(at, residuals, exact);
        new ForwardDifferences(problem.parameters(), n, ForwardDifferences.ROUNDING, problem.model()::residuals)
                .jacobian(at, residuals, differences);
        for (int j = 0; j < at.length; j++) {
            double greatest = 0;
            for (double each : exact[j]) {
                greatest = Math.max(greatest, Math.abs(each));
            }
            for (int i = 0; i < n; i++) {
                assertThat(Math.abs(exact[j][i] - differences[j][i]))
                        .as("%s, sample %s", problem.parameters().get(j).name(), i)
                        .isLessThan(1e-5 * greatest);
            }
        }
    }

    /** Against the library's erfc where its product with e^(x²) is safe, and the asymptotic series beyond. */
    @Test
    void theScaledErrorFunctionIsRightInAllItsRanges() {
        for (double x = 0; x < 5; x += 0.0137) {
            assertThat(Erfcx.of(x)).as("x = %s", x).isCloseTo(Math.exp(x * x) * Erf.erfc(x), withinPercentage(1e-10));
        }
        for (double x = 30; x < 1e6; x *= 3) {
            double inverse = 1 / (2 * x * x);
            double series = (1 - inverse + 3 * inverse * inverse) / (x * Math.sqrt(Math.PI));
            assertThat(Erfcx.of(x)).as("x = %s", x).isCloseTo(series, withinPercentage(1e-6));
        }
    }

    @Test
    void aBadSeriesIsRefusedByItsSample() {
        double[] times = {0, 1, 2, 3, 4, 5, 6, 6};
        double[] values = {1, 2, 3, 4, 5, 6, 7, 8};
        assertThatThrownBy(() -> TemperatureSeries.of(times, values)).hasMessageContaining("sample 7 at 6.0 s");
        assertThatThrownBy(() -> TemperatureSeries.of(new double[] {0, 1}, new double[] {1, 2}))
                .hasMessageContaining("2 samples");
        double[] holes = {1, 2, Double.NaN, 4, 5, 6, 7, 8};
        double[] rising = {0, 1, 2, 3, 4, 5, 6, 7};
        assertThatThrownBy(() -> TemperatureSeries.of(rising, holes)).hasMessageContaining("sample 2 is NaN");
    }
}
