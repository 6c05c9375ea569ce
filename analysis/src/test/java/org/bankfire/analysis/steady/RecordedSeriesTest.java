package org.bankfire.analysis.steady;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.Fixtures;
import org.hipparchus.stat.regression.SimpleRegression;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Real coolings ({@code fixtures/cooling-curves}, sources in the files): a mug of hot water read once a minute to 0.1 °C, and three
 * film canisters of warm water read each second to 0.1 °C. The truth is the slope of the same series over a long window about the
 * moment, by Hipparchus' plain regression, which the test at that moment could not see the second half of.
 */
class RecordedSeriesTest {
    private record Sample(double s, double celsius) {}

    @ParameterizedTest(name = "{0} run {1}, band {2} K/min")
    @CsvSource({
        // half of the long window, s
        "coolingwater_mosaic, 0, 1.00, 600",
        "coolingwater_mosaic, 0, 0.50, 600",
        "coolingwater_mosaic, 0, 0.25, 600",
        "mpc_cooling_lab, 1, 1.00, 120",
        "mpc_cooling_lab, 2, 1.00, 120",
        "mpc_cooling_lab, 3, 0.70, 120",
    })
    void aCoolingIsSteadyOnlyOnceItsLongSlopeIsWithinTheBand(String file, int run, double band, double halfS) {
        List<Sample> series = series(file, run);
        SteadyTest test = new SteadyTest(band);
        double enteredS = Double.POSITIVE_INFINITY;
        double steadyS = Double.POSITIVE_INFINITY;
        for (Sample sample : series) {
            double slope = longSlope(series, sample.s, halfS);
            if (Math.abs(slope) <= band) {
                enteredS = Math.min(enteredS, sample.s);
            }
            test.add(Math.round(sample.s * 1e6), sample.celsius);
            if (test.isSteady()) {
                steadyS = Math.min(steadyS, sample.s);
                assertThat(Math.abs(slope)).as("long slope at %.0f s", sample.s).isLessThanOrEqualTo(band);
            }
        }
        assertThat(enteredS).isFinite();
        assertThat(steadyS).isGreaterThanOrEqualTo(enteredS);
        // The slope falls on while the window fills: half of it is in the past, and the interval must fit in besides.
        assertThat(Math.abs(longSlope(series, steadyS, halfS)) / band).isBetween(0.4, 1.0);
        assertThat(test.isSteady()).isTrue();
    }

    /** Bands that the slope stays outside of as long as the record goes. */
    @ParameterizedTest(name = "{0} run {1}, band {2} K/min")
    @CsvSource({"mpc_cooling_lab, 1, 0.30", "mpc_cooling_lab, 2, 0.30", "mpc_cooling_lab, 3, 0.20"})
    void aCoolingThatDoesNotEnterTheBandIsNeverSteady(String file, int run, double band) {
        List<Sample> series = series(file, run);
        SteadyTest test = new SteadyTest(band);
        boolean moved = false;
        for (Sample sample : series) {
            assertThat(Math.abs(longSlope(series, sample.s, 120))).isGreaterThan(band);
            test.add(Math.round(sample.s * 1e6), sample.celsius);
            assertThat(test.isSteady()).isFalse();
            moved |= test.state() == Steadiness.State.MOVING;
        }
        assertThat(moved).isTrue();
    }

    private static double longSlope(List<Sample> series, double atS, double halfS) {
        SimpleRegression regression = new SimpleRegression();
        for (Sample sample : series) {
            if (Math.abs(sample.s - atS) <= halfS) {
                regression.addData(sample.s / 60, sample.celsius);
            }
        }
        return regression.getSlope();
    }

    private static List<Sample> series(String file, int run) {
        List<Sample> series = new ArrayList<>();
        for (Map<String, String> row : Fixtures.rows("cooling-curves/" + file + ".csv")) {
            if (run == 0) {
                series.add(new Sample(60 * Fixtures.number(row, "time"), Fixtures.number(row, "temp")));
            } else if (Fixtures.number(row, "run") == run) {
                series.add(new Sample(Fixtures.number(row, "t_s"), Fixtures.number(row, "T_degC")));
            }
        }
        return series;
    }
}
