package org.bankfire.analysis.flame;

/**
 * Is the flame burning while gas flows? Judged from the chamber temperature, the gas flow and, where fitted, a flame
 * witness; event-timed, first version.
 *
 * <p><b>How.</b> A flame-out takes away all of the heat at once, everything else only a part. {@link HeatResponse}
 * predicts from the measured gas flow how the probe's temperature moves while it burns, and {@link HeatCalibration}
 * learns from lighting and from every turn of the regulator how strongly it does so in this forge. At every quarter second
 * the temperature, less what the measured flow explains, is compared with a straight line through the 8 s before each of
 * several horizons. A fall that reaches most of what losing the flame that long ago would cause is a flame-out. In
 * hypotheses: the fall is tested against the amplitude under <i>not burning</i>, with the measured flow already allowed
 * for under <i>burning</i>.
 *
 * <p><b>What it can tell.</b> Flame-outs at forging temperature, at idle and soon after lighting; it is not moved by a
 * regulator that is turned, by gas that is turned off, by a pulled plug (0.07 to 0.19 of a flame-out's fall), and at
 * working pressure by cold bars of up to 15 % of the chamber's inner surface (0.35 to 0.65 of it). In 24 forges drawn at
 * random, with probe lags of 2, 12 and 30 s and 1 to 10 samples a second, the median delay was 2.7, 3.3 and 6 s at forging
 * temperature, 4, 4.4 and 8 s at idle, and 2.5, 3 and 6 s soon after lighting.
 *
 * <p><b>What it cannot tell.</b> The same bars put in at idle passed for a flame-out in about one forge in six with the
 * slower probes, and more or colder stock does so anyway: it alarms, and takes it back when the temperature rises again. At
 * idle about one flame-out in eight was found late, after 20 s to a minute, because there the amplitude is known least.
 * One that happens within seconds of a large turn-down is seen late too, because the error of the predicted fall must
 * first be outgrown. A flame that goes out while the chamber sensor is blind for more than a minute is not seen, nor one
 * while the gas pressure is unknown, since gas off and flame out then look the same.
 */
public final class FlameTest {
    private static final double MICROS_PER_S = 1e6;

    /** Samples are averaged over this long: shortest reaction against noise. */
    private static final long BIN = 250_000;

    /** Bins: 60 s of horizon and 8 s of baseline at 4 Hz need 272. */
    private static final int CAPACITY = 1 << 9;

    /** Longer silence than the longest horizon: what was before cannot be compared. */
    private static final long FORGET = 60_000_000;

    private static final double[] HORIZONS_S = {2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 24, 40, 60};
    private static final double STEP_S = 0.125;
    private static final int STEPS = 1 + (int) (60 / STEP_S);
    private static final double BASELINE_S = 8;
    private static final int FEWEST_IN_BASELINE = 4;

    private static final double SHORT_THRESHOLD = 0.82;
    private static final double LONG_THRESHOLD = 0.58;
    /** So long after lighting the forge counts as just lit, µs. */
    private static final long YOUNG = 120_000_000;

    private static final double YOUNG_RISE_K = 100;
    private static final double YOUNG_FALL = 0.5;
    /** Part of the predicted effect of a turned regulator that may be wrong. */
    private static final double PREDICTION_ERROR = 0.4;

    /** A change of flow by this part teaches how the forge answers, for so long. */
    private static final double TEACHING_CHANGE = 0.15;

    private static final double TEACHING_S = 45;

    private static final double RISE_CREDIT = 0.6;
    private static final double LEAST_FALL_K = 5;
    private static final double SIGMAS = 4;
    /** A fall must be seen in this many bins one after the other: one spike is not a flame-out. */
    private static final int PERSISTENCE = 2;

    /** Below this many deviations the fall of a flame-out itself is too small to be measured to a tenth. */
    private static final double CLARITY = 10;

    private static final double NOISE_FLOOR_K = 0.15;

    /** Flue gas per kg of fuel with the air that propane needs, 16.6 kg, at 1,250 J/(kg K): J/(kg K). */
    private static final double FLUE_CAPACITY = 16.6 * 1250;

    private static final double COLD_K = 300;
    private static final double CELSIUS_ZERO_K = 273.15;
    private static final double STEFAN_BOLTZMANN = 5.670374419e-8;
    /** Convection between gas and a thin probe, W/(m² K): common practice, no source. */
    private static final double PROBE_CONVECTION = 100;

    private static final double PROBE_EMISSIVITY = 0.8;
    /** Convection between flame and lining, W/(m² K), and emissivity of the gas: common practice, no source. */
    private static final double GAS_CONVECTION = 40;

