package org.bankfire.daemon.acquire.virtual;

import java.util.Random;
import org.jspecify.annotations.Nullable;

/**
 * A small propane forge of light block that exists only here: state, hands to move it, and sensors.
 *
 * <p>Its equations are its own: stirred chamber gas without heat capacity, an explicit wall, a first-order probe. It aims
 * at being believable (about 1150 °C in a quarter of an hour at 1 bar), not at being any forge in particular; figures
 * without a source are common practice. Not safe for use by several threads.
 */
public final class VirtualForge {
    /** Pressure at the regulator for heating up, Pa gauge. */
    public static final double FULL_PA = 100_000;
    /** Pressure for forging once the lining is warm, Pa gauge. */
    public static final double WORK_PA = 85_000;
    /** Pressure for holding on, Pa gauge. */
    public static final double IDLE_PA = 30_000;
    /** Pressure for lighting, Pa gauge. */
    public static final double LIGHTING_PA = 35_000;

    private static final double ROOM_C = 20;
    private static final double MAX_SUB_STEP_S = 0.05;
    /** A step longer than this would only hide a mistake in its unit. */
    private static final double MAX_STEP_S = 60;

    private static final double STEFAN_BOLTZMANN = 5.670374e-8;
    private static final double HEAT_J_PER_KG = 46.3e6;
    /** Air per propane by mass that the burner draws: 15.6 × 1.04. */
    private static final double AIR_RATIO = 16.2;
    /** Flow at which the exchange coefficients below hold. */
    private static final double FULL_FLOW_KG_S = 2.3e-4;
    /** Less than this is no flame: it would strike back. */
    private static final double LEAST_FLOW_KG_S = 1.5e-5;

    private static final double FRONT_M2 = 0.1 * 0.115;
    private static final double REAR_M2 = 0.07 * 0.07;
    private static final double CAVITY_EMISSIVITY = 0.92;
    private static final double PROBE_S = 8;

    private final Random flicker;
    private final Instruments instruments;
    private final GasSupply supply = new GasSupply();
    private final BlockWall wall = new BlockWall();
    private @Nullable SteelBar bar;
    private boolean lit;
    private boolean plugIn = true;
    private double gasC;
    private double probeC;
    private double flickerK;

    private double releasedJ;
    private double flueJ;
    private double openingsJ;
    private double shellJ;
    private double stockJ;

    /** A cold forge with the gas off and the plug in; the same seed and the same hands give the same burn. */
    public VirtualForge(long seed) {
        flicker = new Random(seed);
        instruments = new Instruments(seed);
        supply.setPressure(LIGHTING_PA);
        startAt(ROOM_C);
    }

    /** Sets lining, frame and probe as after an hour at {@code chamberC}, −20 to 1300 °C; gas and hands stay as they are. */
    public void startAt(double chamberC) {
        if (!(chamberC >= -20 && chamberC <= 1_300)) {
            throw new IllegalArgumentException("chamber at " + chamberC + " °C: allowed are -20 to 1300");
        }
        wall.soakAt(chamberC, ROOM_C);
        gasC = chamberC;
        probeC = chamberC;
        releasedJ = 0;
        flueJ = 0;
        openingsJ = 0;
        shellJ = 0;
        stockJ = 0;
    }

    /** Lets {@code dtS} pass, above 0 to 60 s. */
    public void step(double dtS) {
        if (!(dtS > 0 && dtS <= MAX_STEP_S)) {
            throw new IllegalArgumentException("step of " + dtS + " s: allowed is above 0 to " + MAX_STEP_S);
        }
        int parts = (int) Math.ceil(dtS / MAX_SUB_STEP_S);
        for (int i = 0; i < parts; i++) {
            advance(dtS / parts);
        }
        instruments.advance(dtS);
    }

    /** What the sensors say now; each call draws fresh noise. */
    public Observation observe() {
        return instruments.read(probeC, supply.pressurePa(), wall.frameC(), ROOM_C, supply.grossKg());
    }

    private void advance(double stepS) {
        supply.advance(stepS);
        double fuel = supply.flowKgS();
        if (fuel < LEAST_FLOW_KG_S) {
            lit = false;
        }
        double share = fuel / FULL_FLOW_KG_S;
        double through = throughKgS(fuel);
        double released = lit ? fuel * HEAT_J_PER_KG : 0;
        // Impinging jet, falling to plain draught; hot combustion gas also radiates, cold mixture hardly.
        double exchange = 7 + 33 * Math.pow(share, 0.8);
        double gasEmissivity = lit ? 0.13 : 0.01;
        gasC = gasBalance(released, through, exchange, gasEmissivity);

        double toWall = BlockWall.HOT_FACE_M2 * (exchange * (gasC - wall.faceC()))
                + BlockWall.HOT_FACE_M2 * gasEmissivity * radiated(gasC, wall.faceC());
        double openings = CAVITY_EMISSIVITY * openM2() * radiated(wall.faceC(), ROOM_C);
        double toBarFromWall = 0;
        double toBarFromGas = 0;
        if (bar != null) {
            toBarFromWall = 0.8 * SteelBar.SURFACE_M2 * radiated(wall.faceC(), bar.celsius());
            toBarFromGas = SteelBar.SURFACE_M2 * exchange * (gasC - bar.celsius());
            bar.take(toBarFromWall + toBarFromGas, stepS);
        }
        wall.advance(toWall - openings - toBarFromWall, ROOM_C, stepS);
        advanceProbe(share, stepS);

        releasedJ += released * stepS;
        flueJ += flueW(through, gasC) * stepS;
        openingsJ += openings * stepS;
        shellJ += wall.frameLossW() * stepS;
        stockJ += (toBarFromWall + toBarFromGas) * stepS;
    }

