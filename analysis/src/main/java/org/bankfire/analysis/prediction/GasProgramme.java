package org.bankfire.analysis.prediction;

import java.util.Arrays;
import org.bankfire.analysis.quantity.Range;

/** Gas pressure over time: straight lines between points, the last pressure held for ever. Immutable. */
public final class GasProgramme {
    /** Gauge pressures, Pa: nothing sucks gas back, and no hose of a forge holds more than 4 bar. */
    public static final Range GAUGE_PA = new Range(0, 4e5);
    /** A week: a longer programme is a mistake in its unit. */
    public static final double LONGEST_S = 7 * 86_400;

    private final double[] timesS;
    private final double[] gaugePa;

    private GasProgramme(double[] timesS, double[] gaugePa) {
        this.timesS = timesS;
        this.gaugePa = gaugePa;
    }

    /** One pressure for ever, Pa gauge. */
    public static GasProgramme constant(double gaugePa) {
        return of(new double[] {0}, new double[] {gaugePa});
    }

    /**
     * A programme.
     *
     * @param timesS s from gas on, from 0, none before the one before it; two alike make a step
     * @param gaugePa Pa gauge, 0 to 400 kPa, as many
     * @throws IllegalArgumentException naming row (from 1), value and what is allowed
     */
    public static GasProgramme of(double[] timesS, double[] gaugePa) {
        if (timesS.length == 0 || timesS.length != gaugePa.length) {
            throw new IllegalArgumentException(
                    timesS.length + " times for " + gaugePa.length + " pressures: one or more of each, as many");
        }
        for (int i = 0; i < timesS.length; i++) {
            double least = i == 0 ? 0 : timesS[i - 1];
            if (!(timesS[i] >= least && timesS[i] <= LONGEST_S)) {
                throw new IllegalArgumentException(
                        "row " + (i + 1) + ": tS is " + timesS[i] + ": allowed are " + least + " to " + LONGEST_S);
            }
            GAUGE_PA.require("row " + (i + 1) + ": gasPa", gaugePa[i]);
        }
        return new GasProgramme(timesS.clone(), gaugePa.clone());
    }

    /** Gauge pressure at a time, Pa; before the first point that of the first point, at a step the later one. */
    public double gaugePaAt(double timeS) {
        int next = nextAfter(timeS);
        if (next == 0) {
            return gaugePa[0];
        }
        if (next == timesS.length) {
            return gaugePa[next - 1];
        }
        double part = (timeS - timesS[next - 1]) / (timesS[next] - timesS[next - 1]);
        return gaugePa[next - 1] + part * (gaugePa[next] - gaugePa[next - 1]);
    }

    /** The first point after a time, s; infinity when there is none. */
    public double nextPointS(double timeS) {
        int next = nextAfter(timeS);
        return next < timesS.length ? timesS[next] : Double.POSITIVE_INFINITY;
    }

    /** Whether the pressure changes between a time and the next point. */
    public boolean ramps(double timeS) {
        int next = nextAfter(timeS);
        return next > 0 && next < timesS.length && gaugePa[next] != gaugePa[next - 1];
    }

    /** Time of the last point, s. */
    public double endS() {
        return timesS[timesS.length - 1];
    }

    /** The pressure that is held after the last point, Pa gauge. */
    public double lastGaugePa() {
        return gaugePa[gaugePa.length - 1];
    }

    private int nextAfter(double timeS) {
        int found = Arrays.binarySearch(timesS, timeS);
        int next = found < 0 ? -found - 1 : found + 1;
        // Of equal times the search may find any.
        while (next < timesS.length && timesS[next] <= timeS) {
            next++;
        }
        return next;
    }
}
