package org.bankfire.analysis.heat;

import java.util.Arrays;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.lining.ChainStepper;
import org.bankfire.analysis.lining.HeatChain;
import org.bankfire.analysis.lining.OuterFace;
import org.bankfire.analysis.lining.WallGrid;
import org.bankfire.analysis.quantity.Constants;

/**
 * Predicts the shell of a forge that has no sensor there: conduction through the lining as described, from the measured
 * chamber temperature on its hot face to the air outside.
 *
 * <p>Three linings are followed: the described one and one that conducts a fifth less and a fifth more, the spread of
 * bricks and blankets between makers and batches. Half the difference of the two is the lining's part of the standard
 * uncertainty; a tenth of the rise stands for the outside (paint, draught, a shelf above) and the hot face, which is not
 * quite what the probe reads. A crack or a gap is in none of it.
 *
 * <p>When the chamber is hot at the first reading nobody knows how warm the lining is: the lesser one then begins cold, the
 * greater one soaked through, the described one half way, and the uncertainty shrinks as they come together.
 *
 * <p>Times are µs of one line of event time. Nothing is allocated after construction but at a new beginning.
 */
public final class ShellFollower {
    /** Standard uncertainty of the lining's conductivity over it, 1. Common practice, no source. */
    public static final double CONDUCTIVITY_UNCERTAINTY = 0.2;
    /** Standard uncertainty of the rise over ambient from all else, over the rise, 1. Common practice, no source. */
    public static final double OUTSIDE_UNCERTAINTY = 0.1;

    private static final double ZERO_CELSIUS_K = 273.15;
    private static final double MICROS_PER_S = 1e6;
    /** The shell of any lining changes little within this, s. */
    private static final double STEP_S = 10;
    /** Longest step over a silence, s. */
    private static final double LONGEST_STEP_S = 120;
    /** A silence of so many longest steps, a day, leaves nothing of the heat. */
    private static final int MOST_STEPS = 720;
    /** A chamber no warmer than this above the air is taken to stand on a cold lining, K. */
    private static final double COLD_K = 50;

    private final Wall[] walls;
    private boolean begun;
    private long at;
    private double chamberK;
    private double ambientK;
    private double sumK;
    private int count;

    /** A follower of the forge as described. */
    public ShellFollower(ForgeDescription forge) {
        WallGrid grid = ForgeModel.gridOf(forge);
        OuterFace outer = ForgeModel.outerFaceOf(forge, grid);
        double faceM2 = forge.innerSurfaceM2() - OpeningShape.openM2(forge, true);
        walls = new Wall[] {
            new Wall(grid, outer, faceM2, 1 - CONDUCTIVITY_UNCERTAINTY),
            new Wall(grid, outer, faceM2, 1),
            new Wall(grid, outer, faceM2, 1 + CONDUCTIVITY_UNCERTAINTY)
        };
    }

    /**
     * A good chamber temperature.
     *
     * @param atMicros not before that of the last call
     * @param chamberC °C
     * @param ambientC of the air outside, °C
     * @return whether the prediction moved on
     */
    public boolean chamber(long atMicros, double chamberC, double ambientC) {
        double nowK = chamberC + ZERO_CELSIUS_K;
        ambientK = ambientC + ZERO_CELSIUS_K;
        if (!(nowK > 0 && ambientK > 0)) {
            return false;
        }
        double seconds = (atMicros - at) / MICROS_PER_S;
        if (!begun || seconds > MOST_STEPS * LONGEST_STEP_S) {
            begin(atMicros, nowK);
            return true;
        }
        sumK += nowK;
        count++;
        if (seconds < STEP_S) {
            return false;
        }
        int steps = (int) Math.ceil(seconds / LONGEST_STEP_S);
        double meanK = sumK / count;
        for (int i = 0; i < steps; i++) {
            // Over a silence the chamber is taken to have gone straight from the last reading to this one.
            double faceK = steps == 1 ? meanK : chamberK + (nowK - chamberK) * (i + 0.5) / steps;
            for (Wall wall : walls) {
                wall.step(seconds / steps, faceK, ambientK);
            }
        }
        at = atMicros;
        chamberK = nowK;
        sumK = 0;
        count = 0;
        return true;
    }

    /** Predicted shell temperature, °C; NaN before the first reading. */
    public double shellC() {
        return begun ? walls[1].shellK() - ZERO_CELSIUS_K : Double.NaN;
    }

    /** Standard uncertainty of it, K; NaN as above. */
    public double standardUncertaintyK() {
        if (!begun) {
            return Double.NaN;
        }
        double lining = Math.max(0, walls[2].shellK() - walls[0].shellK()) / 2;
        return Math.hypot(lining, OUTSIDE_UNCERTAINTY * (walls[1].shellK() - ambientK));
    }

