package org.bankfire.daemon.acquire.virtual;

import java.util.Random;
import org.jspecify.annotations.Nullable;

/**
 * A small propane forge of light block that exists only here: state, hands to move it, and sensors.
 *
 * <p>Its equations are its own: stirred chamber gas without heat capacity, an explicit wall, a first-order probe. What
 * sets one forge apart stands in its {@link ForgeTraits}; figures without a source are common practice. Gas that leaves
 * unburnt does not burn with air that falls in through the openings. Not safe for use by several threads.
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

    /** A sub-step; a thin or light hot face may need shorter ones. */
    private static final double MAX_SUB_STEP_S = 0.1;
    /** The hose fills in steps of this, s. */
    private static final double LIGHTER_STEP_S = 0.05;
    /** A step longer than this would only hide a mistake in its unit. */
    private static final double MAX_STEP_S = 60;

    /** Of a bar in the chamber. */
    private static final double MOST_BAR_M = 0.2;

    private static final double STEFAN_BOLTZMANN = 5.670374e-8;
    /** What a probe of emissivity 0.9 beside a hot face of 1,100 °C exchanges by radiation, W/(m² K). */
    private static final double PROBE_GLOW_W_PER_M2K = 4 * 0.9 * STEFAN_BOLTZMANN * 1_373.15 * 1_373.15 * 1_373.15;
    /** Less than this part of the flow at 1 bar is no flame: it would strike back. */
    private static final double LEAST_FLOW_SHARE = 0.065;
    /** Heat capacity of propane over that of air, by mass. Common practice, no source. */
    private static final double PROPANE_OVER_AIR = 2.5;
    /** Part of what the probe sees that a bar takes, unless told otherwise. Common practice, no source. */
    private static final double BAR_SEEN_SHARE = 0.03;

    /** More bars do not fit a chamber's 15 %. */
    private static final int MOST_BARS = 100;
    /** As much as the largest burner blows in. A gale; a draught in a shed is a tenth of it. */
    private static final double MOST_WIND_KG_S = 0.02;
    /** Cold mixture hardly radiates. */
    private static final double COLD_GLOW_SHARE = 0.08;

    private final Random flicker;
    private final Instruments instruments;
    private final ForgeTraits traits;
    private final ForgeTruth truth;
    private final GasSupply supply;
    private final LayeredWall wall;
    private final Holes holes;
    private final BurntGas burnt;
    private final double roomC;
    private final double wallM2;
    private final double flueKgPerKg;
    private final double leastFlowKgS;
    private final double subStepS;
    private final double barLengthM;
    /** Convection to the probe over that to the wall. */
    private final double probeConvection;

    private @Nullable SteelBar bar;
    private double barSeenShare = BAR_SEEN_SHARE;
    private double windKgS;
    private double flutterTimes = 1;
    private boolean lit;
    private boolean plugIn;
    private double gasC;
    private double probeC;
    private double flickerK;
    private double probeAimC;

    private double releasedJ;
    private double flueJ;
    private double openingsJ;
    private double shellJ;
    private double stockJ;

    /** The forge of {@link ForgeTraits#shed()}. */
    public VirtualForge(long seed) {
        this(ForgeTraits.shed(), seed);
    }

    /** A cold forge with the gas off; the same traits, seed and hands give the same burn. */
    public VirtualForge(ForgeTraits traits, long seed) {
        this.traits = traits;
        truth = new ForgeTruth(traits);
        supply = new GasSupply(traits);
        wall = new LayeredWall(traits);
        holes = new Holes(traits);
        burnt = truth.burnt();
        flicker = new Random(seed);
        instruments = new Instruments(traits.noise(), seed);
        roomC = traits.ambientC();
        plugIn = traits.rearPlugged();
        wallM2 = traits.wallM2();
        flueKgPerKg = 1 + BurntGas.airPerFuel(traits.burner().mixture());
        leastFlowKgS = LEAST_FLOW_SHARE * supply.flow(FULL_PA);
        subStepS = Math.min(MAX_SUB_STEP_S, wall.stableS());
        barLengthM = Math.min(MOST_BAR_M, 0.8 * traits.chamber().depthM());
        double share = traits.probe().gasShare();
        double reference = convection(ForgeTruth.REFERENCE_FLUX * wallM2);
        probeConvection = share / (1 - share) * PROBE_GLOW_W_PER_M2K / reference;
        supply.setPressure(LIGHTING_PA);
        startAt(roomC);
    }

    /** Sets lining, frame and probe as after an hour at {@code chamberC}, −20 to 1300 °C; gas and hands stay as they are. */
    public void startAt(double chamberC) {
        if (!(chamberC >= -20 && chamberC <= 1_300)) {
            throw new IllegalArgumentException("chamber at " + chamberC + " °C: allowed are -20 to 1300");
        }
        wall.soakAt(chamberC, roomC);
        gasC = chamberC;
        probeC = chamberC;
        probeAimC = chamberC;
        releasedJ = 0;
        flueJ = 0;
        openingsJ = 0;
        shellJ = 0;
        stockJ = 0;
    }

    /**
     * A forge that stands as this one does, for a look at what would happen if: from now on nothing of one touches the other.
     * Its flame does not flutter, and its sensors have noise of their own.
     */
    public VirtualForge quietTwin() {
        VirtualForge twin = new VirtualForge(traits, 0);
        twin.wall.become(wall);
        twin.supply.become(supply);
        twin.holes.become(holes);
        SteelBar mine = bar;
        twin.bar = mine == null ? null : mine.copy();
        twin.barSeenShare = barSeenShare;
        twin.windKgS = windKgS;
        twin.flutterTimes = 0;
        twin.lit = lit;
        twin.plugIn = plugIn;
        twin.gasC = gasC;
        twin.probeC = probeC;
        twin.probeAimC = probeAimC;
        return twin;
    }

    /** Lets {@code dtS} pass, above 0 to 60 s. */
    public void step(double dtS) {
        if (!(dtS > 0 && dtS <= MAX_STEP_S)) {
            throw new IllegalArgumentException("step of " + dtS + " s: allowed is above 0 to " + MAX_STEP_S);
        }
        int parts = (int) Math.ceil(dtS / subStepS - 1e-9);
        for (int i = 0; i < parts; i++) {
            advance(dtS / parts);
        }
        instruments.advance(dtS);
    }

    /** What the sensors say now; each call draws fresh noise. */
    public Observation observe() {
        return instruments.read(probeC, supply.pressurePa(), wall.frameC(), roomC, supply.grossKg());
    }

    private void advance(double stepS) {
        supply.advance(stepS);
        double fuel = supply.flowKgS();
        if (fuel < leastFlowKgS) {
            lit = false;
        }
        double driven = fuel * flueKgPerKg;
        double draught = holes.draughtKgS(gasC, driven, plugIn) + windKgS;
        double released = lit ? fuel * burnt.releasedJPerKg() : 0;
        double exchange = convection(driven + draught);
        balanceGas(released, fuel, draught, exchange);

        double glow = wallGlow();
        double face = wall.faceC();
        double toWall = wallM2 * (exchange * (gasC - face) + glow * radiated(gasC, face));
        double openings = holes.blackM2(plugIn) * radiated(face, roomC);
        double toBarFromWall = 0;
        double toBarFromGas = 0;
        if (bar != null) {
            toBarFromWall = SteelBar.EMISSIVITY * bar.surfaceM2() * radiated(face, bar.surfaceC());
            toBarFromGas =
                    bar.surfaceM2() * (exchange * (gasC - bar.surfaceC()) + glow * radiated(gasC, bar.surfaceC()));
            bar.take(toBarFromWall + toBarFromGas, stepS);
        }
        wall.advance(toWall - openings - toBarFromWall, roomC, stepS);
        advanceProbe(exchange, stepS);

        releasedJ += released * stepS;
        flueJ += flueW(fuel, draught, gasC) * stepS;
        openingsJ += openings * stepS;
        shellJ += wall.frameLossW() * stepS;
        stockJ += (toBarFromWall + toBarFromGas) * stepS;
    }

    /** Convection in the chamber, W/(m² K): grows with the 0.8th power of the flow, as turbulent flow's does. */
    private double convection(double throughKgS) {
        return truth.convection(throughKgS);
    }

    /** Emissivity between the gas as it is and the hot face. */
    private double wallGlow() {
        double grey = (1 + traits.exchange().wallEmissivity()) / 2;
        return grey * burnt.emissivity(gasC) * (lit ? 1 : COLD_GLOW_SHARE);
    }

    /** Temperature at which the stirred gas loses what it is given: Newton's method on a function that only rises. */
    private void balanceGas(double releasedW, double fuelKgS, double draughtKgS, double exchange) {
        double face = wall.faceC();
        for (int i = 0; i < 30; i++) {
            double celsius = gasC;
            double glow = wallGlow();
            double kelvin = celsius + 273.15;
            double perM2K = exchange + glow * 4 * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin;
            double excess = flueW(fuelKgS, draughtKgS, celsius)
                    + wallM2 * (exchange * (celsius - face) + glow * radiated(celsius, face))
                    - releasedW;
            double slope = flueSlope(fuelKgS, draughtKgS, celsius) + wallM2 * perM2K;
            if (bar != null) {
                double barC = bar.surfaceC();
                excess += bar.surfaceM2() * (exchange * (celsius - barC) + glow * radiated(celsius, barC));
                slope += bar.surfaceM2() * perM2K;
            }
            double change = excess / slope;
            gasC = celsius - change;
            if (Math.abs(change) < 1e-6) {
                break;
            }
        }
    }

    private double flueW(double fuelKgS, double draughtKgS, double celsius) {
        if (lit) {
            return fuelKgS * burnt.burntJPerKg(celsius) + draughtKgS * burnt.airJPerKg(celsius);
        }
        // Mixture that does not burn passes as air with the gas's larger heat capacity added.
        return (fuelKgS * (flueKgPerKg - 1 + PROPANE_OVER_AIR) + draughtKgS) * burnt.airJPerKg(celsius);
    }

    private double flueSlope(double fuelKgS, double draughtKgS, double celsius) {
        if (lit) {
            return fuelKgS * burnt.burntSlope(celsius) + draughtKgS * burnt.airSlope(celsius);
        }
        return (fuelKgS * (flueKgPerKg - 1 + PROPANE_OVER_AIR) + draughtKgS) * burnt.airSlope(celsius);
    }

    /**
     * The probe follows what its tip would settle at, where convection from the gas is radiation to hot face and bar: one
     * step of Newton's method towards it in each step of time.
     */
    private void advanceProbe(double exchange, double stepS) {
        // The flame's flutter reaches the probe with the gas.
        double sigma = lit
                ? flutterTimes * traits.noise().flutterK()
                : 0.1 * traits.noise().flutterK();
        double correlationS = 1.2;
        flickerK +=
                -flickerK * stepS / correlationS + sigma * Math.sqrt(2 * stepS / correlationS) * flicker.nextGaussian();
        double seen = wall.faceC();
        if (bar != null) {
            seen += barSeenShare * (bar.surfaceC() - seen);
        }
        double blown = probeConvection * exchange;
        double aim = probeAimC;
        double kelvin = aim + 273.15;
        double excess = blown * (aim - gasC - flickerK) + 0.9 * radiated(aim, seen);
        probeAimC = aim - excess / (blown + 0.9 * 4 * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin);
        probeC += (probeAimC - probeC) * -Math.expm1(-stepS / traits.probe().lagS());
    }

    /** Between black surfaces, W/m². */
    private static double radiated(double fromC, double toC) {
        double from = fromC + 273.15;
        double to = toC + 273.15;
        return STEFAN_BOLTZMANN * (from * from * from * from - to * to * to * to);
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
        for (int i = 0; lit && supply.flowKgS() < leastFlowKgS && i < 40; i++) {
            supply.advance(LIGHTER_STEP_S);
        }
    }

    /** Blows the flame out; it does not come back by itself even in a hot chamber. */
    public void putOut() {
        lit = false;
    }

    /** Puts a cold bar of 16 mm in. */
    public void stockIn() {
        stockIn(0.016);
    }

    /** Puts a cold bar of 2 to 100 mm diameter in, 200 mm of it inside or 0.8 of the chamber's depth if that is less. */
    public void stockIn(double diameterM) {
        stockIn(diameterM, 1, BAR_SEEN_SHARE);
    }

    /**
     * Puts cold bars in that are all alike, each as far as one; those that were in are taken out.
     *
     * @param diameterM 2 to 100 mm
     * @param count 1 to 100
     * @param seenShare part of what the probe sees that they take, as a part of the temperature, 0 to 0.2: cold bars in a tenth
     *     of the view of a hot chamber lower by 0.03 the temperature that it radiates with
     */
    public void stockIn(double diameterM, int count, double seenShare) {
        if (count < 1 || count > MOST_BARS) {
            throw new IllegalArgumentException(count + " bars: allowed are 1 to " + MOST_BARS);
        }
        if (!(seenShare >= 0 && seenShare <= 0.2)) {
            throw new IllegalArgumentException("bars seen as " + seenShare + ": allowed are 0 to 0.2");
        }
        // Alike and put in together, they are always as hot as each other: one bar as long as all of them.
        bar = new SteelBar(diameterM, count * barLengthM, roomC);
        barSeenShare = seenShare;
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

    /**
     * Takes bricks out of the front, so that it is wider: its width first, then its height, no further than the chamber's.
     * The bricks count as lining still; what they cool off outside is left out.
     *
     * @param timesArea area over that of the opening, 1 to 4
     */
    public void openFront(double timesArea) {
        if (!(timesArea >= 1 && timesArea <= 4)) {
            throw new IllegalArgumentException("front opened to " + timesArea + " of its area: allowed are 1 to 4");
        }
        holes.widenFront(timesArea);
    }

    /** Puts the bricks back. */
    public void closeFront() {
        holes.narrowFront();
    }

    /**
     * Lets a draught blow air of the room into the chamber beside what falls in by itself.
     *
     * @param kgPerS 0 to 0.02; 0 ends it
     */
    public void blow(double kgPerS) {
        if (!(kgPerS >= 0 && kgPerS <= MOST_WIND_KG_S)) {
            throw new IllegalArgumentException("draught of " + kgPerS + " kg/s: allowed are 0 to " + MOST_WIND_KG_S);
        }
        windKgS = kgPerS;
    }

    /** Makes the flame flutter more or less than its trait says, 0 to 10 times. */
    public void flutter(double times) {
        if (!(times >= 0 && times <= 10)) {
            throw new IllegalArgumentException("flutter of " + times + " times: allowed are 0 to 10");
        }
        flutterTimes = times;
    }

    public void breakThermocouple() {
        instruments.breakThermocouple();
    }

    public void mendThermocouple() {
        instruments.mendThermocouple();
    }

    /** Connects a full cylinder at room temperature. */
    public void changeCylinder() {
        supply.changeCylinder(GasSupply.FULL_KG);
    }

    /** Connects a cylinder at room temperature with so much propane in it, above 0 to 11 kg. */
    public void changeCylinder(double contentsKg) {
        if (!(contentsKg > 0 && contentsKg <= GasSupply.FULL_KG)) {
            throw new IllegalArgumentException(
                    "cylinder with " + contentsKg + " kg: allowed are above 0 to " + GasSupply.FULL_KG);
        }
        supply.changeCylinder(contentsKg);
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

    /** Length of a bar that is inside the chamber, m. */
    public double barLengthM() {
        return barLengthM;
    }

    /** What it was made with. */
    public ForgeTraits traits() {
        return traits;
    }

    /** What an analysis of it should find. */
    public ForgeTruth truth() {
        return truth;
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

    /** Bar in the chamber on the mean, °C; NaN when there is none. */
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

    /** Propane that went through the jet since the beginning, kg. */
    public double gasUsedKg() {
        return supply.usedKg();
    }

    /** Propane left in the cylinder, kg. */
    public double contentsKg() {
        return supply.contentsKg();
    }

    HeatLedger ledger() {
        return new HeatLedger(releasedJ, flueJ, openingsJ, shellJ, stockJ, wall.heldJ());
    }
}
