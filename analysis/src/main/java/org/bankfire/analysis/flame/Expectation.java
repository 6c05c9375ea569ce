package org.bankfire.analysis.flame;

import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.ForgeRun;

/**
 * What the probe should settle at: the forge model as described, run along with the gas that is measured to flow, and
 * calibrated on the burn in progress by a factor on the heat of the flame, which slowly brings its level to what is
 * measured. So it can be used from the first burn on, with the description alone.
 */
final class Expectation {
    private static final double CELSIUS_ZERO_K = 273.15;
    /** The level is followed this slowly, s: a flame-out or a cold bar must stand out for minutes. */
    private static final double FOLLOW_S = 100;
    /** So much slower while something fell and did not come back. */
    private static final double FOLLOW_FALLEN = 3;

    /** Time over which the flame factor's effect on the level is reckoned, s. */
    private static final double EFFECT_S = 60;

    private static final double LEAST_EFFECT_K = 30;
    /** Bounded influence: an open front must not turn the flame down to nothing. */
    private static final double MOST_MISFIT_K = 80;

    /** One reading after a silence tells little of what went before: it must not throw the factor to its bound, s. */
    private static final double MOST_LEARNT_S = 10;

    private static final double LEAST_FLAME_FACTOR = 0.7;
    private static final double MOST_FLAME_FACTOR = 1.3;
    /** A model that is further away than this is begun anew when it is lit, K. */
    private static final double LOST_K = 150;

    /** Longest time in which a forge is taken to have reached its temperature, s. */
    private static final double LONGEST_PAST_S = 7_200;

    private static final double PAST_STEP_S = 10;
    /** Pressure at which it is taken to have been heated, Pa: common practice, no source. */
    private static final double PAST_PA = 100e3;

    /** A pressure sensor that says more, or a jet that lets more through, must not upset the model, Pa. */
    private static final double MOST_PA = 2e6;

    /** Falls are worked out anew when the state has changed by so much, or after so long. */
    private static final double STALE_K = 8;

    private static final double STALE_FLOW = 0.03;
    private static final double STALE_S = 20;
    /** And no more often than this, s: they cost as much as minutes of the model. */
    private static final double FRESH_S = 1;

    /** No description is so wrong that a burning forge heads for less than this part of what is expected. */
    private static final double FAR_BELOW = 0.3;

    /** Nor does it head for less than this part of what it has headed for before. */
    private static final double FALLEN_BACK = 0.4;

    private final ForgeModel model;
    private final Falls falls;
    private final double coldK;
    private final double mostKgPerS;
    private ForgeRun run;
    private boolean plugIn = true;
    private double flameFactor = 1;
    private double fallsAtS = Double.NEGATIVE_INFINITY;
    private double fallsAtK;
    private double fallsAtFlow;

    /**
     * A forge at rest and cold.
     *
     * @param ratedStockShare surface of the most cold stock that is put in at once over the chamber's inner surface
     */
    Expectation(ForgeDescription forge, double ratedStockShare) {
        model = new ForgeModel(forge, ForgeParameters.of(forge));
        coldK = forge.ambientK();
        mostKgPerS = model.gasKgPerS(MOST_PA, coldK);
        run = new ForgeRun(model, coldK, coldK);
        falls = new Falls(forge.innerSurfaceM2(), ratedStockShare);
    }

    /** Lets time pass. */
    void advance(double seconds, double gasKgPerS, boolean lit) {
        double flow = Math.min(gasKgPerS, mostKgPerS);
        run.fire(lit ? new Firing(flow * flameFactor, true) : new Firing(flow, false));
        try {
            run.advanceTo(run.timeS() + seconds);
        } catch (IllegalStateException beyondTheModel) {
            // The alarm must go on whatever a pressure sensor says: from the last temperature, as if soaked.
            runFrom(startK(chamberC()));
        }
    }

    /** Another run, whose time begins anew; the plug stays as it is. */
    private void runFrom(double kelvin) {
        run = new ForgeRun(model, kelvin, coldK);
        run.plug(plugIn);
        fallsAtS = Double.NEGATIVE_INFINITY;
    }

    void plug(boolean in) {
        plugIn = in;
        run.plug(in);
        fallsAtS = Double.NEGATIVE_INFINITY;
    }

    /** What the probe should settle at, °C. */
    double settledC() {
        return run.settledK() - CELSIUS_ZERO_K;
    }

