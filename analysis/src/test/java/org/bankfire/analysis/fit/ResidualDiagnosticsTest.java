package org.bankfire.analysis.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class ResidualDiagnosticsTest {
    private static double[] autoregressive(double phi, int samples, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] series = new double[samples];
        double state = random.nextGaussian() / Math.sqrt(1 - phi * phi);
        for (int i = 0; i < samples; i++) {
            series[i] = state;
            state = phi * state + random.nextGaussian();
        }
        return series;
    }

    /** First-order autoregressive noise: ρ(k) = φ^k, so τ = (1 + φ) / (1 − φ) (Sokal 1997). */
    @Test
    void theAutocorrelationTimeOfAutoregressiveNoiseIsFound() {
        for (double phi : new double[] {0, 0.5, 0.9}) {
            double mean = 0;
            for (int seed = 0; seed < 200; seed++) {
                mean += Autocorrelation.time(autoregressive(phi, 4000, seed), 0) / 200;
            }
            assertThat(mean).as("phi = %s", phi).isCloseTo((1 + phi) / (1 - phi), withinPercentage(8));
        }
    }

    /** Twelve hours at 4 Hz: averaged in blocks, the time is the same. */
    @Test
    void aLongSeriesHasTheSameAutocorrelationTime() {
        assertThat(Autocorrelation.time(autoregressive(0.99, 172_800, 1), 0)).isCloseTo(199, withinPercentage(20));
        assertThat(Autocorrelation.time(autoregressive(0, 172_800, 1), 0)).isCloseTo(1, within(0.15));
    }

    @Test
    void alternatingNoiseIsNotTakenForMoreThanItsSamples() {
        assertThat(Autocorrelation.time(autoregressive(-0.8, 1000, 1), 0)).isEqualTo(1);
        assertThat(Autocorrelation.lagOne(autoregressive(-0.8, 1000, 1))).isCloseTo(-0.8, within(0.07));
    }

    @Test
    void aConstantZeroHasNoAutocorrelation() {
        assertThat(Autocorrelation.time(new double[50], 0)).isEqualTo(1);
        assertThat(Autocorrelation.lagOne(new double[50])).isZero();
    }

    /** 11 above, 9 below in 6 runs, by hand: 10.9 ± 2.154 expected, so z = −2.275. */
    @Test
    void runsAreCountedAndComparedWithChance() {
        double[] residuals = {1, 1, 1, -1, -1, -1, 1, 1, 1, 1, -1, -1, -1, 1, 1, 1, 1, -1, -1, -1};
        ResidualReport report = ResidualReport.of(residuals, 2, 1);
        assertThat(report.runs()).isEqualTo(6);
        assertThat(report.runsZ()).isCloseTo(-2.275, within(0.001));
        assertThat(report.sumOfSquares()).isEqualTo(20);
        assertThat(report.standardDeviation()).isCloseTo(Math.sqrt(20 / 18.0), within(1e-12));
    }

    @Test
    void oneSignAloneSaysNothingOfRuns() {
        assertThat(ResidualReport.of(new double[] {1, 2, 3}, 1, 1).runsZ()).isZero();
    }
}
