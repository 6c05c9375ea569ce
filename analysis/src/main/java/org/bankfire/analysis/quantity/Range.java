package org.bankfire.analysis.quantity;

/**
 * A closed range of a quantity in its SI unit.
 *
 * @param low smallest value allowed
 * @param high greatest value allowed, above {@code low}
 */
public record Range(double low, double high) {
    public Range {
        if (!(low < high)) {
            throw new IllegalArgumentException("range from " + low + " to " + high);
        }
    }

    /** Whether {@code value} lies inside; NaN never does. */
    public boolean contains(double value) {
        return value >= low && value <= high;
    }

    /** The value itself when it lies inside, else the end that is nearer; NaN stays NaN. */
    public double nearest(double value) {
        return Math.min(high, Math.max(low, value));
    }

    /** Refuses a value outside, naming {@code what} it is of, with its unit. */
    public void require(String what, double value) {
        if (!contains(value)) {
            throw new IllegalArgumentException(what + " is " + value + ": allowed are " + low + " to " + high);
        }
    }
}
