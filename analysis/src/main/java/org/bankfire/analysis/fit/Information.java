package org.bankfire.analysis.fit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.SingularValueDecomposition;

/**
 * The information that data and priors hold about the parameters at the solution: JᵀJ · m²/(v τ) + priors, whose inverse is
 * the covariance (Bates and Watts, <i>Nonlinear Regression Analysis and Its Applications</i>, Wiley 1988, section 2.3; for m,
 * v and τ see {@link NoiseLevel}). It is never formed: the triangle of the sensitivities, scaled to unit columns, is
 * decomposed by singular values, which keeps all digits that the sensitivities have.
 *
 * <p>The condition is that of the scaled columns (Belsley, Kuh and Welsch, <i>Regression Diagnostics</i>, Wiley 1980,
 * chapter 3), so units do not matter.
 */
final class Information {
    /** A tenth of the greatest part in the weakest direction is worth naming. */
    private static final double WORTH_NAMING = 0.1;

    final double condition;
    final Combination weakest;
    private final FitProblem problem;
    private final double[] values;
    private final int[] told;
    private final double[][] covariance;

    private Information(
            FitProblem problem,
            double[] values,
            int[] told,
            double[][] covariance,
            double condition,
            Combination weakest) {
        this.problem = problem;
        this.values = values;
        this.told = told;
        this.covariance = covariance;
        this.condition = condition;
        this.weakest = weakest;
    }

    /**
     * @param problem parameters and priors
     * @param values at the solution
     * @param triangle of the unweighted Jacobian there
     * @param information of one unit of JᵀJ
     */
    static Information at(FitProblem problem, double[] values, double[][] triangle, double information) {
        int size = problem.size();
        int[] told = IntStream.range(0, size)
                .filter(j -> !touches(problem.parameters().get(j), values[j]))
                .toArray();
        double root = Math.sqrt(information);
        double[][] stacked = new double[size + told.length][told.length];
        double[] lengths = new double[told.length];
        for (int k = 0; k < told.length; k++) {
            Prior prior = problem.parameters().get(told[k]).prior();
            double fromPrior = prior == null ? 0 : prior.slope(values[told[k]]);
            stacked[size + k][k] = fromPrior;
            double squares = fromPrior * fromPrior;
            for (int i = 0; i <= told[k]; i++) {
                stacked[i][k] = root * triangle[i][told[k]];
                squares += stacked[i][k] * stacked[i][k];
            }
            // A parameter without any effect keeps its empty column, which shows as condition without end.
            lengths[k] = squares > 0 ? Math.sqrt(squares) : 1;
            for (double[] row : stacked) {
                row[k] /= lengths[k];
            }
        }
        return decompose(problem, values, told, stacked, lengths);
    }

    /** The triangle of the unweighted Jacobian from that of a descent with equal weights. */
    static double[][] unweighted(FitProblem problem, Minimizer.Minimum minimum, double overall) {
        double[][] triangle = new double[problem.size()][problem.size()];
        for (int j = 0; j < problem.size(); j++) {
            FitParameter parameter = problem.parameters().get(j);
            double free = parameter.bounds().toFree(minimum.values[j], parameter.scale());
            double factor = overall * parameter.bounds().slope(free, parameter.scale());
            for (int i = 0; i <= j; i++) {
                triangle[i][j] = minimum.triangle[i][j] / factor;
            }
        }
        return triangle;
    }

    /** The same, asked anew of the model. */
    static double[][] unweighted(FitProblem problem, double[] values, double[] residuals) {
        double[][] columns = new double[problem.size()][residuals.length];
        problem.model().jacobian(values, residuals, columns);
        return Triangle.reduce(columns, residuals.clone());
    }

    private static boolean touches(FitParameter parameter, double value) {
        return parameter.bounds().touches(value, parameter.scale());
    }

    private static Information decompose(
            FitProblem problem, double[] values, int[] told, double[][] stacked, double[] lengths) {
        int size = told.length;
        double[][] covariance = new double[problem.size()][problem.size()];
        for (double[] row : covariance) {
            Arrays.fill(row, Double.NaN);
        }
        if (size == 0) {
            return new Information(problem, values, told, covariance, 1, new Combination(List.of()));
        }
        SingularValueDecomposition singular = new SingularValueDecomposition(new Array2DRowRealMatrix(stacked, false));
        double[] sizes = singular.getSingularValues();
        RealMatrix directions = singular.getV();
        for (int a = 0; a < size; a++) {
            for (int b = 0; b < size; b++) {
                double sum = 0;
                for (int k = 0; k < size; k++) {
                    sum += directions.getEntry(a, k) * directions.getEntry(b, k) / (sizes[k] * sizes[k]);
                }
                covariance[told[a]][told[b]] = sum / (lengths[a] * lengths[b]);
            }
        }
        double least = sizes[size - 1];
        double condition = least > 0 ? sizes[0] / least : Double.POSITIVE_INFINITY;
        return new Information(
                problem, values, told, covariance, condition, combination(problem, told, directions, lengths));
    }

    private static Combination combination(FitProblem problem, int[] told, RealMatrix directions, double[] lengths) {
        int last = told.length - 1;
        double[] changes = new double[told.length];
        double greatest = 0;
        for (int k = 0; k < told.length; k++) {
            changes[k] = directions.getEntry(k, last)
                    / lengths[k]
                    / problem.parameters().get(told[k]).scale();
            if (Math.abs(changes[k]) > Math.abs(greatest)) {
                greatest = changes[k];
            }
        }
        List<Combination.Term> terms = new ArrayList<>();
        for (int k = 0; k < told.length; k++) {
            double share = changes[k] / greatest;
            if (Math.abs(share) >= WORTH_NAMING) {
                terms.add(new Combination.Term(problem.parameters().get(told[k]).name(), share));
            }
        }
        terms.sort(Comparator.comparingDouble((Combination.Term term) -> -Math.abs(term.share())));
        return new Combination(terms);
    }

    Covariance covariance() {
        return new Covariance(
                problem.parameters().stream().map(FitParameter::name).toList(), covariance);
    }

    /**
     * How many parameters the data had to settle: all, less what the priors hold, Σ (1 − posterior variance / prior
     * variance) (D. J. C. MacKay, <i>Bayesian interpolation</i>, Neural Computation 4, 1992, section 4.3).
     */
    double settledByData() {
        double count = told.length;
        for (int j : told) {
            Prior prior = problem.parameters().get(j).prior();
            if (prior != null) {
                double slope = prior.slope(values[j]);
                count -= Math.min(1, covariance[j][j] * slope * slope);
            }
        }
        return count;
    }
}
