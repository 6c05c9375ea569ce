package org.bankfire.analysis.burn;

/**
 * Slope of a noisy temperature: a straight line by least squares over the last 20 to 60 s, with a standard error that
 * allows for correlated noise.
 *
 * <p>The window is 60 s long while a straight line describes it, because a long window is quiet; it shrinks to 20 s when
 * the slopes of its last 20 s and of all of it differ by more than three standard errors, because a bent curve then
 * makes the long slope stale.
 *
 * <p>Standard error: s / √Sxx with s² the residual variance, times √((1 + r) / (1 − r)) for a lag-one autocorrelation r
 * of the residuals (first-order autoregressive noise; Draper and Smith, Applied Regression Analysis, from memory). s is
 * taken as no less than {@link #NOISE_FLOOR_K}, since a coarse converter that repeats one code is not exact.
 */
public final class TemperatureTrend {
    /** Longest window, s. */
    public static final double LONG_WINDOW_S = 60;
    /** Shortest window, s. */
    public static final double SHORT_WINDOW_S = 20;

    /** A quarter-kelvin converter's code, uniformly distributed: 0.25 / √12 K. */
    private static final double NOISE_FLOOR_K = 0.07;

    /** Samples closer than this are thinned: at 10 Hz none is, and a faster source cannot outgrow the ring. */
    private static final long SPACING_MICROS = 90_000;

    /** 60 s / 90 ms, rounded up. */
    private static final int CAPACITY = 1 << 10;

    /** The slope is worked out anew at most this often; it cannot change much faster. */
    private static final long REFIT_MICROS = 500_000;

    /** A silence as long as the short window: what was before says nothing about now. */
    private static final long FORGET_MICROS = 20_000_000;

    private static final int FEWEST = 5;
    private static final double MICROS_PER_S = 1e6;
    private static final double S_PER_MIN = 60;

    private final long[] times = new long[CAPACITY];
    private final double[] temperatures = new double[CAPACITY];
    private int newest = -1;
    private int size;
    private long lastFit = Long.MIN_VALUE;
    private double slopeKPerS = Double.NaN;
    private double standardErrorKPerS = Double.NaN;
    private double fitSlope;
    private double fitError;

    /** Takes a sample; {@code atMicros} must not be before that of the last one. */
    public void add(long atMicros, double temperature) {
        if (size > 0) {
            long since = atMicros - times[newest];
            if (since > FORGET_MICROS) {
                clear();
            } else if (since < SPACING_MICROS) {
                return;
            }
        }
        newest = (newest + 1) & (CAPACITY - 1);
        times[newest] = atMicros;
        temperatures[newest] = temperature;
        size = Math.min(size + 1, CAPACITY);
        if (lastFit == Long.MIN_VALUE || atMicros - lastFit >= REFIT_MICROS) {
            lastFit = atMicros;
            refit(atMicros);
        }
    }

    /** Forgets everything. */
    public void clear() {
        size = 0;
        newest = -1;
        lastFit = Long.MIN_VALUE;
        slopeKPerS = Double.NaN;
        standardErrorKPerS = Double.NaN;
    }

    /** Slope, K/min; NaN before there are 10 s of samples. */
    public double rateKPerMin() {
        return slopeKPerS * S_PER_MIN;
    }

    /** Standard error of the slope, K/min. */
    public double standardErrorKPerMin() {
        return standardErrorKPerS * S_PER_MIN;
    }

    private void refit(long now) {
        int oldest = index(size - 1);
        // Half a short window: from then on the error says honestly how little is known.
        if (size < FEWEST || now - times[oldest] < SHORT_WINDOW_S / 2 * MICROS_PER_S) {
            return;
        }
        fit(now, LONG_WINDOW_S);
        double longSlope = fitSlope;
        double longError = fitError;
        boolean hasShort = fit(now, SHORT_WINDOW_S);
        if (hasShort && Math.abs(fitSlope - longSlope) > 3 * Math.hypot(fitError, longError)) {
            slopeKPerS = fitSlope;
            standardErrorKPerS = fitError;
        } else {
            slopeKPerS = longSlope;
            standardErrorKPerS = longError;
        }
    }

    private int index(int back) {
        return (newest - back) & (CAPACITY - 1);
    }

    private boolean fit(long now, double windowS) {
        long from = now - Math.round(windowS * MICROS_PER_S);
        double base = temperatures[newest];
        int n = 0;
        double sumT = 0;
        double sumY = 0;
        double sumTT = 0;
        double sumTY = 0;
        for (; n < size && times[index(n)] >= from; n++) {
            double t = (times[index(n)] - now) / MICROS_PER_S;
            double y = temperatures[index(n)] - base;
            sumT += t;
            sumY += y;
            sumTT += t * t;
            sumTY += t * y;
        }
        double sxx = sumTT - sumT * sumT / n;
        if (n < FEWEST || !(sxx > 0)) {
            return false;
        }
        double slope = (sumTY - sumT * sumY / n) / sxx;
        double intercept = (sumY - slope * sumT) / n;
        double squares = 0;
        double products = 0;
        double previous = 0;
        for (int i = 0; i < n; i++) {
            double t = (times[index(i)] - now) / MICROS_PER_S;
            double residual = temperatures[index(i)] - base - intercept - slope * t;
            squares += residual * residual;
            products += residual * previous;
            previous = residual;
        }
        // 0.95 bounds the inflation at √39 when a bent curve makes the residuals one long wave.
        double r = squares > 0 ? Math.min(0.95, Math.max(0, products / squares)) : 0;
        double s = Math.max(NOISE_FLOOR_K, Math.sqrt(squares / (n - 2)));
        fitSlope = slope;
        fitError = s / Math.sqrt(sxx) * Math.sqrt((1 + r) / (1 - r));
        return true;
    }
}
