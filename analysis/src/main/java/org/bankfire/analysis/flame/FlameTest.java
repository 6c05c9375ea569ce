package org.bankfire.analysis.flame;

import org.bankfire.analysis.forge.ForgeDescription;

/**
 * Is the flame burning while gas flows? Judged from the chamber temperature, the gas flow and, where fitted, a flame
 * witness; event-timed.
 *
 * <p><b>How.</b> The forge model runs along with the measured gas and is calibrated on the burn ({@link Expectation}). What
 * the probe is heading for, its lag turned round ({@link Heading}), is compared with it each quarter second. A fall that
 * chance would not make ({@link Chance}), that is more than the rated stock and a lesser disturbance could cause and most
 * of what a flame-out would, is a flame-out ({@link FallTest}); soon after lighting a cold forge a falling back is one
 * ({@link JustLit}). Turned or shut gas is in the model's expectation already.
 *
 * <p><b>What it can tell and cannot.</b> Against random virtual forges, described wrong by up to 15 %, with stock, plug,
 * front, draughts, regulator and sensor faults, see {@code fixtures/flame/}: how late it is by probe lag and phase, what it
 * missed and what it took for a flame-out, beside what one who knows the forge could do. It cannot tell stock beyond the
 * rating from a flame-out, and where the rated stock falls as far as a flame-out it must wait, up to a minute and more. A
 * flame that goes out while the chamber sensor is blind for more than a minute is not seen, nor one while the gas pressure
 * is unknown, since gas off and flame out then look the same.
 */
public final class FlameTest {
    /**
     * Surface of the cold stock that is borne unless told otherwise, over the inner surface of the chamber: one bar of 25 mm
     * or two of 12 mm in a chamber of 0.2 m. With more, its fall comes so near that of a flame-out that neither quick nor
     * sure alarms are possible by one thermocouple.
     */
    public static final double USUAL_RATED_STOCK = 0.08;

    private static final double MICROS_PER_S = 1e6;
    /** Samples are averaged over this long: shortest reaction against noise. */
    private static final long BIN = 250_000;
    /** Longer silence than this: what was before cannot be compared, µs. */
    private static final long FORGET = 60_000_000;
    /** A fall within this of a pressure that said the gas is off may be the gas's doing, µs. */
    static final long DOUBT_OF_GAS_LASTS = 20_000_000;

    /** A cold forge without gas is moved on in steps of this, µs. */
    private static final long RESTING_STEP = 5_000_000;

    private static final double RESTING_C = 150;
    /** After a longer silence the model is begun anew from what is measured, s: nobody knows what happened. */
    private static final double LONGEST_STEP_S = 600;

    /** No chamber of this kind is outside of this, °C: a value beyond is a sensor's, and must not upset the model. */
    private static final double COLDEST_C = -100;

    private static final double HOTTEST_C = 2_500;

    /** A fall must be seen again after this, s, if quarter seconds come in as fast; single spikes are out of it already. */
    private static final double PERSISTS_S = 0.5;

    private static final double NOISE_FLOOR_K = 0.15;
    /** Spikes count for no more than so many deviations, and the noise is that of the last fifty values or so. */
    private static final double SPIKE_SIGMAS = 5;

    private static final double NOISE_GAIN = 0.02;
    /** From this part of what a flame-out needs on, the model does not follow what is measured, and for so long after. */
    private static final double DOUBT = 0.35;

    private static final double DOUBT_LASTS_S = 10;
    /** A lit forge heads for its flame's temperature at once; the slowest probe shows it within this, µs. */
    private static final long SETTLED = 20_000_000;

    /** Gas must have been seen to flow within this, µs: two readings at 1 Hz; or it is the gas that was shut. */
    static final long GAS_SEEN_WITHIN = 2_500_000;

    /** A hot chamber with gas flowing at the first sight of it burns, unless it has cooled by this in 8 s, °C, µs, K. */
    private static final double ADOPTED_C = 300;

    private static final long ADOPTED_AFTER = 10_000_000;
    private static final long ADOPTED_LOOK = 8_000_000;
    private static final double ADOPTED_FALL_K = 2.5;
    private static final int FEWEST_FOR_ADOPTING = 5;

    private final Expectation expectation;
    private final Heading heading;
    private final Trace trace = new Trace();
    private final FallTest fall;
    private final JustLit justLit = new JustLit();
    private final Lighting lighting;
    private final Chance chance = new Chance();
    private final Witness witness = new Witness();

    private long binStart = Long.MIN_VALUE;
    private double binTime;
    private double binSum;
    private int binCount;

    private FlameVerdict verdict = FlameVerdict.NO_GAS;
    private boolean gasEverSeen;
    private boolean adopted;
    private boolean lightingBegun;
    private long gasOnAt;
    private long gasSeenAt = Long.MIN_VALUE;
    private long gasDoubtedAt = Long.MIN_VALUE;
    private double flowKgPerS;
    private double noiseK = 1;
    private double highestC = Double.NEGATIVE_INFINITY;
    private int fallsSeen;
    private double doubtLeftS;
    private long outSince;
    private long outAt;
    private double outCertainty = Double.NaN;
    private long litAt = Long.MIN_VALUE / 2;
    private long advancedTo = Long.MIN_VALUE;