    /** Gas and air through the chamber: what the jet drives, else the chamber's own draught; more with the plug out. */
    private double throughKgS(double fuelKgS) {
        double draught = 1.5e-4 * Math.sqrt(Math.max(0, gasC - ROOM_C) / 1_000);
        double driven = fuelKgS * (1 + AIR_RATIO);
        return Math.max(draught, driven) + (plugIn ? 0 : 2.5 * draught);
    }

    /** Temperature at which the stirred gas loses what it is given: Newton's method on a function that only rises. */
    private double gasBalance(double releasedW, double throughKgS, double exchange, double gasEmissivity) {
        double face = wall.faceC();
        double celsius = gasC;
        for (int i = 0; i < 30; i++) {
            double area = BlockWall.HOT_FACE_M2;
            double excess = flueW(throughKgS, celsius)
                    + area * (exchange * (celsius - face) + gasEmissivity * radiated(celsius, face))
                    - releasedW;
            double slope = throughKgS * heatPerK(celsius) + area * exchange + 1e-6;
            double kelvin = celsius + 273.15;
            slope += area * gasEmissivity * 4 * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin;
            if (bar != null) {
                excess += SteelBar.SURFACE_M2 * exchange * (celsius - bar.celsius());
                slope += SteelBar.SURFACE_M2 * exchange;
            }
            double change = excess / slope;
            celsius -= change;
            if (Math.abs(change) < 1e-6) {
                break;
            }
        }
        return celsius;
    }

    private void advanceProbe(double share, double stepS) {
        // The flame's flutter reaches the probe with the gas.
        double sigma = lit ? 5 : 0.5;
        double correlationS = 1.2;
        flickerK +=
                -flickerK * stepS / correlationS + sigma * Math.sqrt(2 * stepS / correlationS) * flicker.nextGaussian();
        double gasShare = 0.06 + 0.26 * Math.sqrt(share);
        double seen = wall.faceC();
        if (bar != null) {
            seen += 0.03 * (bar.celsius() - seen);
        }
        double target = seen + gasShare * (gasC + flickerK - seen);
        probeC += (target - probeC) * (1 - Math.exp(-stepS / PROBE_S));
    }

    private static double flueW(double kgS, double celsius) {
        return kgS * (1_060 + 0.19 / 2 * (celsius - ROOM_C)) * (celsius - ROOM_C) * 1.08;
    }

    private static double heatPerK(double celsius) {
        return (1_060 + 0.19 * (celsius - ROOM_C)) * 1.08;
    }

    /** Between black surfaces, W/m². */
    private static double radiated(double fromC, double toC) {
        double from = fromC + 273.15;
        double to = toC + 273.15;
        return STEFAN_BOLTZMANN * (from * from * from * from - to * to * to * to);
    }

    private double openM2() {
        return FRONT_M2 + (plugIn ? 0 : REAR_M2);
    }

    /** Sets the regulator, 0 to 400 kPa gauge. */
    public void setPressure(double gaugePa) {
        if (!(gaugePa >= 0 && gaugePa <= 400_000)) {
            throw new IllegalArgumentException("regulator at " + gaugePa + " Pa: allowed are 0 to 400000");
        }
        supply.setPressure(gaugePa);
    }

    public void openGas() {
        supply.openValve();
    }

    /** Closes the valve: what is left in the hose burns off and the flame dies. */
    public void closeGas() {
        supply.closeValve();
    }

    /** Holds a lighter to the burner; nothing happens without gas. */
    public void light() {
        // The hose fills within a second: the lighter is held until it has.
        lit = supply.isOpen();
        for (int i = 0; lit && supply.flowKgS() < LEAST_FLOW_KG_S && i < 40; i++) {
            supply.advance(MAX_SUB_STEP_S);
        }
    }

    /** Blows the flame out; it does not come back by itself even in a hot chamber. */
    public void putOut() {
        lit = false;
    }

    public void stockIn() {
        bar = new SteelBar(ROOM_C);
    }

    public void stockOut() {
        bar = null;
    }

    public void pullPlug() {
        plugIn = false;
    }

    public void replacePlug() {
        plugIn = true;
    }

    public void breakThermocouple() {
        instruments.breakThermocouple();
    }

    public void mendThermocouple() {
        instruments.mendThermocouple();
    }

    /** Connects a full cylinder at room temperature. */
    public void changeCylinder() {
        supply.changeCylinder();
    }

    public boolean isLit() {
        return lit;
    }

    public boolean isGasOpen() {
        return supply.isOpen();
    }

    public boolean isPlugIn() {
        return plugIn;
    }

    public boolean isStockIn() {
        return bar != null;
    }

    /** What the probe really has, °C, without noise. */
    public double probeC() {
        return probeC;
    }

    /** Hot face, °C. */
    public double hotFaceC() {
        return wall.faceC();
    }

    /** Chamber gas, °C. */
    public double gasC() {
        return gasC;
    }

    /** Outside of the frame, °C. */
    public double shellC() {
        return wall.frameC();
    }

    /** Bar in the chamber, °C; NaN when there is none. */
    public double stockC() {
        return bar == null ? Double.NaN : bar.celsius();
    }

    /** Gauge pressure at the jet, Pa, without noise. */
    public double pressurePa() {
        return supply.pressurePa();
    }

    /** Propane through the jet, kg/s. */
    public double flowKgS() {
        return supply.flowKgS();
    }

    /** Propane left in the cylinder, kg. */
    public double contentsKg() {
        return supply.contentsKg();
    }

    HeatLedger ledger() {
        return new HeatLedger(releasedJ, flueJ, openingsJ, shellJ, stockJ, wall.heldJ());
    }
}
