package org.bankfire.analysis.lining;

import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.bankfire.analysis.lining.Material.ConductivityPoint;
import org.bankfire.analysis.quantity.Constants;

/** A wall on the grid of the product, moved by the stepper of the product, with simple things at its faces. */
final class Slab implements HeatChain {
    static final int FRONT_J = 0;
    static final int BACK_J = 1;

    /** What a face sees: convection, radiation and a given flux, all per m². All zero is an insulated face. */
    record Face(double coefficientWPerM2K, double gasK, double emissivity, double surroundingsK, double fluxWPerM2) {
        static final Face INSULATED = new Face(0, 300, 0, 300, 0);

        static Face convection(double coefficientWPerM2K, double gasK) {
            return new Face(coefficientWPerM2K, gasK, 0, 300, 0);
        }

        /** So good a contact that the face has the temperature of what touches it. */
        static Face fixed(double kelvin) {
            return convection(1e9, kelvin);
        }

        static Face flux(double fluxWPerM2) {
            return new Face(0, 300, 0, 300, fluxWPerM2);
        }

        double intoWPerM2(double kelvin) {
            return fluxWPerM2
                    + coefficientWPerM2K * (gasK - kelvin)
                    + emissivity
                            * Constants.STEFAN_BOLTZMANN_W_PER_M2_K4
                            * (Math.pow(surroundingsK, 4) - Math.pow(kelvin, 4));
        }

        double slopeWPerM2K(double kelvin) {
            return -coefficientWPerM2K - 4 * emissivity * Constants.STEFAN_BOLTZMANN_W_PER_M2_K4 * Math.pow(kelvin, 3);
        }
    }

    private final WallGrid grid;
    private final double frontM2;
    private final double backM2;
    private final ChainStepper stepper;
    private final double[] sourceW;
    private Face front = Face.INSULATED;
    private Face back = Face.INSULATED;

    private Slab(WallGrid grid, double frontM2, double backM2, DoubleUnaryOperator startK) {
        this.grid = grid;
        this.frontM2 = frontM2;
        this.backM2 = backM2;
        sourceW = new double[grid.nodes()];
        double[] heatJ = new double[grid.nodes()];
        for (int i = 0; i < heatJ.length; i++) {
            heatJ[i] = grid.capacityJPerK(i) * startK.applyAsDouble(grid.depthM(i));
        }
        stepper = new ChainStepper(this, heatJ);
    }

    /** A flat wall of 1 m². */
    static Slab flat(List<Layer> layers, double firstCellM, double growth, DoubleUnaryOperator startK) {
        return new Slab(WallGrid.of(layers, new Spread.Plane(1), firstCellM, growth), 1, 1, startK);
    }

    /** A flat wall of 1 m² and one temperature. */
    static Slab flat(List<Layer> layers, double firstCellM, double growth, double startK) {
        return flat(layers, firstCellM, growth, depthM -> startK);
    }

    /** A wall that widens outwards. */
    static Slab spread(List<Layer> layers, Spread spread, double firstCellM, double growth, double startK) {
        WallGrid grid = WallGrid.of(layers, spread, firstCellM, growth);
        return new Slab(grid, spread.areaM2(0), spread.areaM2(grid.thicknessM()), depthM -> startK);
    }

    /** A layer whose conductivity does not change. */
    static Layer layer(double thicknessM, double densityKgPerM3, double heatCapacity, double conductivity) {
        return layer(thicknessM, densityKgPerM3, heatCapacity, new ConductivityPoint(300, conductivity));
    }

    static Layer layer(
            double thicknessM, double densityKgPerM3, double heatCapacity, ConductivityPoint... conductivity) {
        return new Layer(
                new Material("test", densityKgPerM3, heatCapacity, List.of(conductivity), Double.NaN, "a test"),
                thicknessM);
    }

    Slab faces(Face toFront, Face toBack) {
        front = toFront;
        back = toBack;
        return this;
    }

    /** Sets the heat set free within, W/m³ at a depth in m. */
    void source(DoubleUnaryOperator wPerM3, double heatCapacityJPerM3K) {
        for (int i = 0; i < sourceW.length; i++) {
            sourceW[i] = wPerM3.applyAsDouble(grid.depthM(i)) * grid.capacityJPerK(i) / heatCapacityJPerM3K;
        }
    }

