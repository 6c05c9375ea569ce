package org.bankfire.analysis.fit;

import org.jspecify.annotations.Nullable;

/** How much the residuals of the data weigh beside those of the priors, and each beside the others. */
public final class Weighting {
    /** All alike, as if the noise were 1. */
    static final Weighting UNIT = new Weighting(1, null);

    private final double overall;
    private final double @Nullable [] robustRoots;

    /**
     * @param overall root of the information that one unit residual carries, one over the residuals' unit
     * @param robustRoots roots of the robust weights, 0 to 1, or null when all are 1
     */
    Weighting(double overall, double @Nullable [] robustRoots) {
        this.overall = overall;
        this.robustRoots = robustRoots;
    }

    double root(int residual) {
        return robustRoots == null ? overall : overall * robustRoots[residual];
    }

    /** Fills {@code into} with {@code from}, weighed, times {@code factor}; they may be the same. */
    void apply(double[] from, double factor, double[] into) {
        double each = overall * factor;
        if (robustRoots == null) {
            for (int i = 0; i < into.length; i++) {
                into[i] = each * from[i];
            }
        } else {
            for (int i = 0; i < into.length; i++) {
                into[i] = each * robustRoots[i] * from[i];
            }
        }
    }

    double overall() {
        return overall;
    }
}
