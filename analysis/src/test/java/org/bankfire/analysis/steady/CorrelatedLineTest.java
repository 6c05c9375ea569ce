package org.bankfire.analysis.steady;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.offset;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import java.util.Map;
import java.util.Random;
import org.bankfire.analysis.Fixtures;
import org.bankfire.analysis.fit.StudentT;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class CorrelatedLineTest {
    private final CorrelatedLine line = new CorrelatedLine();

    static List<Map<String, String>> secondOpinions() {
        return Fixtures.rows("steady/ar1-slope.csv");
    }

    /** Slope, error and t against SciPy with dense matrices ({@code fixtures/steady/ar1_slope.py}). */
    @ParameterizedTest
    @MethodSource("secondOpinions")
    void slopeAndErrorAreThoseOfDenseMatrices(Map<String, String> row) {
        String[] pairs = Fixtures.text(row, "values").split(" ", -1);
        double[] times = new double[pairs.length];
        double[] values = new double[pairs.length];
        for (int i = 0; i < pairs.length; i++) {
            String[] pair = pairs[i].split(":", -1);
            times[i] = Double.parseDouble(pair[0]);
            values[i] = Double.parseDouble(pair[1]);
        }
        assertThat(line.fit(times, values, 0, times.length)).isTrue();
        assertThat(line.slope()).isCloseTo(Fixtures.number(row, "slope"), offset(1e-9));
        assertThat(line.correlation()).isCloseTo(Fixtures.number(row, "correlation"), offset(1e-8));
        assertThat(line.standardError()).isCloseTo(Fixtures.number(row, "standardError"), withinPercentage(1e-4));
        assertThat(line.degreesOfFreedom()).isCloseTo(Fixtures.number(row, "freedom"), withinPercentage(1e-4));
        assertThat(StudentT.twoSided95(line.degreesOfFreedom()))
                .isCloseTo(Fixtures.number(row, "t975"), withinPercentage(1e-3));
    }

    /**
     * For a long series the error comes to that of the effective number of samples n (1 − ρ)/(1 + ρ), the usual one of climate
     * trends (Santer et al., 2000, from memory).
     */
    @Test
    void aLongSeriesHasTheErrorOfItsEffectiveNumberOfSamples() {
        int n = 20_000;
        double[][] series = series(new Random(3), n, 0.6, 1, 0, 1);
        assertThat(line.fit(series[0], series[1], 0, n)).isTrue();
        double white = 1 / Math.sqrt(n * (n * (double) n - 1) / 12);
        assertThat(line.correlation()).isCloseTo(0.6, within(0.02));
        assertThat(line.standardError()).isCloseTo(white * Math.sqrt(1.6 / 0.4), withinPercentage(5));
    }

    /**
     * How often the 95 % interval of a slope holds the true one, of 2,000 seeded series of each kind. Below the promise only
     * where the noise is as slow as the window is short, or is two noises, a slow and a white one, that one autoregression
     * cannot describe: least is what was measured, rounded down.
     */
    @ParameterizedTest
    @CsvSource({
        // blocks, correlation of neighbours, share of white noise, least, most
        "12, 0.0, 0, 0.95, 0.99",
        "24, 0.0, 0, 0.95, 0.98",
        "24, 0.3, 0, 0.94, 0.98",
        "24, 0.6, 0, 0.92, 0.98",
        "60, 0.6, 0, 0.94, 0.98",
        "120, 0.0, 0, 0.94, 0.98",
        "120, 0.6, 0, 0.94, 0.98",
        "120, 0.8, 0, 0.93, 0.99",
        "120, 0.8, 0.2, 0.90, 0.98",
        "24, 0.9, 0, 0.80, 0.98",
    })
    void theIntervalHoldsTheTrueSlopeAsOftenAsItSays(
            int n, double correlation, double white, double least, double most) {
        Random random = new Random(97 + n);
        int hits = 0;
        int runs = 2_000;
        for (int run = 0; run < runs; run++) {
            double[][] series = series(random, n, correlation, 1, 0.01, 5);
            for (int i = 0; i < n; i++) {
                series[1][i] += white * random.nextGaussian();
            }
            assertThat(line.fit(series[0], series[1], 0, n)).isTrue();
            double t = StudentT.twoSided95(Math.max(line.degreesOfFreedom(), 3));
            hits += Math.abs(line.slope() - 0.01) <= t * line.standardError() ? 1 : 0;
        }
        assertThat(hits / (double) runs).isBetween(least, most);
    }

    @Test
    void aStraightLineWithoutNoiseIsExactAndAParabolaHasItsSlopeAtTheEnd() {
        double[][] straight = series(new Random(1), 30, 0, 0, 0.25, 5);
        assertThat(line.fit(straight[0], straight[1], 0, 30)).isTrue();
        assertThat(line.slope()).isCloseTo(0.25, within(1e-12));
        assertThat(line.standardError()).isCloseTo(0, within(1e-12));
        for (int i = 0; i < 30; i++) {
            straight[1][i] = straight[0][i] * straight[0][i];
        }
        assertThat(line.fit(straight[0], straight[1], 0, 30)).isTrue();
        assertThat(line.endSlope()).isCloseTo(2 * straight[0][29], within(1e-9));
    }

    @Test
    void fewValuesOrOneMomentTellNothing() {
        assertThat(line.fit(new double[7], new double[7], 0, 7)).isFalse();
        assertThat(line.fit(new double[20], new double[20], 0, 20)).isFalse();
    }

    private static double[][] series(
            Random random, int n, double correlation, double deviation, double slope, double step) {
        double[][] made = new double[2][n];
        double noise = random.nextGaussian();
        for (int i = 0; i < n; i++) {
            made[0][i] = step * i;
            made[1][i] = slope * step * i + deviation * noise;
            noise = correlation * noise + Math.sqrt(1 - correlation * correlation) * random.nextGaussian();
        }
        return made;
    }
}
