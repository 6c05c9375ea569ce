package org.bankfire.analysis.flame;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.analysis.Fixtures.number;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.util.List;
import java.util.Random;
import org.assertj.core.data.Percentage;
import org.bankfire.analysis.Fixtures;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Against published run lengths, whose source stands in the file. */
class CusumTest {
    private static final double K = 0.5;

    static List<Arguments> published() {
        return Fixtures.rows("change-detection/cusum-run-lengths.csv").stream()
                .map(row -> arguments(
                        number(row, "shift"),
                        number(row, "two-sided-h4"),
                        number(row, "two-sided-h5"),
                        number(row, "one-sided-h4"),
                        number(row, "one-sided-h5")))
                .toList();
    }

    /** Runs of the class itself: 20,000 of them make a mean whose standard deviation is less than 0.75 %. */
    @ParameterizedTest
    @MethodSource("published")
    void runsAreAsLongAsPublished(
            double shift, double twoSided4, double twoSided5, double oneSided4, double oneSided5) {
        assertThat(meanRun(shift, 4)).isCloseTo(oneSided4, Percentage.withPercentage(2.5));
        assertThat(meanRun(shift, 5)).isCloseTo(oneSided5, Percentage.withPercentage(2.5));
        if (shift >= 1) {
            // The other side never calls first then: the book's own figures, to their three digits.
            assertThat(meanRun(shift, 4)).isCloseTo(twoSided4, Percentage.withPercentage(2.5));
            assertThat(meanRun(shift, 5)).isCloseTo(twoSided5, Percentage.withPercentage(2.5));
        }
    }

    static List<Arguments> publishedToTwoDeviations() {
        return published().stream().filter(row -> (Double) row.get()[0] <= 2).toList();
    }

    /** Siegmund's approximation is for runs of more than a few steps: shifts of no more than two deviations. */
    @ParameterizedTest
    @MethodSource("publishedToTwoDeviations")
    void theApproximationIsNearThePublishedRuns(
            double shift, double twoSided4, double twoSided5, double oneSided4, double oneSided5) {
        double allowed = shift <= 1.5 ? 3 : 4;
        assertThat(Cusum.meanRunLength(shift, K, 4)).isCloseTo(oneSided4, Percentage.withPercentage(allowed));
        assertThat(Cusum.meanRunLength(shift, K, 5)).isCloseTo(oneSided5, Percentage.withPercentage(allowed));
        if (shift == 0) {
            assertThat(Cusum.meanRunLength(0, K, 4) / 2).isCloseTo(twoSided4, Percentage.withPercentage(3));
            assertThat(Cusum.meanRunLength(0, K, 5) / 2).isCloseTo(twoSided5, Percentage.withPercentage(3));
        }
    }

    /** Montgomery's worked example of Siegmund's formula with h = 5 (from memory): 938.2 in control, 5.67 at 1.5. */
    @Test
    void theBooksExampleComesOut() {
        assertThat(Cusum.meanRunLength(0, K, 5)).isCloseTo(938.2, within(0.05));
        assertThat(Cusum.meanRunLength(1.5, K, 5)).isCloseTo(5.67, within(0.005));
        assertThat(Cusum.meanRunLength(K, K, 5)).isCloseTo(Math.pow(5 + 1.166, 2), within(1e-9));
    }

    @ParameterizedTest
    @CsvSource({"100, 0.5", "1e4, 0.5", "1.44e8, 1", "1e12, 0.25"})
    void theIntervalGivesTheRunThatWasAskedFor(double observations, double reference) {
        double interval = Cusum.intervalFor(observations, reference);
        assertThat(Cusum.meanRunLength(0, reference, interval))
                .isCloseTo(observations, Percentage.withPercentage(0.001));
    }

    @Test
    void aSumOfNothingIsRefused() {
        assertThatThrownBy(() -> new Cusum(0, 5)).hasMessageContaining("above 0");
        assertThatThrownBy(() -> new Cusum(0.5, Double.NaN)).hasMessageContaining("NaN");
    }

    private static double meanRun(double shift, double interval) {
        Random random = new Random(1954);
        int runs = 20_000;
        long observations = 0;
        for (int i = 0; i < runs; i++) {
            Cusum sum = new Cusum(K, interval);
            do {
                observations++;
            } while (!sum.add(shift + random.nextGaussian()));
        }
        return (double) observations / runs;
    }
}
