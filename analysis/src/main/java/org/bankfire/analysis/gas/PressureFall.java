package org.bankfire.analysis.gas;

import java.util.Arrays;

/**
 * Tells a gas pressure that sags by itself from one that a hand turns down.
 *
 * <p>Readings are gathered into bins of {@value #BIN_S} s, each worth its median, so that a spike is passed over. A change
 * by more than {@link #HAND_SHARE} of the pressure from one bin to the next, or twice that within three, beyond what noise
 * explains, is a hand: what was set before counts no longer, and {@link #SETTLE_S} are left for the regulator's droop. The
 * set pressure is then the highest mean of half a minute. The pressure sags when it has lost {@link
 * SaggingPressure#SAG_SHARE} of it and has fallen through each of the last eight half minutes, clearly above noise and by
 * {@link #LEAST_RATE_PER_MIN} at least. A pressure that stands still, or drifts more slowly as a transducer does while it
 * warms, is the new set pressure.
 *
 * <p>What this cannot tell: a hand that turns for three minutes and more without a stop looks like a sag, and a cylinder
 * that loses 16 % of the set pressure a minute looks like a hand. Thresholds are common practice, no source.
 *
 * <p>Times are µs of one line of event time. Nothing is allocated after construction.
 */
public final class PressureFall {
    /** Width of a bin, s. */
    static final int BIN_S = 5;
    /** Change over the pressure, within one bin, that only a hand makes. */
    public static final double HAND_SHARE = 0.02;
    /** Left to the regulator after a hand or after gas on, s. */
    public static final double SETTLE_S = 60;
    /** Least loss of the set pressure a minute that is called a sag. */
    public static final double LEAST_RATE_PER_MIN = 0.003;

    private static final long BIN = BIN_S * 1_000_000L;
    private static final long SETTLE = Math.round(SETTLE_S * 1e6);
    /** Bins of the window that is judged: four minutes. */
    private static final int WINDOW = 48;

    private static final int BLOCK = 6;
    private static final int BLOCKS = WINDOW / BLOCK;
    private static final double BINS_PER_MIN = 60.0 / BIN_S;
    /** Most readings of a bin that are kept for its median: 5 s at 10 Hz, twice. */
    private static final int MOST_IN_BIN = 100;
    /** Silence from which the window begins anew, µs. */
    private static final long GAP = 3 * BIN;
    /** Loss that counts as recovered: half of what raises. */
    private static final double RECOVERED_SHARE = SaggingPressure.SAG_SHARE / 2;
    /** Bins without a fall after which a sag has come to rest: ten minutes. */
    private static final int AT_REST = 120;
    /** Slope that passes for constant, of the set pressure a minute: a transducer that warms. */
    private static final double FLAT_PER_MIN = 0.0015;
    /** Part of the mean fall of a half minute that each of them must reach. */
    private static final double STEADY_FALL = 0.5;

    private static final double NOISE_MEMORY = 0.1;
    /** Mean absolute difference of two normal deviates over their standard deviation: 2 / √π. */
    private static final double DIFFERENCE_OVER_SIGMA = 1.128;
    /** Standard error of a median over that of a mean, normal distribution: √(π / 2). */
    private static final double MEDIAN_OVER_MEAN = 1.2533;

    private final double[] inBin = new double[MOST_IN_BIN];
    private int count;
    private double previousPa;
    private double differences;
    private long binEnd;
    private long lastAt;
    private boolean running;

    private final double[] bins = new double[WINDOW];
    private int filled;
    private int newest;
    private long settledAt;
    private double noisePa = Double.NaN;
    private double setPa = Double.NaN;
    private double nowPa = Double.NaN;
    private boolean sagging;
    private int resting;

    private double slopePaPerMin = Double.NaN;
    private double slopeErrorPaPerMin = Double.NaN;
    private double lateSlopePaPerMin = Double.NaN;
    private double lateErrorPaPerMin = Double.NaN;

    /** Forgets everything: gas is off. */
    public void reset() {
        running = false;
        noisePa = Double.NaN;
        restart(0);
    }

