package org.bankfire.daemon.bench;

import java.util.List;
import java.util.Map;

/**
 * What the alarms made of one burn.
 *
 * @param seed of its plan
 * @param kind what it was for, as {@link BurnPlan.Kind#code()}
 * @param lagS of the probe
 * @param believedLagS what the builder says
 * @param rateHz readings a second
 * @param litH hours with a flame
 * @param outS when the flame went out while gas flowed; NaN when it did not
 * @param phase in which it went out; empty when it did not
 * @param probeC at that moment
 * @param gasPa at that moment
 * @param delayS from the last moment of flame to the alarm; NaN when none came
 * @param by code of the alarm that came
 * @param noIgnitionS from gas on to <em>no ignition</em> where nothing was lit; NaN when none came
 * @param gasLeftOnS from the last moment of flame, or from gas on, to <em>gas left on</em>; NaN when none came
 * @param oracle what could be reached by who knows the forge
 * @param falseFlameOuts raised while it burned or gas was being shut
 * @param falseNoIgnitions raised while it burned
 * @param annunciations how often each alarm called
 * @param worstIn10Min most calls in any ten minutes
 * @param before what befell the forge last before it went out
 */
record BurnOutcome(
        long seed,
        String kind,
        double lagS,
        double believedLagS,
        double rateHz,
        double litH,
        double outS,
        String phase,
        double probeC,
        double gasPa,
        double delayS,
        String by,
        double noIgnitionS,
        double gasLeftOnS,
        Oracle oracle,
        List<FalseAlarm> falseFlameOuts,
        List<FalseAlarm> falseNoIgnitions,
        Map<String, Integer> annunciations,
        int worstIn10Min,
        String before) {
    /**
     * An alarm without its cause.
     *
     * @param timeS since the first reading
     * @param probeC at that moment
     * @param gasPa at that moment
     * @param before what befell the forge last
     */
    record FalseAlarm(double timeS, double probeC, double gasPa, String before) {}
}
