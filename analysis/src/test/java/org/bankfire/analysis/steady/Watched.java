package org.bankfire.analysis.steady;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;

/**
 * What a test said of a simulated chamber.
 *
 * @param firstSteadyS when it first said steady, s; infinite when it never did
 * @param firstMovingS when it first said moving, s; infinite when it never did
 * @param changes how often its verdict changed
 * @param test as it stands at the end
 */
record Watched(double firstSteadyS, double firstMovingS, int changes, SteadyTest test) {
    /**
     * Noise of a chamber: a first-order autoregression from one reading to the next.
     *
     * @param correlation of neighbouring readings
     * @param deviationK its standard deviation
     * @param rateHz readings a second
     * @param quantised whether readings come in steps of a quarter kelvin
     */
    record Noise(double correlation, double deviationK, double rateHz, boolean quantised) {}

    /** Watches {@code curve}, °C by seconds, for {@code durationS}; verdicts count from {@code fromS} on. */
    static Watched of(
            long seed, Noise noise, double bandKPerMin, double fromS, double durationS, DoubleUnaryOperator curve) {
        Random random = new Random(seed * 7_919 + 13);
        SteadyTest test = new SteadyTest(bandKPerMin);
        double innovation = noise.deviationK() * Math.sqrt(1 - noise.correlation() * noise.correlation());
        double error = noise.deviationK() * random.nextGaussian();
        double phase = random.nextDouble();
        double steady = Double.POSITIVE_INFINITY;
        double moving = Double.POSITIVE_INFINITY;
        int changes = 0;
        Steadiness.State before = test.state();
        for (int i = 0; i < durationS * noise.rateHz(); i++) {
            double s = i / noise.rateHz();
            double read = curve.applyAsDouble(s) + phase + error;
            test.add(Math.round(s * 1e6), noise.quantised() ? Math.round(4 * read) / 4.0 : read);
            error = noise.correlation() * error + innovation * random.nextGaussian();
            changes += test.state() == before ? 0 : 1;
            before = test.state();
            if (s >= fromS) {
                steady = test.isSteady() ? Math.min(steady, s) : steady;
                moving = before == Steadiness.State.MOVING ? Math.min(moving, s) : moving;
            }
        }
        return new Watched(steady, moving, changes, test);
    }
}
