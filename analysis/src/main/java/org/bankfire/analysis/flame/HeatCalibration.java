package org.bankfire.analysis.flame;

/**
 * How strong the two parts of {@link HeatResponse} are in this forge, learned from the burn in progress by recursive
 * least squares: lighting and every turn of the regulator show it. Slow drift is kept out by a high-pass, and moments in
 * which the heat did not change teach nothing.
 *
 * <p>Recursive least squares with a prior is the Kalman filter of a constant; see Ljung, System Identification, chapter
 * 11 (from memory).
 */
final class HeatCalibration {
    /** Time constant of the high-pass: twice the span of 2 to 16 s in which a flame-out must be seen, rounded. */
    private static final double HIGH_PASS_S = 25;

    /** Gas part before anything is known, as a factor on the guess from convection and radiation. */
    private static final double GAS_PRIOR = 1;

    private static final double GAS_PRIOR_DEVIATION = 0.25;
    /** Part of the heating value that reaches the walls of a cold chamber. */
    private static final double WALL_PRIOR = 0.65;

    private static final double WALL_PRIOR_DEVIATION = 0.2;
    /** Relative error of the response's form itself. */
    private static final double FORM_ERROR = 0.3;
    /** Successive errors of form are alike: this many samples count as one. */
    private static final double ALIKE = 12;
    /** How far the strengths wander as the chamber heats: this part of the prior's deviation in ten minutes. */
    private static final double WANDER_PER_ROOT_S = 0.3 / Math.sqrt(600);

    private static final double LEAST_EXCITATION_K = 4;

    private double gas = GAS_PRIOR;
    private double wall = WALL_PRIOR;
    private double pGas = GAS_PRIOR_DEVIATION * GAS_PRIOR_DEVIATION;
    private double pCross;
    private double pWall = WALL_PRIOR_DEVIATION * WALL_PRIOR_DEVIATION;
    private final HighPass temperaturePass = new HighPass();
    private final HighPass gasPass = new HighPass();
    private final HighPass wallPass = new HighPass();

    /** Begins to watch from here; what was learned stays. */
    void anchor(double temperature, HeatResponse response) {
        temperaturePass.anchor(temperature);
        gasPass.anchor(response.gas());
        wallPass.anchor(response.wall());
    }

    /**
     * Follows the burn.
     *
     * @param teaches whether the heat has changed lately, so that there is something to learn
     */
    void follow(double seconds, double temperature, HeatResponse response, double noiseK, boolean teaches) {
        double keep = Math.exp(-seconds / HIGH_PASS_S);
        double seen = temperaturePass.pass(temperature, keep);
        double x = gasPass.pass(response.gas(), keep);
        double y = wallPass.pass(response.wall(), keep);
        double wander = WANDER_PER_ROOT_S * WANDER_PER_ROOT_S * seconds;
        pGas = Math.min(pGas + wander * square(GAS_PRIOR_DEVIATION), square(GAS_PRIOR_DEVIATION));
        pWall = Math.min(pWall + wander * square(WALL_PRIOR_DEVIATION), square(WALL_PRIOR_DEVIATION));
        double expected = gas * x + wall * y;
        if (!teaches || Math.abs(expected) < LEAST_EXCITATION_K) {
            return;
        }
        double variance = ALIKE * (noiseK * noiseK + square(FORM_ERROR * expected));
        double gx = pGas * x + pCross * y;
        double gy = pCross * x + pWall * y;
        double total = variance + x * gx + y * gy;
        double innovation = seen - expected;
        // Cold stock and spikes are not the flame's doing: bounded influence (Huber).
        double bound = 2 * Math.sqrt(total);
        innovation = Math.max(-bound, Math.min(bound, innovation));
        gas += gx / total * innovation;
        wall += gy / total * innovation;
        pGas -= gx * gx / total;
        pCross -= gx * gy / total;
        pWall -= gy * gy / total;
        gas = Math.max(0.5 * GAS_PRIOR, Math.min(1.5 * GAS_PRIOR, gas));
        wall = Math.max(0.6 * WALL_PRIOR, Math.min(1.5 * WALL_PRIOR, wall));
    }

    double gas() {
        return gas;
    }

    double wall() {
        return wall;
    }

    private static double square(double value) {
        return value * value;
    }

    /** Takes away levels and ramps: two first-order high-passes in a row. */
    private static final class HighPass {
        private double level;
        private double ramp;

        void anchor(double value) {
            level = value;
            ramp = 0;
        }

        double pass(double value, double keep) {
            level = value + (level - value) * keep;
            double once = value - level;
            ramp = once + (ramp - once) * keep;
            return once - ramp;
        }
    }
}
