package org.bankfire.analysis.prediction;

import java.util.SplittableRandom;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * Points spread evenly in probability: in each dimension every point has a slice of its own (M. D. McKay, R. J. Beckman and
 * W. J. Conover, Technometrics 21 (1979) 239–245). The seed is fixed.
 */
public final class LatinHypercube {
    private static final long SEED = 20_260_301;

    private LatinHypercube() {}

    /**
     * Standard normal deviations.
     *
     * @param points how many, 0 or more
     * @param dimensions of each
     * @return {@code [point][dimension]}
     */
    public static double[][] normal(int points, int dimensions) {
        SplittableRandom random = new SplittableRandom(SEED);
        NormalDistribution normal = new NormalDistribution();
        double[][] deviations = new double[points][dimensions];
        int[] slices = new int[points];
        for (int d = 0; d < dimensions; d++) {
            for (int i = 0; i < points; i++) {
                int j = random.nextInt(i + 1);
                slices[i] = slices[j];
                slices[j] = i;
            }
            for (int i = 0; i < points; i++) {
                deviations[i][d] = normal.inverseCumulativeProbability((slices[i] + random.nextDouble()) / points);
            }
        }
        return deviations;
    }
}
