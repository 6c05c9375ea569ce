package org.bankfire.analysis.burn;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TemperatureTrendTest {
    private final TemperatureTrend trend = new TemperatureTrend();

    @Test
    void nothingIsSaidBeforeTenSeconds() {
        feed(9.5, 4, t -> 500 + t);
        assertThat(trend.rateKPerMin()).isNaN();
        assertThat(trend.standardErrorKPerMin()).isNaN();
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.5, 1, 4, 10, 50})
    void aStraightLineHasItsSlopeAtAnyRate(double hz) {
        feed(120, hz, t -> 500 + 0.25 * t);
        assertThat(trend.rateKPerMin()).isCloseTo(15, within(1e-6));
    }

    /** 95 % of the errors must lie within 1.96 standard errors; of 400 runs, between 90 and 99 %. */
    @Test
    void theStandardErrorIsHonestForWhiteNoiseAndNotTooSmallForSlowNoise() {
        assertThat(coverage(0)).isBetween(0.90, 0.99);
        assertThat(coverage(0.7)).isGreaterThan(0.85);
    }

    @Test
    void aBentCurveIsFollowedByTheShortWindow() {
        // Flat, then 30 K/min for 20 s: a minute's line would say far less.
        feed(80, 4, t -> t < 60 ? 500 : 500 + 0.5 * (t - 60));
        assertThat(trend.rateKPerMin()).isCloseTo(30, within(2.0));
    }

    @Test
    void aLongSilenceIsForgotten() {
        feed(60, 4, t -> 500 + t);
        trend.add(200_000_000, 20);
        assertThat(trend.rateKPerMin()).isNaN();
    }

    @Test
    void aConverterThatRepeatsOneCodeIsNotExact() {
        feed(120, 1, t -> 500);
        assertThat(trend.rateKPerMin()).isZero();
        assertThat(trend.standardErrorKPerMin()).isGreaterThan(0);
    }

    private double coverage(double correlation) {
        int hits = 0;
        int runs = 400;
        for (int run = 0; run < runs; run++) {
            Random random = new Random(run);
            TemperatureTrend one = new TemperatureTrend();
            double noise = 0;
            for (int i = 0; i < 240; i++) {
                noise = correlation * noise + Math.sqrt(1 - correlation * correlation) * random.nextGaussian();
                one.add(i * 250_000L, 500 + 0.1 * i * 0.25 + noise);
            }
            if (Math.abs(one.rateKPerMin() - 6) < 1.96 * one.standardErrorKPerMin()) {
                hits++;
            }
        }
        return hits / (double) runs;
    }

    private interface Curve {
        double at(double seconds);
    }

    private void feed(double seconds, double hz, Curve curve) {
        for (int i = 0; i <= seconds * hz; i++) {
            trend.add(Math.round(i / hz * 1e6), curve.at(i / hz));
        }
    }
}