    private static final double GAS_EMISSIVITY = 0.18;

    private static final double WITNESS_BRIGHT = 0.5;
    private static final double WITNESS_DARK = 0.2;
    private static final long WITNESS_DWELL = 1_000_000;
    /** Above this the glow of the lining alone can light up an optical witness, °C. */
    private static final double GLOW_C = 600;

    private final FlameChamber chamber;
    private final double riseCredit;
    private final HeatResponse response;
    private final HeatCalibration calibration = new HeatCalibration();
    /** Answer to a unit step of each part after so many {@link #STEP_S}. */
    private final double[] gasStep = new double[STEPS];

    private final double[] wallStep = new double[STEPS];

    private final long[] times = new long[CAPACITY];
    private final double[] temperatures = new double[CAPACITY];
    private final double[] flows = new double[CAPACITY];
    private final double[] gasForces = new double[CAPACITY];
    private final double[] wallForces = new double[CAPACITY];
    private final double[] gasParts = new double[CAPACITY];
    private final double[] wallParts = new double[CAPACITY];
    private final double[] responses = new double[CAPACITY * HeatResponse.stateSize()];
    private int newest = -1;
    private int size;

    private long binStart = Long.MIN_VALUE;
    private double binTime;
    private double binSum;
    private int binCount;

    private FlameVerdict verdict = FlameVerdict.NO_GAS;
    private boolean gasEverSeen;
    private boolean adopted;
    private long gasOnAt;
    private long gasSeenAt = Long.MIN_VALUE;
    private double flowKgPerS;
    private double lowestK = Double.NaN;
    private long lowestAt;
    private double noiseK = 1;
    private double flutterK = 1;
    private int fallsSeen;
    private int risesSeen;
    private double gasDrive;
    private double wallFlux;
    private double steadyFlow;
    private double teachingLeftS;
    private long outSince;
    private long litAt = Long.MIN_VALUE / 2;
    private double litFrom;
    private double highestHeading = Double.NaN;
    private double flowAtHighest;
    private double fallRatio;
    private double slope;
    private double slopeVariance;
    private double scatterK;
    private long darkSince = Long.MAX_VALUE;
    private long brightSince = Long.MAX_VALUE;

    public FlameTest(FlameChamber chamber) {
        this.chamber = chamber;
        this.riseCredit = RISE_CREDIT * chamber.probeLagS() / (chamber.probeLagS() + 10);
        this.response = new HeatResponse(chamber.effusivityWs05PerM2K(), chamber.probeLagS());
        HeatResponse unit = new HeatResponse(chamber.effusivityWs05PerM2K(), chamber.probeLagS());
        for (int i = 1; i < gasStep.length; i++) {
            unit.step(STEP_S, 1, 1);
            gasStep[i] = unit.gas();
            wallStep[i] = unit.wall();
        }
    }

    /**
     * Gas flows, or not; at every good pressure.
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
                lowestK = Double.NaN;
            }
        } else {
            verdict = FlameVerdict.NO_GAS;
            fallsSeen = 0;
        }
        gasEverSeen = true;
    }

    /** A flame witness's word, 0 (dark) to 1 (burning). */
    public void witness(long atMicros, double value) {
        brightSince = value >= WITNESS_BRIGHT ? Math.min(brightSince, atMicros) : Long.MAX_VALUE;
        darkSince = value <= WITNESS_DARK ? Math.min(darkSince, atMicros) : Long.MAX_VALUE;
    }