    private void begin(long atMicros, double nowK) {
        begun = true;
        at = atMicros;
        chamberK = nowK;
        sumK = 0;
        count = 0;
        double soaked = nowK - ambientK > COLD_K ? 0.5 : 0;
        for (int i = 0; i < walls.length; i++) {
            walls[i].begin(nowK, ambientK, i * soaked);
        }
    }

    /** One lining with the chamber's temperature before it. */
    private static final class Wall implements HeatChain {
        private static final int[] NO_PORTS = {};
        /** Estimate of a step's error that is taken; the shell hardly feels the hot face's, K. */
        private static final double TOLERANCE_K = 10;
        /** A step is divided into no more than this: a chamber that jumps by 1,000 K needs some hundred. */
        private static final int MOST_PARTS = 4_096;

        private final WallGrid grid;
        private final OuterFace outer;
        private final double faceM2;
        private final double conductivity;
        private final double[] heatJ;
        private ChainStepper stepper;
        private double chamberK;
        private double ambientK;

        Wall(WallGrid grid, OuterFace outer, double faceM2, double conductivity) {
            this.grid = grid;
            this.outer = outer;
            this.faceM2 = faceM2;
            this.conductivity = conductivity;
            heatJ = new double[grid.nodes()];
            Arrays.setAll(heatJ, i -> grid.capacityJPerK(i) * ZERO_CELSIUS_K);
            stepper = new ChainStepper(this, heatJ);
        }

        /** @param soaked 0 for a lining at ambient, 1 for one that has taken all the heat it can */
        void begin(double faceK, double airK, double soaked) {
            chamberK = faceK;
            ambientK = airK;
            Arrays.setAll(heatJ, i -> grid.capacityJPerK(i) * airK);
            stepper = new ChainStepper(this, heatJ);
            if (soaked > 0) {
                // Steps that grow, to some two weeks together, go to the steady state of any lining.
                for (double stepS = 10; stepS < 4e5; stepS *= 1.3) {
                    step(stepS, faceK, airK);
                }
                Arrays.setAll(heatJ, i -> soaked * stepper.heatJ(i) + (1 - soaked) * grid.capacityJPerK(i) * airK);
                stepper = new ChainStepper(this, heatJ);
            }
        }

        void step(double seconds, double faceK, double airK) {
            chamberK = faceK;
            ambientK = airK;
            double doneS = 0;
            double tryS = seconds;
            while (doneS < seconds) {
                tryS = Math.min(tryS, seconds - doneS);
                double errorK = stepper.attempt(tryS);
                if (errorK <= TOLERANCE_K) {
                    stepper.accept();
                    doneS += tryS;
                    tryS *= 2;
                } else if (tryS > seconds / MOST_PARTS) {
                    tryS /= 2;
                } else {
                    // Nothing that a chamber does; the wall stays as it is rather than run away.
                    return;
                }
            }
        }

        double shellK() {
            return stepper.temperatureK(nodes() - 1);
        }

        @Override
        public int nodes() {
            return grid.nodes();
        }

        @Override
        public int[] ports() {
            return NO_PORTS;
        }

        @Override
        public int tallies() {
            return 0;
        }

        @Override
        public void temperatures(double[] heat, double[] temperatureK, double[] capacityJPerK) {
            for (int i = 0; i < heat.length; i++) {
                capacityJPerK[i] = grid.capacityJPerK(i);
                temperatureK[i] = heat[i] / capacityJPerK[i];
            }
        }

        @Override
        public void flows(double[] t, Flows flows, boolean withSlopes) {
            Arrays.fill(flows.netW, 0);
            if (withSlopes) {
                Arrays.fill(flows.ownWPerK, 0);
            }
            int last = t.length - 1;
            for (int i = 0; i < last; i++) {
                double conductance = conductivity * grid.conductanceWPerK(i, t[i], t[i + 1]);
                double flow = conductance * (t[i] - t[i + 1]);
                flows.netW[i] -= flow;
                flows.netW[i + 1] += flow;
                if (withSlopes) {
                    flows.ownWPerK[i] -= conductance;
                    flows.afterWPerK[i] = conductance;
                    flows.beforeWPerK[i + 1] = conductance;
                    flows.ownWPerK[i + 1] -= conductance;
                }
            }
            // The hot face follows the chamber as by radiation, within a few kelvin when soaked; the coefficient is
            // that of
            // the chamber's temperature, so that the step stays linear and stable when the chamber jumps.
            double exchange = 4 * faceM2 * Constants.STEFAN_BOLTZMANN_W_PER_M2_K4 * chamberK * chamberK * chamberK;
            flows.netW[0] += exchange * (chamberK - t[0]);
            flows.netW[last] -= outer.heatW(t[last], ambientK);
            if (withSlopes) {
                flows.ownWPerK[0] -= exchange;
                flows.ownWPerK[last] -= outer.slopeWPerK(t[last], ambientK);
            }
        }
    }
}
