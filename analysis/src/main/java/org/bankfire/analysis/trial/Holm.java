package org.bankfire.analysis.trial;

import java.util.Arrays;
import java.util.Comparator;
import java.util.stream.IntStream;

/**
 * Several tests of one comparison, so that the chance of any false "real" among them stays what is stated: S. Holm, "A simple
 * sequentially rejective multiple test procedure", <i>Scandinavian Journal of Statistics</i> 6 (1979) 65–70, with weights
 * as in its section 3.
 */
final class Holm {
    private Holm() {}

    /**
     * Chances with all tests in view: a test is positive at a level when its adjusted chance is no greater.
     *
     * @param p of each test by itself, 0 to 1; NaN for one that was not made, which counts for nothing
     * @param weights of each, above 0
     * @return of each, 0 to 1; NaN for one that was not made
     */
    static double[] adjusted(double[] p, double[] weights) {
        double[] adjusted = new double[p.length];
        Arrays.fill(adjusted, Double.NaN);
        int[] order = IntStream.range(0, p.length)
                .filter(i -> !Double.isNaN(p[i]))
                .boxed()
                .sorted(Comparator.comparingDouble(i -> p[i] / weights[i]))
                .mapToInt(Integer::intValue)
                .toArray();
        double left = 0;
        for (int i : order) {
            left += weights[i];
        }
        double greatest = 0;
        for (int i : order) {
            greatest = Math.max(greatest, Math.min(1, p[i] * left / weights[i]));
            adjusted[i] = greatest;
            left -= weights[i];
        }
        return adjusted;
    }
}
