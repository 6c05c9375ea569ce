package org.bankfire.analysis.monitor;

import java.util.Locale;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.burn.BurnPhase;
import org.bankfire.analysis.burn.BurnTracker;
import org.bankfire.analysis.burn.TemperatureTrend;
import org.bankfire.analysis.flame.FlameTest;
import org.bankfire.analysis.flame.FlameVerdict;
import org.bankfire.analysis.reading.Setting;

/**
 * Brings gas, flame test and burns together: when a burn begins, when it is out, when gas flows and nothing lights.
 *
 * <p>Without a gas channel, burns are told from the chamber temperature alone: a clear rise is a burn, a clear fall for
 * half a minute is its end. Flame out and gas off then look the same, and nothing is said about the flame.
 */
final class Fire {
    private static final double MICROS_PER_S = 1e6;
    /** Rise or fall that cannot be weather, K/min, and how long a fall must last: common practice, no source. */
    private static final double CLEAR_RATE_K_PER_MIN = 20;

    private static final long CLEAR_FALL = 30_000_000;
    /** A sensor that has just come back must have had this long to show heat before nothing is said to heat. */
    private static final long TIME_TO_SHOW = 5_000_000;
    /** A chamber as cold as this does not burn, whatever is known of the gas, °C. */
    private static final double SURELY_COLD_C = 80;

    private final FlameTest test;
    private final BurnTracker burns;
    private final GasState gas;
    private final long lightingTime;
    private boolean noIgnition;
    private boolean litSinceGasOn;
    private long fallingSince = Alarm.NEVER;

    Fire(FlameTest test, BurnTracker burns, GasState gas, double lightingTimeS) {
        this.test = test;
        this.burns = burns;
        this.gas = gas;
        this.lightingTime = Math.round(lightingTimeS * MICROS_PER_S);
    }

    /** A good pressure has been taken into {@link GasState}. */
    void onGas(long now, long at, boolean changed) {
        if (changed && gas.isFlowing()) {
            litSinceGasOn = false;
            test.gas(gas.onAt(), true, gas.flowKgPerS());
        }
        if (!gas.isFlowing()) {
            // The first of two that say gas flows is no word that it is off: that would hide that it burned all along.
            if (gas.isOffForSure()) {
                test.gas(at, false, 0);
            }
            noIgnition = false;
            burns.out(now, changed ? gas.offAt() : now, "Gas off.");
            burns.rest();
            return;
        }
        if (gas.isFlowingForSure()) {
            test.gas(at, true, gas.flowKgPerS());
        } else {
            test.gasInDoubt(at, gas.flowKgPerS());
        }
        follow(now);
        burns.gas(now, at, gas.gaugePa(), gas.flowKgPerS());
    }

    /** A good chamber temperature. */
    void onChamber(long now, long at, double celsius, TemperatureTrend trend, boolean gasEverKnown, boolean gasUsable) {
        if (gasEverKnown) {
            test.chamber(at, celsius);
            if (gas.isFlowing()) {
                follow(now);
            }
            if (!gasUsable && burns.isBurning() && celsius < SURELY_COLD_C) {
                burns.out(now, now, "The chamber is cold.");
            }
        } else {
            inferBurn(now, trend);
        }
        burns.chamber(now, at, celsius);
    }

    /** Takes the plug; other settings do not concern it. */
    void accept(Setting setting) {
        if (setting.name().equals(Setting.PLUG)) {
            if (setting.value().equals("in")) {
                test.plug(true);
            } else if (setting.value().equals("out")) {
                test.plug(false);
            }
        }
    }

    /** How sure the verdict out is, 0 to 1; NaN when no comparison tells. */
    double outCertainty() {
        return test.outCertainty();
    }

    /** How likely the flame is out, 0 to 1; NaN while it is not known to burn. */
    double outProbability() {
        return gas.isFlowing() ? test.outProbability() : Double.NaN;
    }

    void onWitness(long at, double value) {
        test.witness(at, value);
    }

    void onWitnessLost() {
        test.noWitness();
    }

    /** When {@link #lightingOver} must be called, µs; {@link Alarm#NEVER} while nothing waits to be lit. */
    long lightingDue(boolean judged, long chamberGoodSince) {
        boolean waits = gas.isFlowing() && test.verdict() == FlameVerdict.LIGHTING && !noIgnition;
        return waits && judged ? Math.max(gas.onAt() + lightingTime, chamberGoodSince + TIME_TO_SHOW) : Alarm.NEVER;
    }

    /** The lighting time is over. */
    void lightingOver() {
        noIgnition = true;
    }

    /** Gas flows and nothing has lit within the lighting time. */
    boolean isNotIgniting() {
        return noIgnition && gas.isFlowing() && test.verdict() == FlameVerdict.LIGHTING;
    }

    /** Gas flows, it has burned, and the flame is out. */
    boolean isFlameOut() {
        return gas.isFlowing() && test.verdict() == FlameVerdict.OUT;
    }

    /** Gas flows or it burns, as far as was last known. */
    boolean isDangerous() {
        return gas.isFlowing() || burns.isBurning();
    }

    FlameState state(boolean gasUsable, boolean chamberUsable) {
        if (!gasUsable || (gas.isFlowing() && !chamberUsable)) {
            return FlameState.UNAVAILABLE;
        }
        if (!gas.isFlowing()) {
            return FlameState.OFF;
        }
        return switch (test.verdict()) {
            case NO_GAS, LIGHTING -> FlameState.LIGHTING;
            case BURNING -> FlameState.BURNING;
            case OUT -> FlameState.OUT;
        };
    }

    /** Seconds since the gas came on. */
    double gasOnForS(long now) {
        return (now - gas.onAt()) / MICROS_PER_S;
    }

    private void follow(long now) {
        switch (test.verdict()) {
            case NO_GAS -> {}
            case LIGHTING -> burns.lighting();
            case BURNING -> {
                noIgnition = false;
                if (!burns.isBurning()) {
                    long start = litSinceGasOn ? test.litMicros() : gas.onAt();
                    litSinceGasOn = true;
                    burns.lit(
                            now,
                            Math.min(start, now),
                            String.format(Locale.ROOT, "The chamber heats, %.0f s after gas on.", gasOnForS(now)));
                }
            }
            case OUT -> {
                burns.out(now, test.outSinceMicros(), "The flame is out.");
                burns.rest();
            }
        }
    }

    private void inferBurn(long now, TemperatureTrend trend) {
        double rate = trend.rateKPerMin();
        double margin = 2 * trend.standardErrorKPerMin();
        if (burns.isBurning()) {
            boolean falls = rate + margin < -CLEAR_RATE_K_PER_MIN;
            fallingSince = falls ? Math.min(fallingSince, now) : Alarm.NEVER;
            if (fallingSince != Alarm.NEVER && now - fallingSince >= CLEAR_FALL) {
                burns.out(now, fallingSince, "The chamber cools; there is no gas pressure to tell why.");
                fallingSince = Alarm.NEVER;
            }
        } else if (rate - margin > CLEAR_RATE_K_PER_MIN
                && (burns.phase() == BurnPhase.COLD || burns.phase() == BurnPhase.COOLING)) {
            burns.lit(now, now, "The chamber heats; there is no gas pressure to tell since when.");
        }
    }
}
