package org.bankfire.analysis.steady;

import java.util.Locale;
import org.bankfire.analysis.fit.StudentT;

/**
 * Judges whether a chamber is steady, moves, or cannot be told yet, reading by reading.
 *
 * <p>The test is one of equivalence: two one-sided tests at 2.5 %, which is to ask whether the slope's 95 % interval lies
 * within the band (D. J. Schuirmann, <i>Journal of Pharmacokinetics and Biopharmaceutics</i> 15, 1987, from memory). That no
 * slope was found is no proof that there is none: noisy readings give "cannot tell", not "steady". The slope and its error are
 * those of {@link CorrelatedLine}, with Student's t. To its error a converter's step q adds 1.5 q/T/√3, the standard deviation
 * when the largest slope 1.5 q/T that rounding by half a step can feign over a window T is as likely as none (JCGM 100, 4.3.7);
 * q is at least {@link #LEAST_STEP_K}.
 *
 * <p>Windows end at the newest reading and last one to ten minutes. They are lengthened for as long as there is a slope that
 * lies in all of their intervals, so that a bend shortens them and a straight stretch lengthens them (intersection of
 * confidence intervals: A. Goldenshluger and A. Nemirovski, <i>Mathematical Methods of Statistics</i> 6, 1997, from memory),
 * and only while that makes the interval no wider. Steady needs two minutes or more of window, an end of the window that does not bend out of the band, and all that for a
 * minute: a turning point passes sooner. A source that reads less often than every five seconds needs as many readings.
 *
 * <p>It does not chatter: steady ends when the whole interval has been outside of the band for ten seconds, or has straddled
 * its edge for five minutes; moving ends when it has not been outside for a minute. Dwells are common practice, no source.
 *
 * <p>Times are microseconds of one line of event time. Work: eight windows of at most 120 blocks each five seconds.
 */
public final class SteadyTest {
    /**
     * The usual band, K/min. Common practice, no source: within it the chamber moves less in the two minutes between looks
     * than a class 1 thermocouple is uncertain by at 1100 °C (0.4 %, IEC 60584-1), and it is the narrowest that readings with
     * a noise of 1 K over some seconds can be held to after two minutes.
     */
    public static final double USUAL_BAND_K_PER_MIN = 2;

    /** Blocks of the windows that are tried, shortest first. */
    private static final int[] WINDOWS = {12, 18, 24, 36, 48, 60, 84, BlockMeans.CAPACITY};

    private static final int FEWEST_FOR_STEADY = 24;

    /** A common converter's code, K: readings that repeat one code are not exact. */
    static final double LEAST_STEP_K = 0.25;

    private static final double ROUNDING_SLOPE = 1.5;

    /** A longer window's interval is narrower by a third, unless a bend is in it; chance may take that back and a little more. */
    private static final double WIDER = 1.2;

    /** Fewer are not told apart: a bend that is taken for slow noise leaves none, and its error is large as it is. */
    private static final double LEAST_FREEDOM = 3;

    private static final long STEADY_DWELL = 60_000_000;
    private static final long MOVING_DWELL = 10_000_000;
    private static final long NOT_MOVING_DWELL = 60_000_000;
    private static final long UNDECIDED_DWELL = 300_000_000;

    /** A silence this long may hide a touch of the regulator and its end. */
    private static final long FORGET = 120_000_000;

    private static final long NEVER = Long.MAX_VALUE;
    private static final double MICROS_PER_S = 1e6;
    private static final double S_PER_MIN = 60;

    private final double bandKPerMin;
    private final BlockMeans blocks = new BlockMeans();
    private final CorrelatedLine line = new CorrelatedLine();

    private Steadiness.State state = Steadiness.State.CANNOT_TELL;
    private double slopeKPerMin = Double.NaN;
    private double halfWidthKPerMin = Double.NaN;
    private double endSlopeKPerMin = Double.NaN;
    private int window;
    private double candidateSlope;
    private double candidateHalfWidth;
    private long since = NEVER;
    private long insideSince = NEVER;
    private long insideMiddle = NEVER;
    private long outsideSince = NEVER;
    private long notOutsideSince = NEVER;
    private long notInsideSince = NEVER;

    /** A test against ± {@code bandKPerMin}, K/min, above 0. */
    public SteadyTest(double bandKPerMin) {
        if (!(bandKPerMin > 0) || Double.isInfinite(bandKPerMin)) {
            throw new IllegalArgumentException("band " + bandKPerMin + " K/min; allowed is any above 0");
        }
        this.bandKPerMin = bandKPerMin;
    }

    /** Takes a chamber temperature, °C or K, measured at or after the last one. */
    public void add(long atMicros, double temperature) {
        if (!blocks.isEmpty() && atMicros - blocks.last() > FORGET) {
            clear();
        }
        if (blocks.add(atMicros, temperature)) {
            choose();
            judge(blocks.lastClosed());
        }
    }

    /** Forgets all: what was before says nothing about what comes. */
    public void clear() {
        blocks.clear();
        state = Steadiness.State.CANNOT_TELL;
        slopeKPerMin = Double.NaN;
        halfWidthKPerMin = Double.NaN;
        window = 0;
        since = NEVER;
        insideSince = NEVER;
        outsideSince = NEVER;
        notOutsideSince = NEVER;
        notInsideSince = NEVER;
    }

    public Steadiness.State state() {
        return state;
    }

    public boolean isSteady() {
        return state == Steadiness.State.STEADY;
    }

    /** What can be said at a time, µs, not before the last reading. */
    public Steadiness at(long nowMicros) {
        boolean open = state == Steadiness.State.CANNOT_TELL;
        double tellsInS = open ? tellsInS() : Double.NaN;
        return new Steadiness(
                state,
                slopeKPerMin,
                halfWidthKPerMin,
                window == 0 ? Double.NaN : blocks.spanS(window),
                bandKPerMin,
                isSteady() ? Math.max(nowMicros - since, 0) / MICROS_PER_S : Double.NaN,
                tellsInS,
                open ? wouldTell(tellsInS) : "");
    }