    /** The witness has gone. */
    public void noWitness() {
        brightSince = Long.MAX_VALUE;
        darkSince = Long.MAX_VALUE;
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
        binSum += celsius;
        binCount++;
        // A slow source has one sample a bin: waiting for the next to close it would cost a whole interval.
        if (size > 0 && atMicros - times[newest] >= 2 * BIN) {
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

    /** The present fall over that of a flame-out, at the horizon where it is greatest; about 1 in a flame-out. */
    public double fallRatio() {
        return fallRatio;
    }

    private int index(int back) {
        return (newest - back) & (CAPACITY - 1);
    }

    private void closeBin() {
        long at = binStart + Math.round(binTime / binCount);
        double celsius = binSum / binCount;
        binCount = 0;
        binTime = 0;
        binSum = 0;
        if (size > 0 && at - times[newest] > FORGET) {
            size = 0;
        }
        followNoise(celsius);
        push(at, celsius);
        switch (verdict) {
            case NO_GAS -> {}
            case LIGHTING -> judgeLighting(at, 4);
            // The probe creeps back towards the hot face by itself when cold air stops: ask for more.
            case OUT -> judgeLighting(at, 12);
            case BURNING -> judgeFall(at);
        }
    }

    private void followNoise(double celsius) {
        if (size < 2) {
            return;
        }
        double second = celsius - 2 * temperatures[index(0)] + temperatures[index(1)];
        // Bounded: one spike must not deafen the test.
        double square = Math.min(second * second / 6, 25 * noiseK * noiseK);
        noiseK = Math.max(NOISE_FLOOR_K, Math.sqrt(noiseK * noiseK + (square - noiseK * noiseK) * 0.02));
    }

    private void followFlutter(double unexplained) {
        double square = Math.min(unexplained * unexplained, Math.min(9 * flutterK * flutterK, 16));
        flutterK = Math.max(NOISE_FLOOR_K, Math.sqrt(flutterK * flutterK + (square - flutterK * flutterK) * 0.02));
    }

    private void push(long at, double celsius) {
        double flow = verdict == FlameVerdict.BURNING ? flowKgPerS : 0;
        if (size > 0) {
            step((at - times[newest]) / MICROS_PER_S, celsius, flow);
        }
        newest = (newest + 1) & (CAPACITY - 1);
        size = Math.min(size + 1, CAPACITY);
        times[newest] = at;
        temperatures[newest] = celsius;
        flows[newest] = flowKgPerS;
        drive(celsius, flowKgPerS, false);
        gasForces[newest] = gasDrive;
        wallForces[newest] = wallFlux;
        remember();
    }

    private void step(double seconds, double celsius, double flow) {
        drive(celsius, flow, true);
        response.step(seconds, gasDrive, wallFlux);
        if (Math.abs(flow - steadyFlow) > TEACHING_CHANGE * Math.max(flow, steadyFlow)) {
            steadyFlow = flow;
            teachingLeftS = TEACHING_S;
        }
        teachingLeftS -= seconds;
        if (verdict == FlameVerdict.BURNING) {
            boolean teaches = teachingLeftS > 0 && fallRatio < SHORT_THRESHOLD / 2;
            calibration.follow(seconds, celsius, response, noiseK, teaches);
        }
    }

    /** Gives {@link #gasDrive} and {@link #wallFlux} of a flow, less what warms {@code heated} of the fresh gas and air. */
    private void drive(double celsius, double flow, boolean heated) {
        double kelvin = celsius + CELSIUS_ZERO_K;
        double radiation = 4 * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin;
        double coupling = GAS_CONVECTION + GAS_EMISSIVITY * radiation;
        double capacity = flow * FLUE_CAPACITY / chamber.wallAreaM2();
        double heat = flow * chamber.lowerHeatingValueJPerKg() / chamber.wallAreaM2();
        if (heated) {
            heat = Math.max(0, heat - capacity * (kelvin - COLD_K));
        }
        double gasRise = heat / (capacity + coupling);
        gasDrive = gasRise * PROBE_CONVECTION / (PROBE_CONVECTION + PROBE_EMISSIVITY * radiation);
        wallFlux = gasRise * coupling;
    }

    /** Mean of the last second, or of the last bin. */
    private double level(long at) {
        double sum = temperatures[newest];
        int n = 1;
        while (n < size && times[index(n)] > at - 1_000_000) {
            sum += temperatures[index(n)];
            n++;
        }
        return sum / n;
    }

    private void judgeLighting(long at, double leastRiseK) {
        double celsius = level(at);
        if (!(lowestK < celsius - noiseK)) {
            lowestAt = at;
        }
        if (!(lowestK <= celsius)) {
            lowestK = celsius;
        }
        double rise = celsius - lowestK;
        double recent = celsius - temperatureAt(at - 1_500_000);
        boolean rises = rise >= Math.max(leastRiseK, 6 * noiseK) && recent >= Math.max(1, 2 * noiseK);
        boolean seen = brightSince != Long.MAX_VALUE && at - brightSince >= WITNESS_DWELL / 2 && celsius < GLOW_C;
        boolean wasBurning = adopted
                && celsius > 300
                && at - gasOnAt >= 10_000_000
                && size > FEWEST_IN_BASELINE
                && celsius - temperatureAt(at - 8_000_000) > -4;
        risesSeen = rises ? risesSeen + 1 : 0;
        if (risesSeen >= PERSISTENCE || seen || wasBurning) {
            risesSeen = 0;
            ignite(rises ? Math.max(lowestAt, gasOnAt) : gasOnAt);
        }
    }

    /** Newest kept temperature at or before {@code at}; the oldest when all are newer. */
    private double temperatureAt(long at) {
        int back = 0;
        while (back + 1 < size && times[index(back)] > at) {
            back++;
        }
        return temperatures[index(back)];
    }

    /** It has burned since {@code since}: the response is worked out anew from there. */
    private void ignite(long since) {
        verdict = FlameVerdict.BURNING;
        fallsSeen = 0;
        fallRatio = 0;
        if (adopted) {
            // Lit nobody knows when: as if it had burned like this for an hour.
            adopted = false;
            litAt = times[newest] - YOUNG - 1;
            drive(temperatures[newest], flowKgPerS, true);
            response.step(3600, gasDrive, wallFlux);
            size = 1;
            remember();
            calibration.anchor(temperatures[newest], response);
            return;
        }
        int back = 0;
        while (back + 1 < size && times[index(back + 1)] >= since) {
            back++;
        }
        litAt = times[index(back)];
        litFrom = temperatures[index(back)];
        highestHeading = Double.NaN;
        response.restore(responses, index(back) * HeatResponse.stateSize());
        calibration.anchor(temperatures[index(back)], response);
        int last = newest;
        for (int i = back - 1; i >= 0; i--) {
            int before = (last - i - 1) & (CAPACITY - 1);
            newest = (last - i) & (CAPACITY - 1);
            step((times[newest] - times[before]) / MICROS_PER_S, temperatures[newest], flows[newest]);
            remember();
        }
    }

    private void remember() {
        gasParts[newest] = response.gas();
        wallParts[newest] = response.wall();
        response.save(responses, newest * HeatResponse.stateSize());
    }

    private void judgeFall(long at) {
        fallRatio = 0;
        boolean falls = false;
        double gas = 0;
        double wall = 0;
        int count = 0;
        int back = 0;
        for (int h = 0; h < HORIZONS_S.length && back < size; h++) {
            long onset = at - Math.round(HORIZONS_S[h] * MICROS_PER_S);
            while (back < size && times[index(back)] > onset) {
                gas += gasForces[index(back)];
                wall += wallForces[index(back)];
                count++;
                back++;
            }
            // Gas must be known to have flowed well after the fall began, or it is the gas that was turned off.
            boolean gasConfirmed = gasSeenAt >= onset + Math.round(0.3 * HORIZONS_S[h] * MICROS_PER_S);
            if (count > 0 && gasConfirmed) {
                falls |= mayFallFrom(h, back) && fallsFrom(HORIZONS_S[h], at, onset, back, gas / count, wall / count);
            }
        }
        if (fallsSoonAfterLighting(at)) {
            falls = true;
            outSince = at;
        }
        fallsSeen = falls ? fallsSeen + 1 : 0;
        if (fallsSeen >= PERSISTENCE) {
            verdict = FlameVerdict.OUT;
            lowestK = Double.NaN;
            fallsSeen = 0;
        }
    }

    /** Whether the nearer look is worth its time: most of the time nothing falls. */
    private boolean mayFallFrom(int h, int back) {
        if (back >= size) {
            return false;
        }
        double fall = temperatures[index(back)] - temperatures[newest];
        double rise = calibration.gas() * (gasParts[newest] - gasParts[index(back)])
                + calibration.wall() * (wallParts[newest] - wallParts[index(back)]);
        // The shortest horizon also measures how much the temperature flutters.
        return h == 0 || fall + riseCredit * Math.max(0, rise) > LEAST_FALL_K / 2;
    }

    /** Fall that the loss of the heat would cause after {@code seconds}, K. */
    private double amplitude(double seconds, double gas, double wall) {
        int step = (int) Math.round(Math.max(0, seconds) / STEP_S);
        return calibration.gas() * gas * gasStep[step] + calibration.wall() * wall * wallStep[step];
    }

    private boolean fallsFrom(double horizonS, long at, long onset, int back, double gas, double wall) {
        double now = (temperatures[index(0)] + temperatures[index(1)]) / 2;
        double centre = (times[index(0)] - at + times[index(1)] - at) / 2.0;
        double end = centre;
        double measured = extrapolate(temperatures, back, onset, at, end);
        if (slope > 0) {
            // A rise is not expected to go on: it bends by itself, and its bend is not a fall.
            end = onset - at;
            measured = extrapolate(temperatures, back, onset, at, end);
        }
        if (Double.isNaN(measured)) {
            return false;
        }
        double deviation = Math.max(Math.max(noiseK, scatterK) * Math.sqrt(0.5 + slopeVariance), flutterK);
        double fall = measured - now;
        double gasFall = extrapolate(gasParts, back, onset, at, end) - (gasParts[index(0)] + gasParts[index(1)]) / 2;
        double wallFall =
                extrapolate(wallParts, back, onset, at, end) - (wallParts[index(0)] + wallParts[index(1)]) / 2;
        double explained = calibration.gas() * gasFall + calibration.wall() * wallFall;
        // A rise that was expected and did not come counts in part, and less with a fast probe, which would fall
        // itself.
        if (explained < 0) {
            explained *= riseCredit;
        }
        double unexplained = fall - explained;
        if (horizonS == HORIZONS_S[0]) {
            followFlutter(unexplained);
        }
        double since = horizonS + centre / MICROS_PER_S;
        double amplitude = amplitude(since, gas, wall);
        if (flows[index(back)] < flowKgPerS) {
            // Turned up and blown out: only the heat from before can go missing.
            amplitude = Math.min(amplitude, amplitude(since, gasForces[index(back)], wallForces[index(back)]));
        }
        if (unexplained < LEAST_FALL_K
                || unexplained < SIGMAS * deviation
                || amplitude < Math.max(LEAST_FALL_K, CLARITY * deviation)) {
            return false;
        }
        double sure = unexplained - PREDICTION_ERROR * Math.max(0, explained) - deviation;
        double ratio = sure / amplitude;
        fallRatio = Math.max(fallRatio, ratio);
        if (ratio >= threshold(horizonS) * witnessFactor(at)) {
            outSince = onset;
            return true;
        }
        return false;
    }

    /** Between the 0.65 of rated stock and the whole; later the stock is warmer and the amplitude less blurred by noise. */
    private static double threshold(double horizonS) {
        double doublings = Math.max(0, Math.log(horizonS / 4) / Math.log(2));
        return Math.max(LONG_THRESHOLD, SHORT_THRESHOLD - 0.06 * doublings);
    }

    /**
     * Soon after lighting nothing is steady and the probe may still rise when the flame is gone, but what the probe is
     * heading for, its temperature corrected for lag, then falls back by more than half of what lighting gave.
     */
    private boolean fallsSoonAfterLighting(long at) {
        if (at - litAt > YOUNG) {
            return false;
        }
        double heading = extrapolate(temperatures, 0, at, at, 0) + chamber.probeLagS() * slope;
        if (Double.isNaN(heading) || times[index(3)] < litAt) {
            return false;
        }
        if (!(heading < highestHeading)) {
            highestHeading = heading;
            flowAtHighest = flowKgPerS;
        }
        double rise = highestHeading - litFrom;
        return rise >= YOUNG_RISE_K
                && gasSeenAt >= at - BIN * 4
                && flowKgPerS >= 0.8 * flowAtHighest
                && heading - litFrom < (1 - YOUNG_FALL) * rise;
    }

    /** A dark witness makes a smaller fall enough; a bright one asks for more, but glowing walls can fool it. */
    private double witnessFactor(long at) {
        if (darkSince != Long.MAX_VALUE && at - darkSince >= WITNESS_DWELL) {
            return 0.35;
        }
        return brightSince != Long.MAX_VALUE ? 1.15 : 1;
    }

    /** The straight line through the baseline before {@code onset}, at {@code centre} µs from {@code at}; NaN if short. */
    private double extrapolate(double[] values, int back, long onset, long at, double centre) {
        long from = onset - Math.round(BASELINE_S * MICROS_PER_S);
        int n = 0;
        double sumT = 0;
        double sumY = 0;
        double sumTT = 0;
        double sumTY = 0;
        double sumYY = 0;
        for (int i = back; i < size && times[index(i)] >= from; i++) {
            double t = (times[index(i)] - at) / MICROS_PER_S;
            double y = values[index(i)] - values[index(back)];
            n++;
            sumT += t;
            sumY += y;
            sumTT += t * t;
            sumTY += t * y;
            sumYY += y * y;
        }
        if (n < FEWEST_IN_BASELINE) {
            return Double.NaN;
        }
        double sxx = sumTT - sumT * sumT / n;
        double slopeTo = centre / MICROS_PER_S - sumT / n;
        slopeVariance = 1.0 / n + slopeTo * slopeTo / sxx;
        slope = (sumTY - sumT * sumY / n) / sxx;
        double squares = sumYY - sumY * sumY / n - slope * slope * sxx;
        scatterK = Math.sqrt(Math.max(0, squares) / (n - 2));
        return values[index(back)] + sumY / n + slope * slopeTo;
    }
}
