package org.bankfire.analysis.heat;

import java.util.Arrays;
import org.bankfire.analysis.lining.HeatChain;
import org.bankfire.analysis.lining.OuterFace;
import org.bankfire.analysis.lining.WallGrid;
import org.bankfire.analysis.quantity.Constants;
import org.jspecify.annotations.Nullable;

/**
 * Stock and lining as one chain: the bar from its axis to its surface, then the lining from hot face to cold face. Bar and
 * hot face exchange heat through the chamber gas and by radiation, so they are neighbours as any two nodes are.
 */
final class ForgeChain implements HeatChain {
    static final int INPUT = 0;
    static final int FLUE = 1;
    static final int LINING = 2;
    static final int OPENINGS = 3;
    static final int STOCK = 4;
    private static final int TALLIES = 5;

    /** Shells of a bar: its gradient is smooth, and small in any bar that a forge of this kind takes. */
    private static final int BAR_NODES = 5;

    private static final double SIGMA = Constants.STEFAN_BOLTZMANN_W_PER_M2_K4;

    private final WallGrid grid;
    private final OuterFace outer;
    private final ChamberGas gas;
    private final ForgeModel model;
    private final double conductivity;
    private final double outerFactor;
    private final double[] wallCapacity;
    private final @Nullable Bar bar;
    private final double[] barKg;
    private final double[] barLinkM;
    private final int[] ports;
    private final int face;
    private final int last;

    private double ambientK;
    private double openingM2;
    private double inputW;
    private Firing firing = Firing.OFF;
    private boolean plugIn = true;
    private double fuelKgPerS;
    private double unburntKgPerS;

    ForgeChain(ForgeModel model, ChamberGas gas, @Nullable Bar bar) {
        this.model = model;
        this.gas = gas;
        this.bar = bar;
        grid = model.grid();
        outer = model.outerFace();
        conductivity = model.parameters().conductivity();
        outerFactor = model.parameters().outerFace();
        wallCapacity = new double[grid.nodes()];
        for (int i = 0; i < wallCapacity.length; i++) {
            wallCapacity[i] = grid.capacityJPerK(i) * model.parameters().capacity();
        }
        face = bar == null ? 0 : BAR_NODES;
        last = face + grid.nodes() - 1;
        barKg = new double[face];
        barLinkM = new double[Math.max(0, face - 1)];
        if (bar != null) {
            divide(bar);
        }
        ports = bar == null ? new int[] {face, last} : new int[] {face - 1, face, last};
    }

    /** Nodes at even radii, the outermost on the surface; each owns the ring to half-way to its neighbours. */
    private void divide(Bar of) {
        double stepM = of.diameterM() / 2 / (BAR_NODES - 1);
        for (int i = 0; i < BAR_NODES; i++) {
            double inner = Math.max(0, i - 0.5) * stepM;
            double outerM = Math.min(BAR_NODES - 1, i + 0.5) * stepM;
            barKg[i] = Steel.DENSITY_KG_PER_M3 * Math.PI * (outerM * outerM - inner * inner) * of.lengthM();
        }
        for (int i = 0; i < barLinkM.length; i++) {
            // 2 π r L over the step, with r half-way between the nodes.
            barLinkM[i] = 2 * Math.PI * (i + 0.5) * of.lengthM();
        }
    }

    /** What is around until told otherwise. */
    void surround(Firing to, boolean plug, double ambient) {
        firing = to;
        plugIn = plug;
        ambientK = ambient;
        openingM2 = model.effectiveOpeningM2(plug);
        fuelKgPerS = to.lit() ? to.gasKgPerS() : 0;
        unburntKgPerS = to.lit() ? 0 : to.gasKgPerS() * model.flue().kgPerKgFuel();
        inputW = fuelKgPerS * model.forge().burner().fuel().lowerHeatingValueJPerKg();
        gas.surfaces(model.convectionWPerM2K(to), model.wallM2(), bar == null ? 0 : bar.surfaceM2());
    }

    /** Finds the state of the chamber gas at these temperatures. */
    void solveGas(double wallK, double stockK) {
        double draught = model.draughtKgPerS(firing, plugIn, wallK, ambientK);
        gas.supply(
                fuelKgPerS, unburntKgPerS + draught, fuelKgPerS * (model.flue().kgPerKgFuel() - 1), ambientK);
        gas.solve(wallK, stockK);
    }

    @Nullable
    Bar bar() {
        return bar;
    }

    int face() {
        return face;
    }

    int coldFace() {
        return last;
    }

    @Override
    public int nodes() {
        return last + 1;
    }

