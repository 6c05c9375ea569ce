package org.bankfire.analysis.flutter;

import java.util.Arrays;

/**
 * Holds the flutter of one quantity against what is usual for it. The baseline is the median of the windows of {@link
 * #LEARNING_S}, learnt anew whenever {@link #learn} is called: after lighting, after a change of the settings, after a hand
 * on the regulator. The spread of those windows says how much the baseline itself wanders. Factors are common practice, no
 * source.
 */
public final class FlutterWatch {
    /** How long the baseline is learnt, s. */
    public static final double LEARNING_S = 180;
    /** Flutter over the baseline from which it is called unsteady. */
    public static final double RAISE = 2.5;
    /** Flutter over the baseline below which it is called steady again. */
    public static final double CLEAR = 1.7;

    private static final int LEARNT = (int) (LEARNING_S / FlutterMeter.WINDOW_S);
    /** Median absolute deviations beyond the baseline: four standard deviations, at 1.48 each. */
    private static final double SPREADS = 6;

    private final FlutterMeter meter = new FlutterMeter();
    private final double floor;
    private final double[] learning = new double[LEARNT];
    private int learnt;
    private double baseline = Double.NaN;
    private double spread;
    private boolean unsteady;

    /** @param floor flutter that is never remarkable, in the unit of the values: the sensor's resolution */
    public FlutterWatch(double floor) {
        this.floor = floor;
    }

    /** Forgets the baseline and learns it from now on. */
    public void learn() {
        meter.reset();
        learnt = 0;
        baseline = Double.NaN;
        unsteady = false;
    }

    /** A good value. */
    public void add(long atMicros, double value) {
        if (!meter.add(atMicros, value)) {
            return;
        }
        if (learnt < LEARNT) {
            learning[learnt++] = meter.latest();
            if (learnt == LEARNT) {
                take();
            }
            return;
        }
        double index = meter.index();
        if (!Double.isNaN(index)) {
            unsteady = index > (unsteady ? CLEAR * baseline : Math.max(RAISE * baseline, baseline + SPREADS * spread));
        }
    }

    /** Whether it flutters clearly more than is usual. */
    public boolean isUnsteady() {
        return unsteady;
    }

    /** Flutter over the last minute, in the unit of the values; NaN when it cannot be told. */
    public double index() {
        return meter.index();
    }

    /** What is usual, in the unit of the values, no less than the floor; NaN while it is being learnt. */
    public double baseline() {
        return baseline;
    }

    private void take() {
        Arrays.sort(learning);
        double median = middle();
        for (int i = 0; i < LEARNT; i++) {
            learning[i] = Math.abs(learning[i] - median);
        }
        Arrays.sort(learning);
        spread = middle();
        baseline = Math.max(floor, median);
    }

    private double middle() {
        return (learning[(LEARNT - 1) / 2] + learning[LEARNT / 2]) / 2;
    }
}
