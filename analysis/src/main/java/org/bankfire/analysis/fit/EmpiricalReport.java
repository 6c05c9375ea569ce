package org.bankfire.analysis.fit;

import java.util.List;

/**
 * The empirical fits of one stretch.
 *
 * @param fits the best first: those with their parameters told apart before those without, then by AICc
 * @param cautions what the best cannot tell
 */
public record EmpiricalReport(List<EmpiricalFit> fits, List<Caution> cautions) {
    public EmpiricalReport {
        fits = List.copyOf(fits);
        cautions = List.copyOf(cautions);
    }

    /** The fit chosen. */
    public EmpiricalFit best() {
        return fits.get(0);
    }

    /** Root mean square of its residuals, K. */
    public double rmsResidualK() {
        return best().result().residuals().rms();
    }
}
