package org.bankfire.analysis.thermocouple;

/**
 * Counts how long a thermocouple has been above the temperature that is suggested for it, over all burns. Times are µs of
 * one line of event time.
 */
public final class WireHours {
    /** Longest time between two readings that counts as one stretch, µs: what lies in a longer silence is not known. */
    private static final long LONGEST_GAP = 60_000_000;

    private static final double MICROS_PER_S = 1e6;
    private static final double S_PER_H = 3600;

    private final double limitC;
    private long at;
    private boolean before;
    private long aboveMicros;

    /** @param limitC suggested limit, °C; NaN when none is known, and nothing is counted then */
    public WireHours(double limitC) {
        this.limitC = limitC;
    }

    /** A good temperature of the measuring junction, °C. */
    public void add(long atMicros, double celsius) {
        boolean above = celsius > limitC;
        long since = atMicros - at;
        if (above && before && since > 0 && since <= LONGEST_GAP) {
            aboveMicros += since;
        }
        before = above;
        at = atMicros;
    }

    /** Suggested limit, °C; NaN when none is known. */
    public double limitC() {
        return limitC;
    }

    /** Time above the limit, s. */
    public double seconds() {
        return aboveMicros / MICROS_PER_S;
    }

    /** Time above the limit, h. */
    public double hours() {
        return seconds() / S_PER_H;
    }

    /** Takes up what was counted before, s; anything that is no time, 0 to a thousand years, is passed over. */
    public void setSeconds(double seconds) {
        if (seconds >= 0 && seconds < 3e10) {
            aboveMicros = Math.round(seconds * MICROS_PER_S);
        }
    }
}