    /** What the probe should show, °C. */
    double chamberC() {
        return run.chamberK() - CELSIUS_ZERO_K;
    }

    /**
     * Whether the probe heads for so little above the surroundings that no flame can be burning.
     *
     * @param settlingC what it heads for, °C
     * @param highestC the most that it has headed for in this burn, °C: one that heats slowly has never headed for more
     */
    boolean isFarBelow(double settlingC, double highestC) {
        double aboveK = settlingC - (coldK - CELSIUS_ZERO_K);
        return aboveK < FAR_BELOW * (settledC() - (coldK - CELSIUS_ZERO_K))
                && aboveK < FALLEN_BACK * (highestC - (coldK - CELSIUS_ZERO_K));
    }

    double lagS() {
        return model.forge().probeLagS();
    }

    /** First seen at that chamber temperature: cold, or as if it had been heated to here. */
    void startAt(double celsius) {
        if (Math.abs(celsius - chamberC()) > LOST_K) {
            begin(celsius);
        }
    }

    /** Lit just now, at that chamber temperature. */
    void ignited(double celsius) {
        if (Math.abs(celsius - chamberC()) > LOST_K) {
            begin(celsius);
        }
        flameFactor = 1;
        fallsAtS = Double.NEGATIVE_INFINITY;
    }

    /** It has burned nobody knows how long: as if it had been heated to here from cold. */
    void adopt(double celsius) {
        begin(celsius);
        flameFactor = 1;
        fallsAtS = Double.NEGATIVE_INFINITY;
    }

    private void begin(double celsius) {
        double kelvin = startK(celsius);
        runFrom(coldK);
        run.fire(new Firing(model.gasKgPerS(PAST_PA, coldK), true));
        try {
            while (run.chamberK() < kelvin && run.timeS() < LONGEST_PAST_S) {
                run.advanceTo(run.timeS() + PAST_STEP_S);
            }
        } catch (IllegalStateException beyondTheModel) {
            runFrom(kelvin);
        }
        if (run.chamberK() < kelvin) {
            runFrom(kelvin);
        }
    }

    private static double startK(double celsius) {
        return Math.max(ForgeRun.START_K.low(), Math.min(ForgeRun.START_K.high(), celsius + CELSIUS_ZERO_K));
    }

    /**
     * Learns from what was measured while it burns.
     *
     * @param seconds since the last time
     * @param fell whether something has made it fall and has not come back
     */
    void learn(double seconds, double celsius, boolean fell) {
        double misfitK = celsius - chamberC();
        double bounded = Math.max(-MOST_MISFIT_K, Math.min(MOST_MISFIT_K, misfitK));
        double effectK = Math.max(LEAST_EFFECT_K, falls.flameOutK(EFFECT_S));
        double learntS = Math.min(seconds, MOST_LEARNT_S);
        flameFactor += bounded / effectK * learntS / (fell ? FOLLOW_FALLEN * FOLLOW_S : FOLLOW_S);
        flameFactor = Math.max(LEAST_FLAME_FACTOR, Math.min(MOST_FLAME_FACTOR, flameFactor));
    }

    /** Works the falls out anew when they are no longer those of the present state. */
    void refreshFalls(double gasKgPerS) {
        double ageS = run.timeS() - fallsAtS;
        boolean moved = Math.abs(run.chamberK() - fallsAtK) > STALE_K
                || Math.abs(gasKgPerS - fallsAtFlow) > STALE_FLOW * fallsAtFlow;
        if (ageS > STALE_S || (moved && ageS > FRESH_S)) {
            workFallsOut(gasKgPerS);
        }
    }

    /** Works the falls out for the present state. */
    void workFallsOut(double gasKgPerS) {
        try {
            falls.from(run, Math.min(gasKgPerS, mostKgPerS), flameFactor, coldK);
        } catch (IllegalStateException beyondTheModel) {
            // Those of before, or of the part that could be computed, are nearer than none.
            runFrom(startK(chamberC()));
        }
        fallsAtS = run.timeS();
        fallsAtK = run.chamberK();
        fallsAtFlow = gasKgPerS;
    }

    /** Fall of a flame-out after so long, K. */
    double flameOutK(double seconds) {
        return falls.flameOutK(seconds);
    }

    /** Fall by the rated stock after so long, K. */
    double stockK(double seconds) {
        return falls.stockK(seconds);
    }
}