    @Override
    public int[] ports() {
        return ports.clone();
    }

    @Override
    public int tallies() {
        return TALLIES;
    }

    /** Heat of a node at a temperature, J. */
    double heatJ(int node, double temperatureK) {
        return node < face ? barKg[node] * Steel.heatJPerKg(temperatureK) : wallCapacity[node - face] * temperatureK;
    }

    @Override
    public void temperatures(double[] heatJ, double[] temperatureK, double[] capacityJPerK) {
        for (int i = 0; i < face; i++) {
            temperatureK[i] = Steel.temperatureK(heatJ[i] / barKg[i]);
            capacityJPerK[i] = barKg[i] * Steel.apparentHeatCapacityJPerKgK(heatJ[i] / barKg[i]);
        }
        for (int i = face; i <= last; i++) {
            capacityJPerK[i] = wallCapacity[i - face];
            temperatureK[i] = heatJ[i] / capacityJPerK[i];
        }
    }

    @Override
    public void flows(double[] t, Flows flows, boolean withSlopes) {
        Arrays.fill(flows.netW, 0);
        if (withSlopes) {
            Arrays.fill(flows.ownWPerK, 0);
        }
        for (int i = 0; i < face - 1; i++) {
            link(i, barLinkM[i] * Steel.conductivityWPerMK((t[i] + t[i + 1]) / 2), t, flows, withSlopes);
        }
        for (int i = face; i < last; i++) {
            link(i, conductivity * grid.conductanceWPerK(i - face, t[i], t[i + 1]), t, flows, withSlopes);
        }
        chamber(t, flows, withSlopes);
        double outside = outerFactor * outer.heatW(t[last], ambientK);
        flows.netW[last] -= outside;
        flows.tallyW[LINING] = outside;
        if (withSlopes) {
            double slope = outerFactor * outer.slopeWPerK(t[last], ambientK);
            flows.ownWPerK[last] -= slope;
            flows.tallyWPerK[LINING][ports.length - 1] = slope;
        }
    }

    private static void link(int i, double conductance, double[] t, Flows flows, boolean withSlopes) {
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

    private void chamber(double[] t, Flows flows, boolean withSlopes) {
        double wallK = t[face];
        double stockK = bar == null ? wallK : t[face - 1];
        solveGas(wallK, stockK);
        double wall4 = wallK * wallK * wallK * wallK;
        double ambient4 = ambientK * ambientK * ambientK * ambientK;
        double outW = openingM2 * SIGMA * (wall4 - ambient4);
        double outPerK = 4 * openingM2 * SIGMA * wall4 / wallK;
        flows.netW[face] += gas.toWallW() - outW;
        flows.tallyW[INPUT] = inputW;
        flows.tallyW[FLUE] = gas.flueW();
        flows.tallyW[OPENINGS] = outW;
        flows.tallyW[STOCK] = 0;
        int port = ports.length - 2;
        if (withSlopes) {
            flows.ownWPerK[face] += gas.wallPerWall() - outPerK;
            flows.tallyWPerK[OPENINGS][port] = outPerK;
            flows.tallyWPerK[FLUE][port] = -gas.wallPerWall() - gas.stockPerWall();
        }
        if (bar != null) {
            stock(bar, wallK, stockK, flows, withSlopes);
        }
    }

    private void stock(Bar of, double wallK, double stockK, Flows flows, boolean withSlopes) {
        double radiating = of.surfaceM2() * Bar.EMISSIVITY * SIGMA;
        double wall2 = wallK * wallK;
        double stock2 = stockK * stockK;
        double across = radiating * (wall2 + stock2) * (wall2 - stock2);
        double perWall = 4 * radiating * wall2 * wallK;
        double perStock = 4 * radiating * stock2 * stockK;
        flows.netW[face] -= across;
        flows.netW[face - 1] += gas.toStockW() + across;
        flows.tallyW[STOCK] = gas.toStockW() + across;
        if (withSlopes) {
            flows.ownWPerK[face] -= perWall;
            flows.beforeWPerK[face] = gas.wallPerStock() + perStock;
            flows.ownWPerK[face - 1] += gas.stockPerStock() - perStock;
            flows.afterWPerK[face - 1] = gas.stockPerWall() + perWall;
            flows.tallyWPerK[STOCK][0] = gas.stockPerStock() - perStock;
            flows.tallyWPerK[STOCK][1] = gas.stockPerWall() + perWall;
            flows.tallyWPerK[FLUE][0] = -gas.wallPerStock() - gas.stockPerStock();
        }
    }
}
