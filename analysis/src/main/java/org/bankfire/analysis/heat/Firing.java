package org.bankfire.analysis.heat;

/**
 * What the burner does.
 *
 * @param gasKgPerS gas through the jet, kg/s, 0 or more
 * @param lit whether it burns; gas that does not burn cools the chamber together with the air that it drags in
 */
public record Firing(double gasKgPerS, boolean lit) {
    /** The gas is shut. */
    public static final Firing OFF = new Firing(0, false);

    public Firing {
        if (!(gasKgPerS >= 0 && gasKgPerS < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("gas flow is " + gasKgPerS + " kg/s: it must be 0 or more");
        }
    }
}
