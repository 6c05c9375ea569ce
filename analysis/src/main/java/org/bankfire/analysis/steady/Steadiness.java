package org.bankfire.analysis.steady;

import java.util.Locale;

/**
 * What can be said of whether the chamber holds its temperature. NaN stands for what is not known.
 *
 * @param state the verdict
 * @param slopeKPerMin slope over the window, K/min
 * @param halfWidthKPerMin half of its 95 % interval, K/min
 * @param windowS how long the window is, s; the slope is that of its middle
 * @param bandKPerMin slopes within ± this are called steady, K/min
 * @param steadyForS how long it has been steady, s; only while it is
 * @param tellsInS when a verdict can be expected if all goes on as it does, s; only while there is none, and unknown too where
 *     waiting does not help
 * @param wouldTell in words, what would tell; empty when there is a verdict
 */
public record Steadiness(
        State state,
        double slopeKPerMin,
        double halfWidthKPerMin,
        double windowS,
        double bandKPerMin,
        double steadyForS,
        double tellsInS,
        String wouldTell) {
    /** Verdicts. */
    public enum State {
        /** The whole interval lies within the band, and has for a minute. */
        STEADY,
        /** The whole interval lies outside of the band, on one side. */
        MOVING,
        /** The readings leave both open. */
        CANNOT_TELL;

        /** Lower-case name for wire and page. */
        public String code() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }
    }

    /** Nothing is known. */
    public static final Steadiness UNKNOWN = new Steadiness(
            State.CANNOT_TELL,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            Double.NaN,
            "There is no usable chamber temperature.");

    /** Largest slope, up or down, that the interval allows, K/min. */
    public double largestKPerMin() {
        return Math.abs(slopeKPerMin) + halfWidthKPerMin;
    }
}
