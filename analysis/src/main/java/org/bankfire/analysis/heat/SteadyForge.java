package org.bankfire.analysis.heat;

import java.util.function.DoubleUnaryOperator;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.lining.OuterFace;
import org.bankfire.analysis.lining.WallGrid;
import org.bankfire.analysis.quantity.Constants;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;

/**
 * Where a forge comes to rest, fully soaked and without stock, on the same grid and with the same laws as {@link ForgeRun};
 * and what gas a given temperature takes. Not safe for use by several threads.
 */
public final class SteadyForge {
    private static final double HOTTEST_K = 2800;
    private static final double TEMPERATURE_ACCURACY_K = 1e-6;
    private static final int MOST_EVALUATIONS = 200;
    /** Three or four are the rule; more only where a conductivity bends within a cell. */
    private static final int MOST_ROUNDS = 100;

    private static final double CELL_ACCURACY_K = 1e-9;

    /**
     * A forge at rest.
     *
     * @param chamberK what the chamber probe shows, K
     * @param hotFaceK K
     * @param gasK K
     * @param shellK K
     * @param ledgerW where the heat goes, W; nothing is being stored
     */
    public record State(double chamberK, double hotFaceK, double gasK, double shellK, HeatLedger ledgerW) {}

    private final ForgeModel model;
    private final double ambientK;
    private final boolean plugIn;
    private final ChamberGas gas;

    /**
     * A forge at rest.
     *
     * @param model the forge
     * @param plugIn whether the plug is in
     * @param ambientK of the surroundings, K, 223 to 333
     */
    public SteadyForge(ForgeModel model, boolean plugIn, double ambientK) {
        ForgeDescription.AMBIENT_K.require("ambient in K", ambientK);
        this.model = model;
        this.plugIn = plugIn;
        this.ambientK = ambientK;
        gas = model.chamberGas();
    }

    /** Heat that the soaked lining gives off outside with its hot face at a temperature, W. */
    public double liningW(double hotFaceK) {
        return outerW(shellK(hotFaceK));
    }

    /**
     * Heat lost through lining and openings in the soaked state over the hot face's excess above ambient, W/K.
     *
     * @param hotFaceK above ambient, K
     */
    public double lossWPerK(double hotFaceK) {
        return (liningW(hotFaceK) + openingsW(hotFaceK)) / (hotFaceK - ambientK);
    }

    /** Temperature of the outer face of the soaked lining, K. */
    public double shellK(double hotFaceK) {
        if (hotFaceK <= ambientK) {
            return hotFaceK;
        }
        return root(coldK -> hotFaceOf(coldK) - hotFaceK, ambientK, hotFaceK);
    }

    /** Temperature of the hot face that belongs to a temperature of the outer face in the soaked state. */
    private double hotFaceOf(double coldK) {
        WallGrid grid = model.grid();
        double heatW = outerW(coldK);
        double kelvin = coldK;
        for (int i = grid.nodes() - 2; i >= 0; i--) {
            kelvin = nearK(i, kelvin, heatW / model.parameters().conductivity());
        }
        return kelvin;
    }

    /**
     * Temperature of a node that sends so much heat to the next one: a fixed point, by the method of J. H. Wegstein,
     * "Accelerating convergence of iterative processes", Comm. ACM 1 (1958) no. 6, which also ends where the conductivity
     * rises so steeply that plain iteration would not.
     */
    private double nearK(int node, double farK, double heatW) {
        WallGrid grid = model.grid();
        double kelvin = farK;
        double beforeK = Double.NaN;
        double beforeNextK = Double.NaN;
        for (int n = 0; n < MOST_ROUNDS; n++) {
            // A trial face far too hot must not run away.
            double nextK = Math.min(10 * HOTTEST_K, farK + heatW / grid.conductanceWPerK(node, kelvin, farK));
            if (Math.abs(nextK - kelvin) < CELL_ACCURACY_K) {
                return nextK;
            }
            double slope = (nextK - beforeNextK) / (kelvin - beforeK);
            beforeK = kelvin;
            beforeNextK = nextK;
            // Without a slope yet, or with one near 1 or above, a plain round.
            kelvin = slope < 0.5 ? (nextK - slope * kelvin) / (1 - slope) : nextK;
        }
        return kelvin;
    }

    private double outerW(double coldK) {
        OuterFace outer = model.outerFace();
        return model.parameters().outerFace() * outer.heatW(coldK, ambientK);
    }

    private double openingsW(double hotFaceK) {
        return model.effectiveOpeningM2(plugIn)
                * Constants.STEFAN_BOLTZMANN_W_PER_M2_K4
                * (Math.pow(hotFaceK, 4) - Math.pow(ambientK, 4));
    }

    /** Where this fire leads. */
    public State at(Firing firing) {
        double faceK =
                root(kelvin -> toWallW(firing, kelvin) - liningW(kelvin) - openingsW(kelvin), ambientK - 1, HOTTEST_K);
        return state(firing, faceK);
    }

    /**
     * Gas that holds the chamber probe at a temperature for ever.
     *
     * @param chamberK what the probe shall show, K
     * @param mostKgPerS more gas than this is not tried, kg/s
     * @return kg/s; NaN when {@code mostKgPerS} does not reach it
     */
    public double holdingKgPerS(double chamberK, double mostKgPerS) {
        if (!(chamberK > ambientK) || probeAboveK(mostKgPerS, chamberK) < 0) {
            return Double.NaN;
        }
        double least = mostKgPerS * 1e-6;
        if (probeAboveK(least, chamberK) > 0) {
            return least;
        }
        return root(flow -> probeAboveK(flow, chamberK), least, mostKgPerS, mostKgPerS * 1e-9);
    }

    /** How far the probe ends above a temperature with so much gas, K. */
    private double probeAboveK(double gasKgPerS, double chamberK) {
        return at(new Firing(gasKgPerS, true)).chamberK() - chamberK;
    }

    private double toWallW(Firing firing, double faceK) {
        double fuel = firing.lit() ? firing.gasKgPerS() : 0;
        double unburnt = firing.lit() ? 0 : firing.gasKgPerS() * model.flue().kgPerKgFuel();
        double draught = model.draughtKgPerS(firing, plugIn, faceK, ambientK);
        gas.supply(fuel, unburnt + draught, fuel * (model.flue().kgPerKgFuel() - 1), ambientK);
        gas.surfaces(model.convectionWPerM2K(firing), model.wallM2(), 0);
        gas.solve(faceK, faceK);
        return gas.toWallW();
    }

    private State state(Firing firing, double faceK) {
        double wallW = toWallW(firing, faceK);
        double input = firing.lit()
                ? firing.gasKgPerS() * model.forge().burner().fuel().lowerHeatingValueJPerKg()
                : 0;
        double openings = openingsW(faceK);
        HeatLedger ledger = new HeatLedger(input, gas.flueW(), wallW - openings, openings, 0, 0);
        double chamberK = model.probeK(faceK, gas.gasK(), model.convectionWPerM2K(firing));
        return new State(chamberK, faceK, gas.gasK(), shellK(faceK), ledger);
    }

    private static double root(DoubleUnaryOperator function, double low, double high) {
        return root(function, low, high, TEMPERATURE_ACCURACY_K);
    }

    /** Roots lie within roots, and a solver holds the state of its own: each has a new one. */
    private static double root(DoubleUnaryOperator function, double low, double high, double accuracy) {
        return new BracketingNthOrderBrentSolver(1e-12, accuracy, 5)
                .solve(MOST_EVALUATIONS, function::applyAsDouble, low, high);
    }
}
