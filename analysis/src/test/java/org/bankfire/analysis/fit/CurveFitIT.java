package org.bankfire.analysis.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.InstanceOfAssertFactories.type;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** The empirical fits beside SciPy's {@code curve_fit}, a MINPACK of its own with starts of its own, on the same series. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class CurveFitIT {
    private static final double SIX_DIGITS = 1e-6;
    private static final FitSettings SETTINGS =
            FitSettings.STANDARD.with(FitSettings.Noise.INDEPENDENT).withTolerance(1e-14);

    private final CurveFitProcess scipy;

    CurveFitIT() throws IOException {
        scipy = new CurveFitProcess();
    }

    @AfterAll
    void close() throws IOException {
        scipy.close();
    }

    static Stream<Arguments> cases() {
        OptionalDouble unknown = OptionalDouble.empty();
        return Stream.of(
                Arguments.of(TestSeries.mug(), EmpiricalCurve.ONE_EXPONENTIAL, unknown),
                Arguments.of(TestSeries.mug(), EmpiricalCurve.TWO_EXPONENTIALS, unknown),
                Arguments.of(TestSeries.mug(), EmpiricalCurve.ONE_EXPONENTIAL, OptionalDouble.of(22)),
                Arguments.of(TestSeries.mug(), EmpiricalCurve.TWO_EXPONENTIALS, OptionalDouble.of(22)),
                Arguments.of(TestSeries.canister(1, 0), EmpiricalCurve.ONE_EXPONENTIAL, unknown),
                Arguments.of(TestSeries.canister(2, 0), EmpiricalCurve.ONE_EXPONENTIAL, unknown),
                Arguments.of(TestSeries.canister(3, 0), EmpiricalCurve.ONE_EXPONENTIAL, unknown),
                Arguments.of(forge(EmpiricalCurve.ONE_EXPONENTIAL), EmpiricalCurve.ONE_EXPONENTIAL, unknown),
                Arguments.of(forge(EmpiricalCurve.TWO_EXPONENTIALS), EmpiricalCurve.TWO_EXPONENTIALS, unknown),
                Arguments.of(forge(EmpiricalCurve.DIFFUSIVE), EmpiricalCurve.DIFFUSIVE, unknown),
                Arguments.of(forge(EmpiricalCurve.TWO_EXPONENTIALS), EmpiricalCurve.DIFFUSIVE, unknown));
    }

    private static TestSeries forge(EmpiricalCurve curve) {
        return TestSeries.forgeHeatUp(curve);
    }

    @ParameterizedTest(name = "{1} on {0}, final temperature {2}")
    @MethodSource("cases")
    void parametersAndErrorsAgreeToSixDigits(TestSeries record, EmpiricalCurve curve, OptionalDouble known) {
        JsonNode theirs = scipy.fit(record.timesS(), record.values(), curve, known, 1e-14);
        FitResult ours = EmpiricalFits.fit(record.series(), curve, known, SETTINGS);
        assertThat(ours)
                .as("%s on %s", curve, record)
                .asInstanceOf(type(FitResult.Converged.class))
                .satisfies(fit -> {
                    for (int j = 0; j < fit.estimates().size(); j++) {
                        Estimate estimate = fit.estimates().get(j);
                        near(estimate.value(), theirs.get("parameters").get(j), estimate.name(), curve, record);
                        near(
                                estimate.standardError(),
                                theirs.get("errors").get(j),
                                "error of " + estimate.name(),
                                curve,
                                record);
                    }
                    near(fit.residuals().sumOfSquares(), theirs.get("sumOfSquares"), "sum of squares", curve, record);
                });
    }

    private static void near(double ours, JsonNode theirs, String what, EmpiricalCurve curve, TestSeries record) {
        double expected = theirs.doubleValue();
        assertThat(Math.abs(ours / expected - 1))
                .as("%s of %s on %s: %s beside SciPy's %s", what, curve, record, ours, expected)
                .isLessThanOrEqualTo(SIX_DIGITS);
    }
}
