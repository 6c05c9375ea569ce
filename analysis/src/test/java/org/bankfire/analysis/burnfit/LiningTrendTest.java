package org.bankfire.analysis.burnfit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LiningTrendTest {
    private static final double TRUE_W_PER_K = 1.7;
    private static final int TRIALS = 2_000;
    /** Two-sided 95 % of the normal distribution. */
    private static final double Z95 = 1.959964;

    /** A burn's loss drawn around the truth; {@code scatter} is what burns differ by beyond the errors they tell. */
    private static BurnLoss drawn(Random random, int number, double trueWPerK, double error, double scatter) {
        double value = trueWPerK * Math.exp(error * random.nextGaussian() + scatter * random.nextGaussian());
        return loss(number, value, error);
    }

    private static BurnLoss loss(int number, double value, double error) {
        return loss(number, value, error, 1_000);
    }

    private static BurnLoss loss(int number, double value, double error, double atC) {
        return new BurnLoss(
                "shed-" + number,
                WallTime.ofEpochSeconds(86_400.0 * number),
                atC,
                new Band(value, value * Math.exp(-Z95 * error), value * Math.exp(Z95 * error)));
    }

    private static List<BurnLoss> quiet(double... values) {
        List<BurnLoss> losses = new ArrayList<>();
        for (double value : values) {
            losses.add(loss(losses.size(), value, 0.03));
        }
        return losses;
    }

    /** A standard error of 6 % puts 90 % of burns within 10 % of the truth, which is the least that is asked of a fit. */
    @ParameterizedTest
    @CsvSource({"20, 0.06, 0", "8, 0.05, 0", "5, 0.04, 0", "6, 0.02, 0", "20, 0.02, 0", "6, 0.02, 0.04"})
    void aQuarterMoreIsFoundWithinThreeBurnsInNineCasesOfTen(int before, double error, double scatter) {
        Random random = new Random(20_260_301);
        int found = 0;
        for (int trial = 0; trial < TRIALS; trial++) {
            List<BurnLoss> losses = new ArrayList<>();
            for (int i = 0; i < before; i++) {
                losses.add(drawn(random, i, TRUE_W_PER_K, error, scatter));
            }
            boolean up = false;
            for (int i = before; i < before + 3; i++) {
                losses.add(drawn(random, i, 1.25 * TRUE_W_PER_K, error, scatter));
                up |= LiningTrend.of(losses).lossUp();
            }
            found += up ? 1 : 0;
        }
        assertThat(found / (double) TRIALS).isGreaterThanOrEqualTo(0.9);
    }

    /** Over thirty burns, most of a year: whether there was ever a call. */
    @ParameterizedTest
    @CsvSource({"0.06, 0", "0.02, 0", "0.02, 0.02", "0.02, 0.05", "0.06, 0.05"})
    void withoutAChangeNothingIsCalledInNineteenYearsOfTwenty(double error, double scatter) {
        Random random = new Random(7);
        int called = 0;
        for (int trial = 0; trial < TRIALS; trial++) {
            List<BurnLoss> losses = new ArrayList<>();
            boolean up = false;
            for (int i = 0; i < 30; i++) {
                losses.add(drawn(random, i, TRUE_W_PER_K, error, scatter));
                up |= LiningTrend.of(losses).lossUp();
            }
            called += up ? 1 : 0;
        }
        assertThat(called / (double) TRIALS).isLessThanOrEqualTo(0.05);
    }

    @Test
    void oneOddBurnDoesNotCry() {
        List<BurnLoss> losses = quiet(1.7, 1.68, 1.72, 1.69, 1.7, 2.4);
        LiningTrend odd = LiningTrend.of(losses);
        assertThat(odd.lossUp()).isFalse();
        assertThat(odd.why()).contains("the next one will tell");
        losses.add(loss(6, 1.71, 0.03));
        assertThat(LiningTrend.of(losses).lossUp()).isFalse();
        losses.add(loss(7, 2.4, 0.03));
        assertThat(LiningTrend.of(losses).lossUp())
                .as("two odd ones, not in a row")
                .isFalse();
    }

    @Test
    void itStandsWhileTheLossIsUpAndIsGoneWithABurnInside() {
        List<BurnLoss> losses = quiet(1.7, 1.68, 1.72, 1.69, 1.7, 2.1, 2.12);
        LiningTrend up = LiningTrend.of(losses);
        assertThat(up.lossUp()).isTrue();
        assertThat(up.earlier().value()).isCloseTo(1.698, within(0.002));
        assertThat(up.excess()).isCloseTo(2.12 / 1.697 - 1, within(0.002));
        assertThat(up.why()).contains("25 % above the 1.70 W/K", "2 burns in a row");
        for (int i = 7; i < 20; i++) {
            losses.add(loss(i, 2.1, 0.03));
            assertThat(LiningTrend.of(losses).lossUp()).isTrue();
        }
        losses.add(loss(20, 1.7, 0.03));
        assertThat(LiningTrend.of(losses).lossUp()).isFalse();
    }

    @Test
    void aBetterLiningIsWhatLaterBurnsAreHeldAgainst() {
        List<BurnLoss> losses = quiet(1.7, 1.68, 1.72, 1.69, 1.7, 1.3, 1.32, 1.31);
        assertThat(LiningTrend.of(losses).lossUp()).isFalse();
        assertThat(LiningTrend.of(losses).earlier().value()).isNaN();
        losses.add(loss(8, 1.3, 0.03));
        losses.add(loss(9, 1.31, 0.03));
        losses.add(loss(10, 1.62, 0.03));
        losses.add(loss(11, 1.63, 0.03));
        LiningTrend trend = LiningTrend.of(losses);
        assertThat(trend.earlier().value()).isCloseTo(1.308, within(0.002));
        assertThat(trend.lossUp()).isTrue();
    }

    @Test
    void burnsStatedAtAnotherTemperatureAreLeftOut() {
        List<BurnLoss> losses = quiet(1.7, 1.68, 1.72, 1.69, 1.7);
        losses.add(loss(5, 2.3, 0.03, 1_150));
        losses.add(loss(6, 1.71, 0.03));
        LiningTrend trend = LiningTrend.of(losses);
        assertThat(trend.burns()).isEqualTo(6);
        assertThat(trend.excess()).isCloseTo(1.71 / 1.698 - 1, within(0.002));
    }

    @Test
    void theOrderInWhichBurnsAreGivenSaysNothing() {
        List<BurnLoss> losses = quiet(1.7, 1.68, 1.72, 1.69, 1.7, 2.1, 2.12);
        LiningTrend expected = LiningTrend.of(losses);
        Collections.shuffle(losses, new Random(3));
        assertThat(LiningTrend.of(losses)).isEqualTo(expected);
    }

    @Test
    void onlyTheLatestFortyBurnsCount() {
        List<BurnLoss> losses = new ArrayList<>();
        for (int i = 0; i < 60; i++) {
            losses.add(loss(i, i < 10 ? 1.0 : 1.7, 0.03));
        }
        LiningTrend trend = LiningTrend.of(losses);
        assertThat(trend.burns()).isEqualTo(LiningTrend.MOST_BURNS);
        assertThat(trend.earlier().value()).isCloseTo(1.7, within(1e-9));
    }

    /**
     * Six equal burns with the error e each, that is √(0.03² + b²) where b² = (4 × 0.01² + 4 × 0.05²) / 8 for the five
     * before the last and (5 × 0.01² + 4 × 0.05²) / 9 for all: the mean's error is e/√5, the slope's e/√Σ(i − 2.5)².
     */
    @Test
    void meanAndSlopeAreThoseOfAWeightedStraightLine() {
        LiningTrend trend = LiningTrend.of(quiet(1, 1, 1, 1, 1, 1));
        double ofFive = Math.sqrt(0.0009 + (4 * 0.0001 + 4 * 0.0025) / 8);
        double ofSix = Math.sqrt(0.0009 + (5 * 0.0001 + 4 * 0.0025) / 9);
        assertThat(trend.earlier().value()).isCloseTo(1, within(1e-12));
        assertThat(trend.earlier().high95()).isCloseTo(Math.exp(Z95 * ofFive / Math.sqrt(5)), within(1e-9));
        assertThat(trend.changePerBurn().value()).isCloseTo(0, within(1e-12));
        assertThat(trend.changePerBurn().high95()).isCloseTo(Z95 * ofSix / Math.sqrt(17.5), within(1e-9));
        List<BurnLoss> rising = new ArrayList<>();
        for (int i = 0; i < 9; i++) {
            rising.add(loss(i, 1.7 * Math.exp(0.01 * i), 0.05));
        }
        assertThat(LiningTrend.of(rising).changePerBurn().value()).isCloseTo(1.7 * Math.exp(0.04) * 0.01, within(1e-9));
    }

    @Test
    void tooFewBurnsAreToldAsSuch() {
        assertThat(LiningTrend.of(List.of()).why()).contains("No burn");
        LiningTrend one = LiningTrend.of(quiet(1.7));
        assertThat(one.why()).contains("1 burn has told");
        assertThat(one.earlier().value()).isNaN();
        assertThat(LiningTrend.of(quiet(1.7, 9, 9)).lossUp()).isFalse();
        assertThatThrownBy(() -> new BurnLoss("x", new WallTime(0), 1_000, new Band(Double.NaN, 1, 2)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("burn x");
        assertThatThrownBy(() -> new BurnLoss("x", new WallTime(0), 1_000, new Band(2, 0, 2)))
                .isInstanceOf(IllegalArgumentException.class);
    }
}