    /** The longest window that agrees with all shorter ones and is no wider for a bend; long enough for steady if any is. */
    private void choose() {
        window = 0;
        slopeKPerMin = Double.NaN;
        halfWidthKPerMin = Double.NaN;
        double low = Double.NEGATIVE_INFINITY;
        double high = Double.POSITIVE_INFINITY;
        for (int count : WINDOWS) {
            if (count > blocks.size() || !measure(count)) {
                return;
            }
            low = Math.max(low, candidateSlope - candidateHalfWidth);
            high = Math.min(high, candidateSlope + candidateHalfWidth);
            if (low > high) {
                return;
            }
            boolean longEnough = window == 0 || (count >= FEWEST_FOR_STEADY && window < FEWEST_FOR_STEADY);
            if (longEnough || candidateHalfWidth <= WIDER * halfWidthKPerMin) {
                take(count);
            }
        }
    }

    private void take(int count) {
        window = count;
        slopeKPerMin = candidateSlope;
        halfWidthKPerMin = candidateHalfWidth;
        endSlopeKPerMin = line.endSlope() * S_PER_MIN;
    }

    private boolean measure(int count) {
        if (!line.fit(blocks.timesS, blocks.means, blocks.size() - count, count)) {
            return false;
        }
        double step = blocks.smallestStep();
        double q = Double.isInfinite(step) ? LEAST_STEP_K : Math.max(step, LEAST_STEP_K);
        double rounding = ROUNDING_SLOPE * q / blocks.spanS(count) / Math.sqrt(3);
        candidateSlope = line.slope() * S_PER_MIN;
        candidateHalfWidth = StudentT.twoSided95(Math.max(line.degreesOfFreedom(), LEAST_FREEDOM))
                * Math.hypot(line.standardError(), rounding)
                * S_PER_MIN;
        return true;
    }

    private void judge(long now) {
        boolean inside = window >= FEWEST_FOR_STEADY
                && Math.abs(slopeKPerMin) + halfWidthKPerMin <= bandKPerMin
                && (isSteady() || Math.abs(endSlopeKPerMin) <= bandKPerMin);
        boolean outside = window > 0 && Math.abs(slopeKPerMin) - halfWidthKPerMin > bandKPerMin;
        if (inside && insideSince == NEVER) {
            insideMiddle = blocks.middle(window);
        }
        insideSince = inside ? Math.min(insideSince, now) : NEVER;
        notInsideSince = inside ? NEVER : Math.min(notInsideSince, now);
        outsideSince = outside ? Math.min(outsideSince, now) : NEVER;
        notOutsideSince = outside ? NEVER : Math.min(notOutsideSince, now);
        if (lasts(insideSince, now, STEADY_DWELL) && !isSteady()) {
            state = Steadiness.State.STEADY;
            // A window's slope is that of its middle.
            since = insideMiddle;
        } else if (lasts(outsideSince, now, MOVING_DWELL)) {
            state = Steadiness.State.MOVING;
        } else if (isSteady()
                ? lasts(notInsideSince, now, UNDECIDED_DWELL)
                : lasts(notOutsideSince, now, NOT_MOVING_DWELL)) {
            state = Steadiness.State.CANNOT_TELL;
        }
    }

    private static boolean lasts(long since, long now, long dwell) {
        return since != NEVER && now - since >= dwell;
    }

    private double tellsInS() {
        double dwellS = STEADY_DWELL / MICROS_PER_S;
        if (insideSince != NEVER) {
            return Math.max(dwellS - (blocks.lastClosed() - insideSince) / MICROS_PER_S, 0);
        }
        int size = blocks.size();
        double blockS = size < 2 ? BlockMeans.BLOCK_S : blocks.spanS(size) / size;
        if (size < FEWEST_FOR_STEADY) {
            return (FEWEST_FOR_STEADY - size) * blockS + dwellS;
        }
        double blocksNeeded = blocksNeeded();
        return blocksNeeded > BlockMeans.CAPACITY
                ? Double.NaN
                : Math.max(blocksNeeded - window, FEWEST_FOR_STEADY - window) * blockS + dwellS;
    }

    // The half width goes with the length of the window to the power −3/2.
    private double blocksNeeded() {
        double room = bandKPerMin - Math.abs(slopeKPerMin);
        return window > 0 && room > 0
                ? window * Math.pow(Math.max(halfWidthKPerMin / room, 1), 2.0 / 3)
                : Double.POSITIVE_INFINITY;
    }

    private String wouldTell(double tellsInS) {
        if (!Double.isNaN(tellsInS)) {
            return format("Some %.0f s more of readings like these would tell.", 10 * Math.ceil(tellsInS / 10));
        }
        if (window == 0) {
            return "The noise of the last minutes hides any slope: look at the probe's wiring and the flame's flutter.";
        }
        if (Math.abs(slopeKPerMin) >= bandKPerMin) {
            return format(
                    "The slope, %+.1f ± %.1f K/min, lies about the edge of the band of ±%.1f K/min: wait until it has bent"
                            + " further.",
                    slopeKPerMin, halfWidthKPerMin, bandKPerMin);
        }
        return format(
                "The slope, %+.1f ± %.1f K/min, is too uncertain for a band of ±%.1f K/min: quieter readings or a wider band"
                        + " would tell.",
                slopeKPerMin, halfWidthKPerMin, bandKPerMin);
    }

    private static String format(String pattern, Object... values) {
        return String.format(Locale.ROOT, pattern, values);
    }
}
