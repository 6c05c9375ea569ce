package org.bankfire.analysis.heat;

import org.bankfire.analysis.combustion.FlueGas;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.gas.Atmosphere;
import org.bankfire.analysis.gas.Jet;
import org.bankfire.analysis.lining.OuterFace;
import org.bankfire.analysis.lining.Spread;
import org.bankfire.analysis.lining.WallGrid;
import org.bankfire.analysis.quantity.Constants;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;

/**
 * One forge with one set of parameters, ready for computation. Immutable.
 *
 * <p>The lining is one wall of the inner surface less its openings, wider outwards as a box is (see {@link Spread.Box}), at
 * one temperature over the hot face; a plug counts as lining. The steel frame's own heat is left out: sheet of 2 mm holds
 * as much heat as 4 mm of light block, and at the cold face.
 */
public final class ForgeModel {
    /** Painted, rusty or burnt sheet. Common practice, no source. */
    static final double OUTER_EMISSIVITY = 0.9;
    /** √(diffusivity × 1 s) of light block is 0.6 mm: the hot face must be resolved from the first seconds on. */
    private static final double FIRST_CELL_M = 0.8e-3;

    private static final double GROWTH = 1.22;
    private static final double PRESSURE_ACCURACY_PA = 0.01;
    private static final int MOST_EVALUATIONS = 200;

    private final ForgeDescription forge;
    private final ForgeParameters parameters;
    private final double ambientPa;
    private final WallGrid grid;
    private final OuterFace outerFace;
    private final FlueGas flue;
    private final ChamberGas gas;
    private final double boreM;
    private final double acrossM;
    private final double wallM2;
    private final double effectivePlugInM2;
    private final double effectivePlugOutM2;
    private final double draughtShapePlugIn;
    private final double draughtShapePlugOut;

    /** A forge with parameters, whose mixture and factors are within their own ranges. */
    public ForgeModel(ForgeDescription forge, ForgeParameters parameters) {
        this.forge = forge;
        this.parameters = parameters;
        ambientPa = Atmosphere.pressurePa(forge.altitudeM());
        double width = forge.chamberWidthM();
        double height = forge.chamberHeightM();
        double depth = forge.chamberDepthM();
        double surface = forge.innerSurfaceM2();
        grid = gridOf(forge);
        outerFace = outerFaceOf(forge, grid);
        flue = FlueGas.of(forge.burner().fuel(), parameters.mixture());
        gas = new ChamberGas(
                flue,
                forge.burner().fuel().lowerHeatingValueJPerKg(),
                ambientPa,
                3.6 * width * height * depth / surface,
                parameters.gasEmissivity());
        boreM = forge.burner().throatDiameterM();
        acrossM = Math.min(width, Math.min(height, depth));
        wallM2 = surface - OpeningShape.openM2(forge, true);
        effectivePlugInM2 = OpeningShape.effectiveM2(forge, true);
        effectivePlugOutM2 = OpeningShape.effectiveM2(forge, false);
        draughtShapePlugIn = OpeningShape.draughtShape(forge, true);
        draughtShapePlugOut = OpeningShape.draughtShape(forge, false);
    }

    /** The lining of a forge, divided for computation. */
    static WallGrid gridOf(ForgeDescription forge) {
        double edges = 4 * (forge.chamberWidthM() + forge.chamberHeightM() + forge.chamberDepthM());
        return WallGrid.of(
                forge.lining(),
                new Spread.Box(forge.innerSurfaceM2() - OpeningShape.openM2(forge, true), edges),
                FIRST_CELL_M,
                GROWTH);
    }

    /** The outside of that lining. */
    static OuterFace outerFaceOf(ForgeDescription forge, WallGrid grid) {
        double both = 2 * grid.thicknessM();
        double width = forge.chamberWidthM() + both;
        double height = forge.chamberHeightM() + both;
        double depth = forge.chamberDepthM() + both;
        double outer = 2 * (width * height + width * depth + height * depth);
        return new OuterFace(outer - OpeningShape.openM2(forge, true), height, OUTER_EMISSIVITY);
    }

    /** The description. */
    public ForgeDescription forge() {
        return forge;
    }

    /** The parameters. */
    public ForgeParameters parameters() {
        return parameters;
    }

    /** Barometric pressure at the site, Pa. */
    public double ambientPa() {
        return ambientPa;
    }

    /** The lining as it is computed, before the parameters' factors. */
    public WallGrid grid() {
        return grid;
    }

    /** Area of a black hole that would radiate as the openings do, m². */
    public double effectiveOpeningM2(boolean plugIn) {
        return parameters.opening() * (plugIn ? effectivePlugInM2 : effectivePlugOutM2);
    }

    /**
     * Gas flow at a pressure with this model's heat release.
     *
     * @param gaugePa Pa
     * @param gasK temperature of the gas before the jet, K
     * @return kg/s
     */
    public double gasKgPerS(double gaugePa, double gasK) {
        return parameters.heatRelease()
                * Jet.massFlowKgPerS(
                        forge.burner().fuel().jetGas(),
                        forge.burner().jetDiameterM(),
                        forge.burner().dischargeCoefficient(),
                        gaugePa,
                        ambientPa,
                        gasK);
    }

    /**
     * Pressure that gives a gas flow.
     *
     * @param gasKgPerS kg/s, 0 or more
     * @param gasK temperature of the gas before the jet, K
     * @param highestPa pressures above are not tried, Pa gauge
     * @return Pa gauge; NaN when {@code highestPa} does not give it
     */
    public double gaugePaFor(double gasKgPerS, double gasK, double highestPa) {
        if (!(gasKgPerS >= 0 && gasKgPerS(highestPa, gasK) >= gasKgPerS)) {
            return Double.NaN;
        }
        return new BracketingNthOrderBrentSolver(1e-9, PRESSURE_ACCURACY_PA, 5)
                .solve(MOST_EVALUATIONS, pascal -> gasKgPerS(pascal, gasK) - gasKgPerS, 0, highestPa);
    }

    OuterFace outerFace() {
        return outerFace;
    }

    FlueGas flue() {
        return flue;
    }

    /** The chamber's gas, for one run. */
    ChamberGas chamberGas() {
        return new ChamberGas(gas);
    }

    double wallM2() {
        return wallM2;
    }

    /** Coefficient of convection in the chamber, W/(m² K). */
    double convectionWPerM2K(Firing firing) {
        double flueKgPerS = firing.gasKgPerS() * flue.kgPerKgFuel();
        return parameters.convection() * BurnerJet.coefficientWPerM2K(flueKgPerS, boreM, acrossM, wallM2);
    }

    /** Air that comes in by the openings beside the burner, kg/s. */
    double draughtKgPerS(Firing firing, boolean plugIn, double wallK, double ambientK) {
        double shape =
                parameters.opening() * parameters.draught() * (plugIn ? draughtShapePlugIn : draughtShapePlugOut);
        return OpeningShape.draughtKgPerS(shape, wallK, ambientK, firing.gasKgPerS() * flue.kgPerKgFuel());
    }

    /**
     * What a probe settles at between hot gas and hot face: the mean of both by its coefficients of convection and
     * radiation.
     */
    double probeK(double wallK, double gasK, double convectionWPerM2K) {
        double radiation =
                4 * OpeningShape.WALL_EMISSIVITY * Constants.STEFAN_BOLTZMANN_W_PER_M2_K4 * wallK * wallK * wallK;
        double convection = parameters.probeConvection() * convectionWPerM2K;
        return (radiation * wallK + convection * gasK) / (radiation + convection);
    }
}
