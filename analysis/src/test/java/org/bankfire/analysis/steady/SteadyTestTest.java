package org.bankfire.analysis.steady;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SteadyTestTest {
    private final SteadyTest test = new SteadyTest(2);
    private final Random random = new Random(5);

    @Test
    void nothingIsKnownBeforeAMinuteAndItIsSaidWhenItWillBe() {
        feed(0, 30, 4, 0.3, s -> 1_100);
        Steadiness seen = test.at(30_000_000);
        assertThat(seen.state()).isEqualTo(Steadiness.State.CANNOT_TELL);
        assertThat(seen.slopeKPerMin()).isNaN();
        assertThat(seen.windowS()).isNaN();
        assertThat(seen.tellsInS()).isCloseTo(155, within(5.0));
        assertThat(seen.wouldTell()).isEqualTo("Some 160 s more of readings like these would tell.");
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.5, 1, 4, 10, 50})
    void aSteadyChamberHasItsSlopeAndSinceWhenAtAnyRate(double hz) {
        feed(0, 900, hz, 0.3, s -> 1_100 + 0.5 * s / 60);
        Steadiness seen = test.at(900_000_000);
        assertThat(seen.state()).isEqualTo(Steadiness.State.STEADY);
        assertThat(seen.slopeKPerMin()).isCloseTo(0.5, within(seen.halfWidthKPerMin()));
        assertThat(seen.halfWidthKPerMin()).isBetween(0.01, 0.5);
        assertThat(seen.largestKPerMin()).isLessThan(2);
        // 84 blocks to 120, of five seconds or three readings that are two seconds apart.
        assertThat(seen.windowS()).isBetween(420.0, 720.0);
        assertThat(seen.steadyForS())
                .as("from the middle of the first window on")
                .isBetween(780.0, 850.0);
        assertThat(seen.wouldTell()).isEmpty();
        assertThat(seen.tellsInS()).isNaN();
    }

    @Test
    void aSourceThatReadsOnceInTwentySecondsNeedsAsManyReadings() {
        feed(0, 1_200, 0.05, 0.1, s -> 1_100);
        assertThat(test.isSteady()).isTrue();
        assertThat(test.at(1_200_000_000).windowS()).isGreaterThanOrEqualTo(480);
    }

    @Test
    void oneCodeRepeatedIsSteadyButNotExact() {
        for (int i = 0; i < 600; i++) {
            test.add(i * 1_000_000L, 1_100);
        }
        Steadiness seen = test.at(600_000_000);
        assertThat(seen.state()).isEqualTo(Steadiness.State.STEADY);
        assertThat(seen.slopeKPerMin()).isZero();
        // 1.5 q/T/√3 of a quarter kelvin over the 84 blocks that there are, times Student's 1.99.
        assertThat(seen.halfWidthKPerMin()).isCloseTo(0.0615, within(0.001));
    }

    @Test
    void aCoarseConverterIsLessExact() {
        feed(0, 900, 1, 0, s -> Math.rint(1_100 + s / 60));
        Steadiness seen = test.at(900_000_000);
        assertThat(seen.halfWidthKPerMin()).isGreaterThan(0.17);
        assertThat(seen.slopeKPerMin()).isCloseTo(1, within(seen.halfWidthKPerMin()));
    }

    @Test
    void steadyOutlastsAShortDisturbanceAndNotALongOne() {
        feed(0, 900, 4, 0.3, s -> 1_100);
        // A bar of cold steel for three seconds of readings.
        feed(900, 903, 4, 0.3, s -> 1_092);
        feed(903, 1_000, 4, 0.3, s -> 1_100);
        assertThat(test.isSteady()).isTrue();
        feed(1_000, 1_200, 4, 0.3, s -> 1_100 - 10 * (s - 1_000) / 60);
        assertThat(test.state()).isEqualTo(Steadiness.State.MOVING);
    }

    @Test
    void aSilenceOfTwoMinutesIsForgottenAndAShorterOneIsNot() {
        feed(0, 600, 4, 0.3, s -> 1_100);
        feed(700, 710, 4, 0.3, s -> 1_100);
        assertThat(test.isSteady()).isTrue();
        feed(840, 850, 4, 0.3, s -> 1_100);
        assertThat(test.state()).isEqualTo(Steadiness.State.CANNOT_TELL);
        assertThat(test.at(850_000_000).steadyForS()).isNaN();
    }

    @Test
    void whereWaitingDoesNotHelpItSaysWhatDoes() {
        // Slow waves of 12 K: no window of ten minutes tells a slope within ±2 K/min.
        double wave = 0;
        for (int i = 0; i < 2_400; i++) {
            wave = 0.97 * wave + Math.sqrt(1 - 0.97 * 0.97) * 12 * random.nextGaussian();
            test.add(i * 1_000_000L, 1_100 + wave);
        }
        Steadiness seen = test.at(2_400_000_000L);
        assertThat(seen.state()).isEqualTo(Steadiness.State.CANNOT_TELL);
        assertThat(seen.tellsInS()).isNaN();
        assertThat(seen.wouldTell()).containsAnyOf("quieter readings or a wider band", "about the edge", "flutter");
    }

    @Test
    void theBandIsAnyAboveZero() {
        for (double bad : new double[] {0, -1, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThatThrownBy(() -> new SteadyTest(bad))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("above 0");
        }
    }

    private void feed(double fromS, double toS, double hz, double noiseK, DoubleUnaryOperator curve) {
        for (int i = 0; i < (toS - fromS) * hz; i++) {
            double s = fromS + i / hz;
            test.add(Math.round(s * 1e6), curve.applyAsDouble(s) + noiseK * random.nextGaussian());
        }
    }
}