    /**
     * A good pressure while gas flows.
     *
     * @param atMicros not before that of the last call
     * @param gaugePa Pa gauge; a NaN is passed over
     */
    public void add(long atMicros, double gaugePa) {
        if (Double.isNaN(gaugePa)) {
            return;
        }
        if (!running) {
            running = true;
            restart(atMicros);
            beginBin(atMicros);
        } else if (atMicros - lastAt > GAP) {
            // A hand may have moved unseen: the jump to the next bin tells.
            filled = Math.min(filled, 1);
            beginBin(atMicros);
        } else if (atMicros >= binEnd) {
            endBin();
            beginBin(atMicros);
        }
        lastAt = atMicros;
        if (count < MOST_IN_BIN) {
            if (count > 0) {
                differences += Math.abs(gaugePa - previousPa);
            }
            previousPa = gaugePa;
            inBin[count++] = gaugePa;
        }
    }

    /** Whether the pressure sags by itself. */
    public boolean isSagging() {
        return sagging;
    }

    /** The pressure before it began to fall, Pa gauge; NaN while that is not known. */
    public double setPa() {
        return setPa;
    }

    /** Mean of the last half minute, Pa gauge; NaN while that is not known. */
    public double nowPa() {
        return nowPa;
    }

    /** Fall over the last four minutes, Pa/min, falling positive; NaN while there are none. */
    public double fallPaPerMin() {
        return -slopePaPerMin;
    }

    /**
     * When the pressure will be down to a level if it goes on falling as it does. The range covers twice the standard
     * errors of the slopes of the last four and of the last two minutes, a quarter less for a fall that quickens as liquid runs
     * out, and half as much again for one that slows: vapour that thins out takes 1.39 times as long to its half. That is
     * too little for a cylinder that cools, which may come to rest before: of such only {@code low} can be promised.
     *
     * @param levelPa Pa gauge
     */
    public MinutesLeft minutesTo(double levelPa) {
        if (Double.isNaN(slopePaPerMin) || Double.isNaN(nowPa) || Double.isNaN(levelPa)) {
            return MinutesLeft.UNKNOWN;
        }
        double toGoPa = nowPa - levelPa;
        if (toGoPa <= 0) {
            return new MinutesLeft(0, 0, 0);
        }
        boolean bends =
                Math.abs(lateSlopePaPerMin - slopePaPerMin) > 2 * Math.hypot(slopeErrorPaPerMin, lateErrorPaPerMin);
        double rate = -(bends ? lateSlopePaPerMin : slopePaPerMin);
        double fastest = Math.max(-slopePaPerMin + 2 * slopeErrorPaPerMin, -lateSlopePaPerMin + 2 * lateErrorPaPerMin);
        double slowest = Math.min(-slopePaPerMin - 2 * slopeErrorPaPerMin, -lateSlopePaPerMin - 2 * lateErrorPaPerMin);
        if (!(rate > 0)) {
            return MinutesLeft.UNKNOWN;
        }
        double low = toGoPa / (1.25 * Math.max(rate, fastest));
        double high = slowest > 0 ? 1.5 * toGoPa / Math.min(rate, slowest) : Double.POSITIVE_INFINITY;
        return new MinutesLeft(toGoPa / rate, low, high);
    }

    private void restart(long at) {
        settledAt = at + SETTLE;
        filled = 0;
        setPa = Double.NaN;
        nowPa = Double.NaN;
        slopePaPerMin = Double.NaN;
        sagging = false;
        resting = 0;
    }

    private void beginBin(long at) {
        binEnd = at + BIN;
        count = 0;
        differences = 0;
    }

    private void endBin() {
        Arrays.sort(inBin, 0, count);
        double medianPa = (inBin[(count - 1) / 2] + inBin[count / 2]) / 2;
        learnNoise();
        if (filled > 0 && isHand(medianPa)) {
            restart(lastAt);
        }
        newest = (newest + 1) % WINDOW;
        bins[newest] = medianPa;
        filled = Math.min(filled + 1, WINDOW);
        if (lastAt < settledAt) {
            filled = Math.min(filled, BLOCK / 2);
        } else {
            judge();
        }
    }

