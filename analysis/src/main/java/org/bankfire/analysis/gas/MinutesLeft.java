package org.bankfire.analysis.gas;

/**
 * How long until a falling pressure is down to a level.
 *
 * @param best min, 0 or more; NaN when it cannot be told
 * @param low least that is likely, min
 * @param high most that is likely, min; infinite when it may never get there
 */
public record MinutesLeft(double best, double low, double high) {
    /** Nothing can be told. */
    public static final MinutesLeft UNKNOWN = new MinutesLeft(Double.NaN, Double.NaN, Double.NaN);
}
