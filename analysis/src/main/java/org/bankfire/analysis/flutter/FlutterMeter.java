package org.bankfire.analysis.flutter;

import java.util.Arrays;

/**
 * Strength of the fast part of one quantity: its root mean square above some {@value #FROM_HZ} Hz, up to half the sampling
 * rate.
 *
 * <p>Two high passes of first order one after the other take out level and slope, so that a chamber that heats does not
 * look as if it fluttered. Each window of {@link #WINDOW_S} gives one figure; the index is the median of the last {@link
 * #WINDOWS}, so a step, a spike or a bar put in counts in one window and is passed over. Noise of the sensor counts as
 * flutter: only a comparison with the same sensor's usual figure says anything.
 *
 * <p>Below two readings a second nothing of the band is left, and nothing is said. Times are µs of event time; nothing is
 * allocated after construction.
 */
public final class FlutterMeter {
    /** Lower end of the band, Hz. */
    public static final double FROM_HZ = 0.2;
    /** A window, s. */
    public static final double WINDOW_S = 5;
    /** Windows that the index is taken over: one minute. */
    public static final int WINDOWS = 12;
    /** Slowest sampling from which anything can be told, readings a second. */
    public static final double SLOWEST_HZ = 2;

    private static final double MICROS_PER_S = 1e6;
    private static final double TIME_CONSTANT_S = 1 / (2 * Math.PI * FROM_HZ);
    private static final long WINDOW = Math.round(WINDOW_S * MICROS_PER_S);
    /** Longest distance of readings within the window, µs: one that is late or lost is forgiven. */
    private static final long LONGEST_GAP = 1_600_000;
    /** Readings of a window over those of the slowest sampling: jitter and a lost line are forgiven. */
    private static final double ENOUGH = 0.85;
    /** Seconds until the high passes have forgotten how they began. */
    private static final double SETTLE_S = 5;

    private final double[] windows = new double[WINDOWS];
    private final double[] sorted = new double[WINDOWS];
    private int filled;
    private int next;
    /** Of all windows, once all are filled. */
    private double median;

    private boolean running;
    private long at;
    private long usableFrom;
    private long windowEnd;
    private int count;
    private double squares;
    private double lastValue;
    private double lastFast;
    private double lastFaster;
    private double latest = Double.NaN;

    /** Forgets everything. */
    public void reset() {
        running = false;
        filled = 0;
        latest = Double.NaN;
    }

    /**
     * A good value.
     *
     * @return whether a window was completed by it
     */
    public boolean add(long atMicros, double value) {
        if (Double.isNaN(value)) {
            return false;
        }
        long since = atMicros - at;
        if (!running || since > LONGEST_GAP || since < 0) {
            start(atMicros, value);
            return false;
        }
        at = atMicros;
        // Bilinear: whatever the sampling rate, the upper end of the band passes whole.
        double half = since / MICROS_PER_S / (2 * TIME_CONSTANT_S);
        double fast = (value - lastValue + (1 - half) * lastFast) / (1 + half);
        double faster = (fast - lastFast + (1 - half) * lastFaster) / (1 + half);
        lastValue = value;
        lastFast = fast;
        lastFaster = faster;
        boolean completed = false;
        if (atMicros >= windowEnd) {
            completed = endWindow();
            windowEnd = atMicros + WINDOW;
        }
        if (atMicros >= usableFrom) {
            squares += faster * faster;
            count++;
        }
        return completed;
    }

    /** Root mean square of the last completed window, in the unit of the values; NaN when there is none. */
    public double latest() {
        return latest;
    }

    /** Median of the last minute's windows, in the unit of the values; NaN before there is a full minute. */
    public double index() {
        return filled < WINDOWS ? Double.NaN : median;
    }

    private void start(long atMicros, double value) {
        running = true;
        at = atMicros;
        lastValue = value;
        lastFast = 0;
        lastFaster = 0;
        usableFrom = atMicros + Math.round(SETTLE_S * MICROS_PER_S);
        windowEnd = usableFrom + WINDOW;
        count = 0;
        squares = 0;
    }

    private boolean endWindow() {
        boolean enough = count >= ENOUGH * SLOWEST_HZ * WINDOW_S;
        if (enough) {
            latest = Math.sqrt(squares / count);
            windows[next] = latest;
            next = (next + 1) % WINDOWS;
            filled = Math.min(filled + 1, WINDOWS);
            System.arraycopy(windows, 0, sorted, 0, WINDOWS);
            Arrays.sort(sorted);
            median = (sorted[(WINDOWS - 1) / 2] + sorted[WINDOWS / 2]) / 2;
        } else {
            filled = 0;
            latest = Double.NaN;
        }
        count = 0;
        squares = 0;
        return enough;
    }
}