    /** Goes on in even steps, no longer than asked for. */
    Slab run(double seconds, double longestStepS) {
        int steps = (int) Math.ceil(seconds / longestStepS - 1e-9);
        for (int n = 0; n < steps; n++) {
            step(seconds / steps);
        }
        return this;
    }

    /** Takes one step and gives the error that it owns up to, K. */
    double step(double stepS) {
        double errorK = stepper.attempt(stepS);
        stepper.accept();
        return errorK;
    }

    /** Takes one step, shorter than asked for when that owns up to too large an error. */
    void stepWithin(double mostK, double longestStepS) {
        double stepS = longestStepS;
        while (!(stepper.attempt(stepS) <= mostK)) {
            stepS /= 2;
        }
        stepper.accept();
    }

    /** Goes on until nothing changes any more. */
    Slab settle() {
        for (double stepS = 1; stepS < 1e12; stepS *= 1.5) {
            step(stepS);
        }
        return this;
    }

    WallGrid grid() {
        return grid;
    }

    double storedJ() {
        double sum = 0;
        for (int i = 0; i < nodes(); i++) {
            sum += stepper.heatJ(i);
        }
        return sum;
    }

    double tallyJ(int tally) {
        return stepper.tallyJ(tally);
    }

    double stepTallyJ(int tally) {
        return stepper.stepTallyJ(tally);
    }

    double frontK() {
        return stepper.temperatureK(0);
    }

    double backK() {
        return stepper.temperatureK(nodes() - 1);
    }

    double nodeK(int node) {
        return stepper.temperatureK(node);
    }

    /** Temperature at a depth, straight between nodes. */
    double atK(double depthM) {
        int i = 0;
        while (i < nodes() - 2 && grid.depthM(i + 1) < depthM) {
            i++;
        }
        double part = (depthM - grid.depthM(i)) / (grid.depthM(i + 1) - grid.depthM(i));
        return nodeK(i) + part * (nodeK(i + 1) - nodeK(i));
    }

    /** Heat that flows through the first cell, W. */
    double throughW() {
        return grid.conductanceWPerK(0, nodeK(0), nodeK(1)) * (nodeK(0) - nodeK(1));
    }

    @Override
    public int nodes() {
        return grid.nodes();
    }

    @Override
    public int[] ports() {
        return new int[] {0, grid.nodes() - 1};
    }

    @Override
    public int tallies() {
        return 2;
    }

    @Override
    public void temperatures(double[] heatJ, double[] temperatureK, double[] capacityJPerK) {
        for (int i = 0; i < heatJ.length; i++) {
            capacityJPerK[i] = grid.capacityJPerK(i);
            temperatureK[i] = heatJ[i] / capacityJPerK[i];
        }
    }

    @Override
    public void flows(double[] t, Flows flows, boolean withSlopes) {
        int last = nodes() - 1;
        System.arraycopy(sourceW, 0, flows.netW, 0, nodes());
        if (withSlopes) {
            Arrays.fill(flows.ownWPerK, 0);
        }
        for (int i = 0; i < last; i++) {
            double conductance = grid.conductanceWPerK(i, t[i], t[i + 1]);
            double flow = conductance * (t[i] - t[i + 1]);
            flows.netW[i] -= flow;
            flows.netW[i + 1] += flow;
            if (withSlopes) {
                flows.ownWPerK[i] -= conductance;
                flows.ownWPerK[i + 1] -= conductance;
                flows.afterWPerK[i] = conductance;
                flows.beforeWPerK[i + 1] = conductance;
            }
        }
        flows.tallyW[FRONT_J] = frontM2 * front.intoWPerM2(t[0]);
        flows.tallyW[BACK_J] = backM2 * back.intoWPerM2(t[last]);
        flows.netW[0] += flows.tallyW[FRONT_J];
        flows.netW[last] += flows.tallyW[BACK_J];
        if (withSlopes) {
            flows.tallyWPerK[FRONT_J][0] = frontM2 * front.slopeWPerM2K(t[0]);
            flows.tallyWPerK[BACK_J][1] = backM2 * back.slopeWPerM2K(t[last]);
            flows.ownWPerK[0] += flows.tallyWPerK[FRONT_J][0];
            flows.ownWPerK[last] += flows.tallyWPerK[BACK_J][1];
        }
    }
}