    /**
     * For a forge of which nothing has been heard.
     *
     * @param forge as its builder describes it
     * @param ratedStockShare surface of the most cold stock that is put in at once over the chamber's inner surface, 0 to 0.5
     */
    public FlameTest(ForgeDescription forge, double ratedStockShare) {
        if (!(ratedStockShare >= 0 && ratedStockShare <= 0.5)) {
            throw new IllegalArgumentException(
                    "rated stock of " + ratedStockShare + " of the inner surface: allowed are 0 to 0.5");
        }
        expectation = new Expectation(forge, ratedStockShare);
        heading = new Heading(forge.probeLagS());
        fall = new FallTest(trace, expectation, heading.windowS() / 2);
        lighting = new Lighting(trace, heading, expectation);
    }

    /**
     * Gas flows, or not; at every good pressure that is sure of it.
     *
     * @param flowKgPerS through the jet, kg/s
     */
    public void gas(long atMicros, boolean flows, double flowKgPerS) {
        this.flowKgPerS = flows ? flowKgPerS : 0;
        if (flows) {
            gasSeenAt = atMicros;
            if (verdict == FlameVerdict.NO_GAS) {
                verdict = FlameVerdict.LIGHTING;
                adopted = !gasEverSeen;
                gasOnAt = atMicros;
                lightingBegun = false;
            }
        } else {
            verdict = FlameVerdict.NO_GAS;
            fallsSeen = 0;
        }
        gasEverSeen = true;
    }

    /**
     * A good pressure says that gas does not flow any more, and awaits a second that agrees.
     *
     * @param flowKgPerS what it would be, kg/s
     */
    public void gasInDoubt(long atMicros, double flowKgPerS) {
        gasDoubtedAt = atMicros;
        this.flowKgPerS = flowKgPerS;
    }

    /** The plug is in or out, as the user has noted. */
    public void plug(boolean in) {
        expectation.plug(in);
    }

    /** A flame witness's word, 0 (dark) to 1 (burning). */
    public void witness(long atMicros, double value) {
        witness.says(atMicros, value);
    }

    /** The witness has gone. */
    public void noWitness() {
        witness.lost();
    }

    /**
     * A good chamber temperature, °C. Times must rise; a sample ends the quarter second before it.
     *
     * @return whether the verdict may have changed
     */
    public boolean chamber(long atMicros, double celsius) {
        FlameVerdict before = verdict;
        if (binCount > 0 && atMicros - binStart >= BIN) {
            closeBin();
        }
        if (binCount == 0) {
            binStart = atMicros;
        }
        binTime += atMicros - binStart;
        binSum += Math.max(COLDEST_C, Math.min(HOTTEST_C, celsius));
        binCount++;
        // A slow source has one sample a bin: waiting for the next to close it would cost a whole interval.
        if (trace.size() > 0 && atMicros - trace.time(0) >= 2 * BIN) {
            closeBin();
        }
        return verdict != before;
    }

    public FlameVerdict verdict() {
        return verdict;
    }

    /** When the gas came on, µs; meaningless without gas. */
    public long gasOnMicros() {
        return gasOnAt;
    }

    /** When it was lit, µs; meaningful while it burns. */
    public long litMicros() {
        return litAt;
    }

    /** About when the flame went out, µs; meaningful while the verdict is out. */
    public long outSinceMicros() {
        return outSince;
    }

    /** How likely the flame is out, 0 to 1, by the fall as it is now; NaN while it is not known to burn. */
    public double outProbability() {
        return verdict == FlameVerdict.BURNING ? fall.outProbability() : Double.NaN;
    }

    /** How sure the last verdict of out was, 0 to 1, by the fall at that moment; NaN when another sign decided. */
    public double outCertainty() {
        return outCertainty;
    }

    private void closeBin() {
        long at = binStart + Math.round(binTime / binCount);
        double celsius = binSum / binCount;
        binCount = 0;
        binTime = 0;
        binSum = 0;
        if (trace.size() > 0 && at - trace.time(0) > FORGET) {
            trace.keep(0);
            chance.forget();
        }
        followNoise(celsius);
        double seconds = advance(at, celsius);
        trace.add(at, celsius, expectation.settledC(), flowKgPerS);
        heading.look(trace, 0);
        switch (verdict) {
            case NO_GAS -> {}
            case LIGHTING, OUT -> judgeLighting(at, celsius);
            case BURNING -> judgeFall(at, seconds, celsius);
        }
    }

    /** Moves the model on; returns by how much, s. */
    private double advance(long at, double celsius) {
        if (advancedTo == Long.MIN_VALUE) {
            advancedTo = at;
            expectation.startAt(celsius);
        }
        long passed = at - advancedTo;
        boolean rests = verdict == FlameVerdict.NO_GAS && expectation.settledC() < RESTING_C;
        if (passed <= (rests ? RESTING_STEP : 0)) {
            return 0;
        }
        advancedTo = at;
        double seconds = passed / MICROS_PER_S;
        if (seconds > LONGEST_STEP_S) {
            expectation.startAt(celsius);
            return LONGEST_STEP_S;
        }
        expectation.advance(seconds, flowKgPerS, verdict == FlameVerdict.BURNING);
        return seconds;
    }

