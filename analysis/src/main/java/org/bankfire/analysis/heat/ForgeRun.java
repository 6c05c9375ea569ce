package org.bankfire.analysis.heat;

import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.lining.ChainStepper;
import org.bankfire.analysis.quantity.Range;
import org.jspecify.annotations.Nullable;

/**
 * A forge in time: set what happens, let time pass, read what came of it. Steps are as long as the error allows; what is
 * set holds from the present moment on. Not safe for use by several threads.
 */
public final class ForgeRun {
    /** Temperatures that a forge or a bar may start from, K. */
    public static final Range START_K = new Range(200, 1900);

    /** Greatest difference between the orders of the method that a step may show, K; the error is far below it. */
    private static final double TOLERANCE_K = 0.5;

    /** A step that was chosen for other parameters may be this bad. */
    private static final double GROSS_K = 20;

    private static final double FIRST_STEP_S = 0.25;
    private static final double SHORTEST_STEP_S = 1e-3;
    /**
     * Some hours: longer ones wander about the state of rest by tenths of a kelvin where conductivity changes much within a
     * cell, for the slopes leave that change out.
     */
    private static final double LONGEST_STEP_S = 2e4;

    private static final int LEDGER = 5;

    private final ForgeModel model;
    private final ChamberGas gas;
    private final double[] before = new double[LEDGER];
    private final double[] lastStepJ = new double[LEDGER];
    private ForgeChain chain;
    private ChainStepper stepper;
    private Firing firing = Firing.OFF;
    private boolean plugIn = true;
    private double ambientK;
    private double timeS;
    private double stepS = FIRST_STEP_S;
    private double lastStepS;
    private double probeK;
    private double gasKg;
    private double storedStartJ;
    private double lastStoredJ;
    private double lastStoredStepJ;
    private long steps;

    /**
     * A forge that has stood at one temperature.
     *
     * @param model the forge
     * @param startK its temperature throughout, K, 200 to 1,900
     * @param ambientK of the surroundings, K, 223 to 333
     */
    public ForgeRun(ForgeModel model, double startK, double ambientK) {
        START_K.require("start temperature in K", startK);
        ForgeDescription.AMBIENT_K.require("ambient in K", ambientK);
        this.model = model;
        this.ambientK = ambientK;
        gas = model.chamberGas();
        chain = new ForgeChain(model, gas, null);
        double[] heat = new double[chain.nodes()];
        for (int i = 0; i < heat.length; i++) {
            heat[i] = chain.heatJ(i, startK);
        }
        stepper = new ChainStepper(chain, heat);
        probeK = startK;
        storedStartJ = storedJ();
        lastStoredJ = storedStartJ;
    }

    /**
     * A forge that was warmed unevenly, without stock.
     *
     * @param model the forge
     * @param liningK temperature of each node of the lining, from the hot face outwards, K
     * @param chamberK what the probe shows, K
     * @param ambientK of the surroundings, K, 223 to 333
     */
    public ForgeRun(ForgeModel model, double[] liningK, double chamberK, double ambientK) {
        this(model, ambientK, ambientK);
        double[] heat = new double[chain.nodes()];
        for (int i = 0; i < heat.length; i++) {
            heat[i] = chain.heatJ(i, liningK[i]);
        }
        stepper = new ChainStepper(chain, heat);
        probeK = chamberK;
        storedStartJ = storedJ();
        lastStoredJ = storedStartJ;
    }

    /** The same forge at the same moment, which goes its own way from here. */
    public ForgeRun(ForgeRun other) {
        model = other.model;
        gas = model.chamberGas();
        chain = new ForgeChain(model, gas, other.chain.bar());
        double[] heat = new double[chain.nodes()];
        for (int i = 0; i < heat.length; i++) {
            heat[i] = other.stepper.heatJ(i);
        }
        stepper = new ChainStepper(chain, heat);
        for (int j = 0; j < LEDGER; j++) {
            before[j] = other.total(j);
        }
        firing = other.firing;
        plugIn = other.plugIn;
        ambientK = other.ambientK;
        timeS = other.timeS;
        stepS = other.stepS;
        probeK = other.probeK;
        gasKg = other.gasKg;
        storedStartJ = other.storedStartJ;
        lastStoredJ = other.lastStoredJ;
    }

