package org.bankfire.analysis.fit;

/**
 * Model less measurement, in the order of time: the diagnostics take neighbours for neighbours in time. All residuals have
 * the same expected spread; divide by it where channels differ. Not required to be safe for several threads.
 */
public interface ResidualModel {
    /** How many residuals there are, at least one. */
    int residualCount();

    /**
     * Residuals at {@code parameters}.
     *
     * @param parameters in the problem's order and units; not to be changed
     * @param residuals filled; a value that is not finite says that the model is undefined there, and the solver steps back
     */
    void residuals(double[] parameters, double[] residuals);

    /**
     * Derivatives at {@code parameters}.
     *
     * @param parameters in the problem's order and units; not to be changed
     * @param residuals those at {@code parameters}, already computed; not to be changed
     * @param columns filled: {@code columns[j][i]} = d residual i / d parameter j, one column per parameter, for so they
     *     come from sensitivities and differences
     */
    void jacobian(double[] parameters, double[] residuals, double[][] columns);
}
