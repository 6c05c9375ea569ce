package org.bankfire.analysis.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class FlutterWatchTest {
    @Test
    void aSwingInTheBandShowsWithItsStrengthAndASlowOneHardly() {
        // Two first-order high passes at 0.2 Hz let through f² / (f² + 0.04) of the amplitude.
        assertThat(index(t -> Math.sin(2 * Math.PI * t), 10)).isCloseTo(Math.sqrt(0.5) / 1.04, within(0.06));
        assertThat(index(t -> Math.sin(2 * Math.PI * t / 60), 10)).isLessThan(0.02);
        assertThat(index(t -> 20 * t, 4)).isLessThan(0.01);
    }

    @Test
    void aStepASpikeAndAnInsertedBarArePassedOver() {
        Random random = new Random(1);
        double quiet = index(t -> random.nextGaussian(), 4);
        double disturbed =
                index(t -> random.nextGaussian() + (t > 30 ? 500 : 0) + (Math.abs(t - 45) < 0.2 ? 900 : 0), 4);
        assertThat(disturbed).isCloseTo(quiet, within(0.25 * quiet));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.2, 0.5, 1})
    void belowTwoReadingsASecondNothingIsSaid(double hz) {
        FlutterWatch watch = new FlutterWatch(0.1);
        Random random = new Random(2);
        run(watch, 0, 3_600, hz, t -> (t > 1_800 ? 50 : 1) * random.nextGaussian());
        assertThat(watch.index()).isNaN();
        assertThat(watch.baseline()).isNaN();
        assertThat(watch.isUnsteady()).isFalse();
    }

    @Test
    void threeTimesTheUsualIsUnsteadyAndEndsBelowTheDeadband() {
        for (int seed = 1; seed <= 10; seed++) {
            FlutterWatch watch = new FlutterWatch(0.01);
            Random random = new Random(seed);
            run(watch, 0, 300, 4, t -> random.nextGaussian());
            assertThat(watch.baseline()).isBetween(0.6, 1.1);
            run(watch, 300, 420, 4, t -> 3.5 * random.nextGaussian());
            assertThat(watch.isUnsteady()).as("seed %d", seed).isTrue();
            run(watch, 420, 540, 4, t -> 2.1 * random.nextGaussian());
            assertThat(watch.isUnsteady())
                    .as("inside the deadband, seed %d", seed)
                    .isTrue();
            run(watch, 540, 660, 4, t -> random.nextGaussian());
            assertThat(watch.isUnsteady()).as("seed %d", seed).isFalse();
        }
    }

    @Test
    void steadyNoiseIsNeverUnsteadyAndNeitherIsWhatAConverterCannotResolve() {
        for (int seed = 1; seed <= 30; seed++) {
            FlutterWatch noisy = new FlutterWatch(0.01);
            FlutterWatch coarse = new FlutterWatch(0.15);
            Random random = new Random(seed);
            for (int i = 0; i < 4 * 7_200; i++) {
                double celsius = 900 + i / 400.0 + 0.05 * random.nextGaussian();
                noisy.add(i * 250_000L, celsius);
                coarse.add(i * 250_000L, Math.round(celsius * 4) / 4.0);
                assertThat(noisy.isUnsteady() || coarse.isUnsteady())
                        .as("seed %d", seed)
                        .isFalse();
            }
        }
    }

    private static double index(DoubleUnaryOperator value, double hz) {
        FlutterMeter meter = new FlutterMeter();
        for (int i = 0; i / hz < 90; i++) {
            meter.add(Math.round(i / hz * 1e6), value.applyAsDouble(i / hz));
        }
        return meter.index();
    }

    private static void run(FlutterWatch watch, double fromS, double toS, double hz, DoubleUnaryOperator value) {
        for (double t = fromS; t < toS; t += 1 / hz) {
            watch.add(Math.round(t * 1e6), value.applyAsDouble(t));
        }
    }
}