    /** Sets gas and flame. */
    public void fire(Firing to) {
        if (!to.equals(firing)) {
            // The gas follows at once; the next step must be short again. A small turn of the regulator needs less.
            double change = Math.abs(to.gasKgPerS() - firing.gasKgPerS());
            boolean large = to.lit() != firing.lit() || change > 0.1 * Math.max(to.gasKgPerS(), firing.gasKgPerS());
            firing = to;
            if (large) {
                stepS = Math.min(stepS, FIRST_STEP_S);
            }
        }
    }

    /** Sets the plug. */
    public void plug(boolean in) {
        if (in != plugIn) {
            plugIn = in;
            stepS = Math.min(stepS, FIRST_STEP_S);
        }
    }

    /** Sets the temperature of the surroundings, K, 223 to 333. */
    public void ambient(double toK) {
        ForgeDescription.AMBIENT_K.require("ambient in K", toK);
        ambientK = toK;
    }

    /** Puts a bar in, of one temperature throughout, K, 200 to 1,900; the bar that was in is taken out. */
    public void stockIn(Bar bar, double barK) {
        START_K.require("temperature of the bar in K", barK);
        rebuild(bar, barK);
    }

    /** Takes the bar out, if there is one. */
    public void stockOut() {
        if (chain.face() > 0) {
            rebuild(null, 0);
        }
    }

    private void rebuild(@Nullable Bar bar, double barK) {
        ForgeChain to = new ForgeChain(model, gas, bar);
        double[] heat = new double[to.nodes()];
        for (int i = 0; i < to.face(); i++) {
            heat[i] = to.heatJ(i, barK);
        }
        for (int i = 0; to.face() + i < heat.length; i++) {
            heat[to.face() + i] = stepper.heatJ(chain.face() + i);
        }
        for (int j = 0; j < LEDGER; j++) {
            before[j] += stepper.tallyJ(j);
        }
        chain = to;
        stepper = new ChainStepper(to, heat);
        stepS = Math.min(stepS, FIRST_STEP_S);
    }

