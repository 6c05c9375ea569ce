package org.bankfire.analysis.fit;

import static org.bankfire.analysis.Fixtures.number;
import static org.bankfire.analysis.Fixtures.text;

import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.bankfire.analysis.Fixtures;

/** Series for the empirical fits, measured and generated. */
final class TestSeries {
    private final String name;
    private final double[] timesS;
    private final double[] values;

    private TestSeries(String name, double[] timesS, double[] values) {
        this.name = name;
        this.timesS = timesS;
        this.values = values;
    }

    /** A mug of hot water, 222 min; times in minutes are kept as they stand, for the published fit has them so. */
    static TestSeries mug() {
        List<Map<String, String>> rows = Fixtures.rows("cooling-curves/coolingwater_mosaic.csv");
        return new TestSeries(
                "mug",
                rows.stream().mapToDouble(row -> number(row, "time")).toArray(),
                rows.stream().mapToDouble(row -> number(row, "temp")).toArray());
    }

    /** One of three runs of warm water in a film canister, from {@code fromS} on. */
    static TestSeries canister(int run, double fromS) {
        List<Map<String, String>> rows = Fixtures.rows("cooling-curves/mpc_cooling_lab.csv").stream()
                .filter(row -> text(row, "run").equals(Integer.toString(run)) && number(row, "t_s") >= fromS)
                .toList();
        return new TestSeries(
                "canister run " + run,
                rows.stream().mapToDouble(row -> number(row, "t_s")).toArray(),
                rows.stream().mapToDouble(row -> number(row, "T_degC")).toArray());
    }

    /**
     * Generated, with white noise of a fixed seed.
     *
     * @param curve whose
     * @param end final temperature
     * @param terms height and time constant of each term
     * @param samples how many
     * @param everyS spacing, with ±20 % of jitter
     * @param noise standard deviation
     * @param seed of the noise
     */
    static TestSeries generated(
            EmpiricalCurve curve, double end, double[] terms, int samples, double everyS, double noise, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] times = new double[samples];
        double[] values = new double[samples];
        for (int i = 0; i < samples; i++) {
            times[i] = everyS * (i + (i == 0 ? 0 : 0.4 * random.nextDouble() - 0.2));
            double value = end + noise * random.nextGaussian();
            for (int k = 0; k < terms.length; k += 2) {
                value += terms[k] * curve.shape(times[i] / terms[k + 1]);
            }
            values[i] = value;
        }
        return new TestSeries("generated " + curve, times, values);
    }

    /** A heat-up of an invented light forge at 1 Hz: 40 min to 1250 °C. */
    static TestSeries forgeHeatUp(EmpiricalCurve curve) {
        double[] terms = curve == EmpiricalCurve.TWO_EXPONENTIALS
                ? new double[] {-700, 110, -520, 900}
                : new double[] {-1220, curve == EmpiricalCurve.DIFFUSIVE ? 60 : 480};
        return generated(curve, 1240, terms, 2400, 1, 1.5, 20_260_301);
    }

    TemperatureSeries series() {
        return TemperatureSeries.of(timesS, values);
    }

    double[] timesS() {
        return timesS;
    }

    double[] values() {
        return values;
    }

    @Override
    public String toString() {
        return name;
    }
}
