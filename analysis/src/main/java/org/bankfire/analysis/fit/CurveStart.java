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

    /** Neighbours in the middle of a block: two spikes among them do not move the median. */
    private static final int MEDIAN_OF = 5;

    /** From ten spans down to a seventieth, each 1/√2 of the last. */
    private static final int GRID = 20;

    private static final double LONGEST = 10;

    private CurveStart() {}

    /** In the order of {@link CurveModel}; the faster term first. {@code thinned} is what {@link #thinned} gave. */
    static double[] of(TemperatureSeries thinned, EmpiricalCurve curve, OptionalDouble knownFinal) {
        double spanS = thinned.spanS();
        double[] grid = new double[GRID];
        double[][] basis = new double[GRID + 2][thinned.size()];
        for (int g = GRID - 1; g >= 0; g--) {
            grid[g] = spanS * LONGEST / Math.pow(2, (GRID - 1 - g) / 2.0);
            if (curve == EmpiricalCurve.DIFFUSIVE || g >= GRID - 2) {
                curve.shapes(thinned.elapsedS(), grid[g], basis[g]);
            } else {
                // Half the time constant of two steps before: the exponential of that, squared.
                for (int i = 0; i < basis[g].length; i++) {
                    basis[g][i] = basis[g + 2][i] * basis[g + 2][i];
                }
            }
        }
        Arrays.fill(basis[GRID], 1);
        double end = knownFinal.orElse(0);
        for (int i = 0; i < thinned.size(); i++) {
            basis[GRID + 1][i] = thinned.temperatures()[i] - end;
        }
        double[][] gram = gram(basis, curve.terms() == 2);
        int free = knownFinal.isPresent() ? 0 : 1;
        double[] best = {};
        double least = Double.POSITIVE_INFINITY;
        for (int one = 0; one < GRID; one++) {
            // With one term, the second index runs over a single value that stands for none.
            int to = curve.terms() == 2 ? GRID : one + 2;
            for (int next = one + 1; next < to; next++) {
                int two = curve.terms() == 2 ? next : -1;
                int[] used = used(free, one, two);
                double[] linear = new double[used.length];
                double squares = project(gram, used, linear);
                if (squares < least) {
                    least = squares;
                    best = assemble(free, linear, grid, one, two);
                }
            }
        }
        return best;
    }

    /** At most so many points that a fit of them is nearly free; the first at the first of {@code series}. */
    static TemperatureSeries thinned(TemperatureSeries series) {
        int block = (series.size() + MOST_POINTS - 1) / MOST_POINTS;
        if (block == 1) {
            return series;
        }
        int points = series.size() / block;
        double[] times = new double[points];
        double[] temperatures = new double[points];
        double[] window = new double[Math.min(block, MEDIAN_OF)];
        for (int p = 0; p < points; p++) {
            int from = p * block + (block - window.length) / 2;
            double sum = 0;
            for (int i = 0; i < window.length; i++) {
                sum += series.elapsedS()[from + i];
                window[i] = series.temperatures()[from + i];
            }
            Arrays.sort(window);
            times[p] = sum / window.length;
            temperatures[p] = (window[(window.length - 1) / 2] + window[window.length / 2]) / 2;
        }
        return TemperatureSeries.ofElapsed(times, temperatures);
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

    /** Products of the basis functions; those of two shapes only where both may be used. */
    private static double[][] gram(double[][] basis, boolean pairs) {
        double[][] gram = new double[basis.length][basis.length];
        for (int a = 0; a < basis.length; a++) {
            for (int b = pairs || a >= GRID ? 0 : a; b <= a; b++) {
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
