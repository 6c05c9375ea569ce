package org.bankfire.analysis.fit;

import java.util.Arrays;
import org.bankfire.analysis.fit.FitResult.Why;
import org.hipparchus.exception.LocalizedCoreFormats;
import org.hipparchus.exception.MathIllegalStateException;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresFactory;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LevenbergMarquardtOptimizer;
import org.hipparchus.optim.nonlinear.vector.leastsquares.ValueAndJacobianFunction;
import org.hipparchus.util.Pair;
import org.jspecify.annotations.Nullable;

/**
 * One descent by Levenberg and Marquardt's method (Moré, <i>The Levenberg–Marquardt algorithm</i>, Lecture Notes in
 * Mathematics 630, 1978, as in MINPACK and Hipparchus) over the free coordinates, with given weights.
 */
final class Minimizer {
    /** MINPACK's customary bound of the first step, in norms of the scaled start. */
    static final double CUSTOMARY_STEP = 100;

    /** Stands for every residual where the model is undefined: its square times any count still is a number. */
    private static final double REFUSED = 1e100;

    /** e^−36 is 2^−52: as near to a bound as a double tells. */
    private static final double BESIDE_A_BOUND = 36;

    private Minimizer() {}

    /** Where a descent ended. */
    static final class Minimum {
        final double[] values;
        final double[] residuals;
        /** Weighted sum of squares, priors included. */
        final double cost;
        /** Of the weighted Jacobian in free coordinates; empty when the start is undefined. */
        final double[][] triangle;

        final @Nullable Why failure;

        Minimum(double[] values, double[] residuals, double[][] triangle, double cost, @Nullable Why failure) {
            this.values = values;
            this.residuals = residuals;
            this.triangle = triangle;
            this.cost = cost;
            this.failure = failure;
        }
    }

    static Minimum descend(
            FitProblem problem, Weighting weighting, double[] from, FitSettings settings, double firstStep) {
        Objective objective = new Objective(problem, weighting);
        double[] free = objective.free(from);
        RealVector target = new ArrayRealVector(objective.rows);
        objective.computeValue(free);
        if (!objective.defined()) {
            return objective.best(from, Why.UNDEFINED_AT_START);
        }
        LevenbergMarquardtOptimizer optimizer = new LevenbergMarquardtOptimizer()
                .withInitialStepBoundFactor(firstStep)
                .withCostRelativeTolerance(settings.tolerance())
                .withParameterRelativeTolerance(settings.tolerance())
                .withOrthoTolerance(settings.tolerance());
        try {
            optimizer.optimize(LeastSquaresFactory.create(
                    objective,
                    target,
                    new ArrayRealVector(free, false),
                    null,
                    null,
                    settings.evaluations(),
                    settings.evaluations(),
                    true,
                    null));
            return objective.best(from, null);
        } catch (MathIllegalStateException e) {
            return objective.best(from, objective.why(e));
        }
    }

    /**
     * Weighted residuals of data and priors over the free coordinates, those of the data reduced by the orthogonal part of
     * their own Jacobian: the optimizer sees as many rows as there are parameters, and the same norms, gradients and steps.
     * Derivatives are asked of the model only where the cost has fallen, for only such points are stepped from.
     */
    private static final class Objective implements ValueAndJacobianFunction {
        /** A cost within rounding of the best may still be accepted. */
        private static final double ROUNDING = 1 + 1e-10;

        private final FitProblem problem;
        private final Weighting weighting;
        private final int size;
        private final int data;
        private final int rows;
        private final double[] values;
        private double[] raw;
        private final double[] weighted;
        private final double[][] columns;
        private final double[] bestValues;
        private double[] bestRaw;
        private double bestCost = Double.POSITIVE_INFINITY;
        private double[][] bestTriangle = {};
        private double[][] triangle = {};
        private double[] triangleAt = {};
        private double[] lastReduced = {};
        private double[] reducedAt = {};
        private boolean derivativeUndefined;

        Objective(FitProblem problem, Weighting weighting) {
            this.problem = problem;
            this.weighting = weighting;
            this.size = problem.size();
            this.data = problem.model().residualCount();
            this.rows = size + 1 + problem.priorCount();
            this.values = new double[size];
            this.raw = new double[data];
            this.weighted = new double[data];
            this.columns = new double[size][data];
            this.bestValues = new double[size];
            this.bestRaw = new double[data];
        }

