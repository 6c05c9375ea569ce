package org.bankfire.analysis.fit;

import java.util.List;

/**
 * Derivatives by forward differences, for a model without its own: one evaluation more per parameter. Step
 * √ε · max(|x|, scale) with the relative noise ε of the model's value (Nocedal and Wright, <i>Numerical Optimization</i>,
 * 2nd ed., section 8.1); towards the other side where the step would leave the bounds.
 */
public final class ForwardDifferences implements ResidualModel {
    /** Relative noise of a closed formula: the unit of rounding. For a stepped simulation take its tolerance. */
    public static final double ROUNDING = 0x1p-52;

    private final List<FitParameter> parameters;
    private final int count;
    private final Residuals function;
    private final double relativeStep;
    private final double[] shifted;

    /** Residuals alone. */
    @FunctionalInterface
    public interface Residuals {
        /** As {@link ResidualModel#residuals}. */
        void at(double[] parameters, double[] residuals);
    }

    /**
     * @param parameters of the problem, for their scales and bounds
     * @param count of residuals
     * @param relativeNoise of the residual function, from {@link #ROUNDING} to below 1
     * @param function the residuals
     */
    public ForwardDifferences(List<FitParameter> parameters, int count, double relativeNoise, Residuals function) {
        if (!(relativeNoise >= ROUNDING && relativeNoise < 1)) {
            throw new IllegalArgumentException("relative noise is " + relativeNoise + ": allowed are 2^-52 to 1");
        }
        this.parameters = List.copyOf(parameters);
        this.count = count;
        this.function = function;
        this.relativeStep = Math.sqrt(relativeNoise);
        this.shifted = new double[parameters.size()];
    }

    @Override
    public int residualCount() {
        return count;
    }

    @Override
    public void residuals(double[] at, double[] residuals) {
        function.at(at, residuals);
    }

    @Override
    public void jacobian(double[] at, double[] residuals, double[][] columns) {
        System.arraycopy(at, 0, shifted, 0, shifted.length);
        for (int j = 0; j < shifted.length; j++) {
            FitParameter parameter = parameters.get(j);
            double step = relativeStep * Math.max(Math.abs(at[j]), parameter.scale());
            shifted[j] = parameter.bounds().contains(at[j] + step) ? at[j] + step : at[j] - step;
            // The step that was really made, free of the rounding of the sum.
            double made = shifted[j] - at[j];
            double[] column = columns[j];
            function.at(shifted, column);
            for (int i = 0; i < count; i++) {
                column[i] = (column[i] - residuals[i]) / made;
            }
            shifted[j] = at[j];
        }
    }
}