    /** Standard error of a bin's median, from the differences of neighbours, which a slow fall hardly touches. */
    private void learnNoise() {
        if (count < 2) {
            return;
        }
        double sigma = differences / (count - 1) / DIFFERENCE_OVER_SIGMA;
        double errorPa = MEDIAN_OVER_MEAN * sigma / Math.sqrt(count);
        noisePa = Double.isNaN(noisePa) ? errorPa : noisePa + NOISE_MEMORY * (errorPa - noisePa);
    }

    private boolean isHand(double medianPa) {
        double share = HAND_SHARE * Math.max(Math.abs(bins[newest]), Double.isNaN(setPa) ? 0 : setPa);
        double noise = Double.isNaN(noisePa) ? 0 : noisePa;
        boolean steps = Math.abs(medianPa - bins[newest]) > share + 6 * noise;
        boolean ramps = filled > 2 && Math.abs(medianPa - back(2)) > 2 * share + 6 * noise;
        return steps || ramps;
    }

    private double back(int bin) {
        return bins[(newest - bin + WINDOW) % WINDOW];
    }

    private void judge() {
        if (filled < BLOCK) {
            return;
        }
        nowPa = block(0);
        // Not by comparison with NaN: the first mean is the first set pressure.
        setPa = Double.isNaN(setPa) ? nowPa : Math.max(setPa, nowPa);
        if (filled < WINDOW) {
            return;
        }
        fit(WINDOW / 2);
        lateSlopePaPerMin = slopePaPerMin;
        lateErrorPaPerMin = slopeErrorPaPerMin;
        fit(WINDOW);
        double loss = 1 - nowPa / setPa;
        if (sagging) {
            boolean falls = -slopePaPerMin > LEAST_RATE_PER_MIN / 2 * setPa;
            resting = falls ? 0 : resting + 1;
            if (loss < RECOVERED_SHARE || resting >= AT_REST) {
                sagging = false;
                resting = 0;
                setPa = nowPa;
            }
        } else if (loss >= SaggingPressure.SAG_SHARE && isFalling()) {
            sagging = true;
        } else if (Math.abs(slopePaPerMin) < FLAT_PER_MIN * setPa) {
            setPa = nowPa;
        }
    }

    /** Whether it has fallen through every half minute of the window. */
    private boolean isFalling() {
        double meanFall = (block(BLOCKS - 1) - block(0)) / (BLOCKS - 1);
        double error = Math.sqrt(2.0 / BLOCK) * (Double.isNaN(noisePa) ? 0 : noisePa);
        double blocksPerMin = BINS_PER_MIN / BLOCK;
        if (!(meanFall * blocksPerMin > LEAST_RATE_PER_MIN * setPa && meanFall > 2 * error)
                || !(-slopePaPerMin > 3 * slopeErrorPaPerMin)) {
            return false;
        }
        for (int i = 0; i < BLOCKS - 1; i++) {
            if (block(i + 1) - block(i) < STEADY_FALL * meanFall - error) {
                return false;
            }
        }
        return true;
    }

    /** Mean of a half minute; 0 is the last. */
    private double block(int back) {
        double sum = 0;
        for (int i = 0; i < BLOCK; i++) {
            sum += back(back * BLOCK + i);
        }
        return sum / BLOCK;
    }

    /** A straight line by least squares through the newest bins, its standard error from the residuals. */
    private void fit(int n) {
        double middle = (n - 1) / 2.0;
        double sumY = 0;
        double sumTy = 0;
        for (int i = 0; i < n; i++) {
            sumY += back(i);
            sumTy += (middle - i) * back(i);
        }
        double sxx = n * ((double) n * n - 1) / 12;
        double slope = sumTy / sxx;
        double squares = 0;
        for (int i = 0; i < n; i++) {
            double residual = back(i) - sumY / n - slope * (middle - i);
            squares += residual * residual;
        }
        slopePaPerMin = slope * BINS_PER_MIN;
        slopeErrorPaPerMin = Math.sqrt(squares / (n - 2) / sxx) * BINS_PER_MIN;
    }
}