    /**
     * Lets time pass.
     *
     * @param toS time since the start, s, not before {@link #timeS()}
     */
    public void advanceTo(double toS) {
        if (!(toS >= timeS && toS < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("cannot go from " + timeS + " s to " + toS + " s");
        }
        while (toS - timeS > 1e-9 * (1 + toS)) {
            double left = toS - timeS;
            // The last two steps share what is left, so that none is a sliver.
            double now = left <= stepS ? left : left < 2 * stepS ? left / 2 : stepS;
            step(now);
        }
        timeS = toS;
    }

    /**
     * Lets time pass in one step, unless its error is gross: for computations that take the same steps again and again, so
     * that small changes of the parameters make small changes of the result.
     *
     * @param stepLengthS s, above 0
     */
    public void stride(double stepLengthS) {
        double faceK = stepper.temperatureK(chain.face());
        chain.surround(firing, plugIn, ambientK);
        double errorK = stepper.attempt(stepLengthS);
        if (errorK <= GROSS_K) {
            take(stepLengthS, faceK);
        } else {
            advanceTo(timeS + stepLengthS);
        }
    }

    private void step(double tryS) {
        double now = tryS;
        double faceK = stepper.temperatureK(chain.face());
        while (true) {
            chain.surround(firing, plugIn, ambientK);
            double errorK = stepper.attempt(now);
            boolean good = errorK <= TOLERANCE_K;
            double factor = errorK > 0 ? 0.85 * Math.sqrt(TOLERANCE_K / errorK) : 3;
            if (good || now <= SHORTEST_STEP_S) {
                if (Double.isNaN(errorK)) {
                    throw new IllegalStateException("the forge cannot be computed beyond " + timeS + " s: hot face "
                            + faceK + " K, gas " + firing.gasKgPerS() + " kg/s");
                }
                stepS = Math.min(LONGEST_STEP_S, now * Math.min(3, Math.max(0.3, factor)));
                take(now, faceK);
                return;
            }
            now = Math.max(SHORTEST_STEP_S, now * (Double.isNaN(factor) ? 0.1 : Math.max(0.1, factor)));
        }
    }

    private void take(double now, double faceK) {
        double coefficient = model.convectionWPerM2K(firing);
        double fromK = settlingK(faceK, stepper.temperatureK(Math.max(0, chain.face() - 1)), coefficient);
        stepper.accept();
        double stored = storedJ();
        for (int j = 0; j < LEDGER; j++) {
            lastStepJ[j] = stepper.stepTallyJ(j);
        }
        lastStoredStepJ = stored - lastStoredJ;
        lastStoredJ = stored;
        double toK = settlingK(
                stepper.temperatureK(chain.face()), stepper.temperatureK(Math.max(0, chain.face() - 1)), coefficient);
        probeK = follow(model.parameters().probeLagS(), probeK, fromK, toK, now);
        gasKg += firing.gasKgPerS() * now;
        lastStepS = now;
        timeS += now;
        steps++;
    }

    /** What the probe would settle at. */
    private double settlingK(double wallK, double stockK, double coefficient) {
        chain.solveGas(wallK, stockK);
        return model.probeK(wallK, gas.gasK(), coefficient);
    }

    /** First-order lag behind something that goes straight from one value to another, exactly. */
    static double follow(double lagS, double fromK, double targetFromK, double targetToK, double seconds) {
        if (lagS <= 0) {
            return targetToK;
        }
        double behindK = (targetToK - targetFromK) / seconds * lagS;
        return targetToK - behindK + (fromK - targetFromK + behindK) * Math.exp(-seconds / lagS);
    }

    private double storedJ() {
        double sum = 0;
        for (int i = chain.face(); i < chain.nodes(); i++) {
            sum += stepper.heatJ(i);
        }
        return sum;
    }

    /** Time since the start, s. */
    public double timeS() {
        return timeS;
    }

    /** What the chamber probe shows, K. */
    public double chamberK() {
        return probeK;
    }

    /** What the chamber probe would show without lag, K. */
    public double settledK() {
        return settlingK(
                stepper.temperatureK(chain.face()),
                stepper.temperatureK(Math.max(0, chain.face() - 1)),
                model.convectionWPerM2K(firing));
    }

    /** Temperature of the hot face, K. */
    public double hotFaceK() {
        return stepper.temperatureK(chain.face());
    }

    /** Temperature of the outer face, K. */
    public double shellK() {
        return stepper.temperatureK(chain.coldFace());
    }

    /** Temperature of the chamber gas at the last step, K. */
    public double gasK() {
        return gas.gasK();
    }

    /** Temperature of the bar's surface, K; NaN without a bar. */
    public double stockSurfaceK() {
        return chain.face() > 0 ? stepper.temperatureK(chain.face() - 1) : Double.NaN;
    }

    /** Temperature of the bar's axis, K; NaN without a bar. */
    public double stockCentreK() {
        return chain.face() > 0 ? stepper.temperatureK(0) : Double.NaN;
    }

    /** Temperature of a node of the lining, K. */
    public double liningK(int node) {
        return stepper.temperatureK(chain.face() + node);
    }

    /** Gas that flowed since the start, kg. */
    public double gasKg() {
        return gasKg;
    }

    /** Where the heat went since the start, J. */
    public HeatLedger ledgerJ() {
        return new HeatLedger(
                total(ForgeChain.INPUT),
                total(ForgeChain.FLUE),
                total(ForgeChain.LINING),
                total(ForgeChain.OPENINGS),
                total(ForgeChain.STOCK),
                lastStoredJ - storedStartJ);
    }

    /** Where the heat went during the last step, mean W. */
    public HeatLedger ledgerW() {
        return new HeatLedger(
                        lastStepJ[ForgeChain.INPUT],
                        lastStepJ[ForgeChain.FLUE],
                        lastStepJ[ForgeChain.LINING],
                        lastStepJ[ForgeChain.OPENINGS],
                        lastStepJ[ForgeChain.STOCK],
                        lastStoredStepJ)
                .over(lastStepS > 0 ? lastStepS : 1);
    }

    /** Steps taken since the start. */
    public long steps() {
        return steps;
    }

    /** Length of the last step, s. */
    public double lastStepS() {
        return lastStepS;
    }

    private double total(int tally) {
        return before[tally] + stepper.tallyJ(tally);
    }
}
