package org.bankfire.analysis.fit;

import java.util.Arrays;
import java.util.OptionalDouble;

/** An empirical curve less a series. Parameters: the final temperature unless it is known, then a and τ of each term. */
final class CurveModel implements ResidualModel {
    private final TemperatureSeries series;
    private final EmpiricalCurve curve;
    private final OptionalDouble knownFinal;
    private final int first;
    /** The shapes at the last parameters, for the derivatives are asked at the same. */
    private final double[][] shapes;

    private final double[] shapesAt;

    CurveModel(TemperatureSeries series, EmpiricalCurve curve, OptionalDouble knownFinal) {
        this.series = series;
        this.curve = curve;
        this.knownFinal = knownFinal;
        this.first = knownFinal.isPresent() ? 0 : 1;
        this.shapes = new double[curve.terms()][series.size()];
        this.shapesAt = new double[curve.terms()];
    }

    @Override
    public int residualCount() {
        return series.size();
    }

    @Override
    public void residuals(double[] parameters, double[] residuals) {
        double end = knownFinal.orElse(parameters[0]);
        double[] temperatures = series.temperatures();
        for (int i = 0; i < residuals.length; i++) {
            residuals[i] = end - temperatures[i];
        }
        for (int k = 0; k < shapes.length; k++) {
            double amplitude = parameters[first + 2 * k];
            double[] shape = shapesOf(k, parameters[first + 2 * k + 1]);
            for (int i = 0; i < residuals.length; i++) {
                residuals[i] += amplitude * shape[i];
            }
        }
    }

    @Override
    public void jacobian(double[] parameters, double[] residuals, double[][] columns) {
        if (first == 1) {
            Arrays.fill(columns[0], 1);
        }
        for (int k = 0; k < shapes.length; k++) {
            double amplitude = parameters[first + 2 * k];
            double tauS = parameters[first + 2 * k + 1];
            double[] shape = shapesOf(k, tauS);
            System.arraycopy(shape, 0, columns[first + 2 * k], 0, shape.length);
            curve.slopes(series.elapsedS(), tauS, shape, -amplitude / tauS, columns[first + 2 * k + 1]);
        }
    }

    private double[] shapesOf(int term, double tauS) {
        double[] shape = shapes[term];
        if (shapesAt[term] != tauS) {
            shapesAt[term] = tauS;
            curve.shapes(series.elapsedS(), tauS, shape);
        }
        return shape;
    }
}
