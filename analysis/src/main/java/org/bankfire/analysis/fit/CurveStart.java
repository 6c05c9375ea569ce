package org.bankfire.analysis.fit;

import java.util.Arrays;
import java.util.OptionalDouble;

/**
 * Start values of an empirical curve. Given its time constants a curve is linear in the rest (variable projection; Golub and
 * Pereyra, <i>The differentiation of pseudo-inverses and nonlinear least squares problems whose variables separate</i>, SIAM
 * Journal on Numerical Analysis 10, 1973): so all time constants of a logarithmic grid, or pairs of them, are tried on a
 * thinned series, and the best is near the global minimum. Thinning takes medians, which one spike does not move.
 */
final class CurveStart {
    /** Enough for a smooth curve; bounds the work. */
    private static final int MOST_POINTS = 96;

    /** From a hundredth of the span to ten spans, each 1.44 times the last. */
    private static final int GRID = 20;

    private static final double SHORTEST = 0.01;
    private static final double LONGEST = 10;

    private final double[] times;
    private final double[] temperatures;
    private final int points;

    private CurveStart(TemperatureSeries series) {
        int block = (series.size() + MOST_POINTS - 1) / MOST_POINTS;
        points = series.size() / block;
        times = new double[points];
        temperatures = new double[points];
        double[] window = new double[block];
        for (int p = 0; p < points; p++) {
            double sum = 0;
            for (int i = 0; i < block; i++) {
                sum += series.elapsedS()[p * block + i];
                window[i] = series.temperatures()[p * block + i];
            }
            Arrays.sort(window);
            times[p] = sum / block;
            temperatures[p] = (window[(block - 1) / 2] + window[block / 2]) / 2;
        }
    }

    /** In the order of {@link CurveModel}; the faster term first. */
    static double[] of(TemperatureSeries series, EmpiricalCurve curve, OptionalDouble knownFinal) {
        return new CurveStart(series).search(series.spanS(), curve, knownFinal);
    }

    private double[] search(double spanS, EmpiricalCurve curve, OptionalDouble knownFinal) {
        double[] grid = new double[GRID];
        double[][] basis = new double[GRID + 2][];
        for (int g = 0; g < GRID; g++) {
            grid[g] = spanS * SHORTEST * Math.pow(LONGEST / SHORTEST, g / (GRID - 1.0));
            basis[g] = new double[points];
            curve.shapes(times, grid[g], basis[g]);
        }
        double end = knownFinal.orElse(0);
        double[] above = new double[points];
        double[] ones = new double[points];
        for (int i = 0; i < points; i++) {
            above[i] = temperatures[i] - end;
            ones[i] = 1;
        }
        basis[GRID] = ones;
        basis[GRID + 1] = above;
        double[][] gram = gram(basis);
        int free = knownFinal.isPresent() ? 0 : 1;
        double[] best = {};
        double least = Double.POSITIVE_INFINITY;
        for (int one = 0; one < GRID; one++) {
            int last = curve.terms() == 2 ? GRID : one + 2;
            for (int two = one + 1; two < last && (curve.terms() == 1 || two < GRID); two++) {
                int[] used = used(free, one, curve.terms() == 2 ? two : -1);
                double[] linear = new double[used.length];
                double squares = project(gram, used, linear);
                if (squares < least) {
                    least = squares;
                    best = assemble(free, linear, grid, one, curve.terms() == 2 ? two : -1);
                }
            }
        }
        return best;
    }

    private static int[] used(int free, int one, int two) {
        int[] used = new int[free + (two < 0 ? 1 : 2)];
        if (free == 1) {
            used[0] = GRID;
        }
        used[free] = one;
        if (two >= 0) {
            used[free + 1] = two;
        }
        return used;
    }

    private static double[] assemble(int free, double[] linear, double[] grid, int one, int two) {
        double[] start = new double[free + (two < 0 ? 2 : 4)];
        if (free == 1) {
            start[0] = linear[0];
        }
        start[free] = linear[free];
        start[free + 1] = grid[one];
        if (two >= 0) {
            start[free + 2] = linear[free + 1];
            start[free + 3] = grid[two];
        }
        return start;
    }

    private static double[][] gram(double[][] basis) {
        double[][] gram = new double[basis.length][basis.length];
        for (int a = 0; a < basis.length; a++) {
            for (int b = 0; b <= a; b++) {
                gram[a][b] = Triangle.dot(basis[a], basis[b], 0);
                gram[b][a] = gram[a][b];
            }
        }
        return gram;
    }

    /** Solves the normal equations of the basis functions {@code used}; the sum of squares left. */
    private static double project(double[][] gram, int[] used, double[] linear) {
        int size = used.length;
        int data = GRID + 1;
        double[][] a = new double[size][size + 1];
        for (int r = 0; r < size; r++) {
            for (int c = 0; c < size; c++) {
                a[r][c] = gram[used[r]][used[c]];
            }
            a[r][size] = gram[used[r]][data];
        }
        for (int pivot = 0; pivot < size; pivot++) {
            for (int r = pivot + 1; r < size; r++) {
                double factor = a[r][pivot] / a[pivot][pivot];
                for (int c = pivot; c <= size; c++) {
                    a[r][c] -= factor * a[pivot][c];
                }
            }
        }
        double squares = gram[data][data];
        for (int r = size - 1; r >= 0; r--) {
            // What each step of the elimination takes off the sum of squares.
            squares -= a[r][size] * a[r][size] / a[r][r];
            double sum = a[r][size];
            for (int c = r + 1; c < size; c++) {
                sum -= a[r][c] * linear[c];
            }
            linear[r] = sum / a[r][r];
        }
        return squares;
    }
}