        double[] free(double[] from) {
            double[] free = new double[size];
            for (int j = 0; j < size; j++) {
                FitParameter parameter = problem.parameters().get(j);
                double at = parameter.bounds().toFree(from[j], parameter.scale());
                // A value rounded onto its bound has no finite coordinate: begin just beside it.
                free[j] = Double.isInfinite(at) ? Math.copySign(BESIDE_A_BOUND, at) : at;
            }
            return free;
        }

        boolean defined() {
            return bestCost < Double.POSITIVE_INFINITY;
        }

        Minimum best(double[] from, @Nullable Why failure) {
            return defined()
                    ? new Minimum(bestValues, bestRaw, bestTriangle, bestCost, failure)
                    : new Minimum(from.clone(), raw, bestTriangle, bestCost, failure);
        }

        @Nullable
        Why why(MathIllegalStateException e) {
            if (derivativeUndefined) {
                return Why.UNDEFINED_DERIVATIVE;
            }
            if (e.getSpecifier() == LocalizedCoreFormats.MAX_COUNT_EXCEEDED) {
                return Why.EVALUATIONS_SPENT;
            }
            // The rest say that no further digit can be had: the descent is at its end.
            return null;
        }

        @Override
        public Pair<RealVector, RealMatrix> value(RealVector point) {
            double[] free = point.toArray();
            return new Pair<>(computeValue(free), computeJacobian(free));
        }

        @Override
        public RealVector computeValue(double[] free) {
            // The optimizer asks for the residuals and then again for their norm.
            if (Arrays.equals(free, reducedAt)) {
                return new ArrayRealVector(lastReduced);
            }
            double[] reduced = new double[rows];
            reducedAt = free.clone();
            lastReduced = reduced;
            double cost = residuals(free, reduced);
            if (!Double.isFinite(cost)) {
                Arrays.fill(reduced, REFUSED);
            } else if (cost <= bestCost * ROUNDING) {
                reduce(free);
                for (int j = 0; j <= size; j++) {
                    reduced[j] = triangle[j][size];
                }
                if (cost < bestCost) {
                    bestCost = cost;
                    bestTriangle = triangle;
                    System.arraycopy(values, 0, bestValues, 0, size);
                    double[] spare = bestRaw;
                    bestRaw = raw;
                    raw = spare;
                }
            } else {
                reduced[size] = Math.sqrt(Triangle.dot(weighted, weighted, 0));
            }
            return new ArrayRealVector(reduced);
        }

        /** Fills the residuals, and the rows of the priors in {@code reduced}; their squares' sum. */
        private double residuals(double[] free, double[] reduced) {
            for (int j = 0; j < size; j++) {
                FitParameter parameter = problem.parameters().get(j);
                values[j] = parameter.bounds().fromFree(free[j], parameter.scale());
            }
            problem.model().residuals(values, raw);
            weighting.apply(raw, 1, weighted);
            double cost = Triangle.dot(weighted, weighted, 0);
            int row = size + 1;
            for (int j = 0; j < size; j++) {
                Prior prior = problem.parameters().get(j).prior();
                if (prior != null) {
                    reduced[row] = prior.residual(values[j]);
                    cost += reduced[row] * reduced[row];
                    row++;
                }
            }
            return cost;
        }

        private void reduce(double[] free) {
            problem.model().jacobian(values, raw, columns);
            for (int j = 0; j < size; j++) {
                FitParameter parameter = problem.parameters().get(j);
                weighting.apply(columns[j], parameter.bounds().slope(free[j], parameter.scale()), columns[j]);
            }
            triangle = Triangle.reduce(columns, weighted);
            triangleAt = free.clone();
        }

        @Override
        public RealMatrix computeJacobian(double[] free) {
            if (!Arrays.equals(free, triangleAt)) {
                residuals(free, new double[rows]);
                reduce(free);
            }
            double[][] matrix = new double[rows][size];
            double sum = 0;
            int row = size + 1;
            for (int j = 0; j < size; j++) {
                for (int i = 0; i <= j; i++) {
                    matrix[i][j] = triangle[i][j];
                    sum += triangle[i][j];
                }
                FitParameter parameter = problem.parameters().get(j);
                if (parameter.prior() != null) {
                    double value = parameter.bounds().fromFree(free[j], parameter.scale());
                    matrix[row++][j] =
                            parameter.prior().slope(value) * parameter.bounds().slope(free[j], parameter.scale());
                }
            }
            if (!Double.isFinite(sum)) {
                derivativeUndefined = true;
                throw new MathIllegalStateException(LocalizedCoreFormats.SIMPLE_MESSAGE, "undefined derivative");
            }
            return new Array2DRowRealMatrix(matrix, false);
        }
    }
}
