package org.bankfire.analysis.fit;

import org.jspecify.annotations.Nullable;

/**
 * One unknown of a problem.
 *
 * @param name as in results and messages
 * @param unit its unit; 1 for a pure number
 * @param start where the solver begins, strictly inside the bounds
 * @param scale a typical change of it, in its unit, above 0: the solver works in multiples of it
 * @param bounds where it may lie
 * @param prior what is known beforehand, or null
 */
public record FitParameter(
        String name,
        String unit,
        double start,
        double scale,
        Bounds bounds,
        @Nullable Prior prior) {
    public FitParameter {
        if (name.isBlank()) {
            throw new IllegalArgumentException("a parameter has no name");
        }
        if (!(scale > 0 && Double.isFinite(scale))) {
            throw new IllegalArgumentException("scale of " + name + " is " + scale + ": above 0 is allowed");
        }
        if (!bounds.contains(start)) {
            throw new IllegalArgumentException(
                    "start of " + name + " is " + start + " " + unit + ": allowed is strictly inside " + bounds);
        }
        if (prior instanceof Prior.LogNormal && !positive(bounds)) {
            throw new IllegalArgumentException(
                    "a log-normal prior for " + name + " needs bounds from 0 or above, not " + bounds);
        }
    }

    /** Without bounds or prior. */
    public static FitParameter of(String name, String unit, double start, double scale) {
        return new FitParameter(name, unit, start, scale, Bounds.NONE, null);
    }

    /** With these bounds. */
    public FitParameter within(Bounds allowed) {
        return new FitParameter(name, unit, start, scale, allowed, prior);
    }

    /** With this prior. */
    public FitParameter knownAs(Prior known) {
        return new FitParameter(name, unit, start, scale, bounds, known);
    }

    /** With this start. */
    public FitParameter from(double value) {
        return new FitParameter(name, unit, value, scale, bounds, prior);
    }

    private static boolean positive(Bounds bounds) {
        if (bounds instanceof Bounds.Above above) {
            return above.low() >= 0;
        }
        return bounds instanceof Bounds.Between between && between.low() >= 0;
    }
}