    private void followNoise(double celsius) {
        if (trace.size() < 2) {
            return;
        }
        double second = celsius - 2 * trace.measuredC(0) + trace.measuredC(1);
        // The variance of a second difference of white noise is six times its own.
        double square = Math.min(second * second / 6, SPIKE_SIGMAS * SPIKE_SIGMAS * noiseK * noiseK);
        noiseK = Math.max(NOISE_FLOOR_K, Math.sqrt(noiseK * noiseK + (square - noiseK * noiseK) * NOISE_GAIN));
    }

    private void judgeLighting(long at, double celsius) {
        boolean again = verdict == FlameVerdict.OUT;
        if (!again && !lightingBegun) {
            lightingBegun = true;
            lighting.begin(gasOnAt, flowKgPerS);
        }
        if (!again && adopted && isHotAndStays(at, celsius)) {
            adopt(celsius);
        } else if (lighting.isLit(at, gasOnAt, noiseK, again)) {
            ignite(Math.max(lighting.lowestAt(), gasOnAt));
        } else if (witness.cameToSeeFlame(at, again ? outAt : gasOnAt - GAS_SEEN_WITHIN, celsius)) {
            ignite(Math.max(witness.brightSince(), gasOnAt));
        }
    }

    private boolean isHotAndStays(long at, double celsius) {
        return celsius > ADOPTED_C
                && at - gasOnAt >= ADOPTED_AFTER
                && trace.size() >= FEWEST_FOR_ADOPTING
                && celsius - trace.measuredC(trace.backTo(at - ADOPTED_LOOK, 0)) > -ADOPTED_FALL_K;
    }

    /** It burned already when it was first seen. */
    private void adopt(double celsius) {
        begin(gasOnAt);
        expectation.adopt(celsius);
        trace.keep(1);
        trace.expect(0, expectation.settledC());
        heading.look(trace, 0);
    }

    /** It has burned since {@code since}: what should be is worked out anew from there. */
    private void ignite(long since) {
        int back = 0;
        while (back + 1 < trace.size() && trace.time(back + 1) >= since) {
            back++;
        }
        begin(trace.time(back));
        justLit.begin(litAt, trace.measuredC(back));
        expectation.ignited(trace.measuredC(back));
        trace.keep(back + 1);
        trace.expect(back, expectation.settledC());
        heading.look(trace, back);
        for (int i = back - 1; i >= 0; i--) {
            double seconds = (trace.time(i) - trace.time(i + 1)) / MICROS_PER_S;
            expectation.advance(seconds, trace.flowKgPerS(i), true);
            trace.expect(i, expectation.settledC());
            heading.look(trace, i);
        }
    }

    private void begin(long since) {
        verdict = FlameVerdict.BURNING;
        adopted = false;
        litAt = since;
        highestC = Double.NEGATIVE_INFINITY;
        fallsSeen = 0;
        doubtLeftS = 0;
        chance.forget();
    }

    private void judgeFall(long at, double seconds, double celsius) {
        expectation.refreshFalls(flowKgPerS);
        highestC = Math.max(highestC, trace.settlingC(0));
        chance.add(seconds, celsius - expectation.chamberC(), noiseK);
        fall.judge(gasSeenAt, gasDoubtedAt, witness.evidence(at));
        doubtLeftS = fall.recentRatio() > DOUBT ? DOUBT_LASTS_S : doubtLeftS - seconds;
        if (doubtLeftS <= 0) {
            expectation.learn(seconds, celsius, fall.ratio() > DOUBT);
        }
        boolean fellBack = (gasDoubtedAt < litAt || at - gasDoubtedAt > DOUBT_OF_GAS_LASTS)
                && gasSeenAt >= at - GAS_SEEN_WITHIN
                && justLit.fellBack(at, trace.settlingC(0), celsius, heading.noiseK(noiseK), flowKgPerS);
        boolean gone = at - Math.max(litAt, gasDoubtedAt) > SETTLED
                && gasSeenAt >= at - GAS_SEEN_WITHIN
                && expectation.isFarBelow(trace.settlingC(0), highestC);
        boolean fell = (fall.ratio() >= 1 || gone) && chance.isExcluded();
        fallsSeen = fell || fellBack ? fallsSeen + 1 : 0;
        if (fallsSeen >= (seconds < PERSISTS_S ? 2 : 1)) {
            verdict = FlameVerdict.OUT;
            outAt = at;
            outSince = fall.ratio() >= 1 ? fall.onset() : fellBack ? justLit.highestAt() : at;
            outCertainty = fall.ratio() >= 1 ? fall.outProbability() : Double.NaN;
            lighting.beginAgain();
            fallsSeen = 0;
        }
    }
}
