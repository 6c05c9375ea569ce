package org.bankfire.analysis.trial;

import java.util.Arrays;
import org.bankfire.analysis.prediction.LatinHypercube;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RectangularCholeskyDecomposition;

/**
 * How much one more observation is expected to tell, in bits: the expected fall of entropy, after D. V. Lindley, "On a measure
 * of the information provided by an experiment", <i>Annals of Mathematical Statistics</i> 27 (1956) 986–1005.
 *
 * <p>Levels of several settings are normal together; an observation of one of them has normal noise. What is asked is which
 * level is the least. Chances are counted over a fixed set of draws: the same question has the same answer.
 */
final class ExpectedInformation {
    /** Draws that chances are counted over: they are right to about 0.01. */
    private static final int DRAWS = 2_000;
    /** Outcomes of the observation that are looked at, equally likely. */
    private static final int OUTCOMES = 21;
    /** Pivots below this share of the greatest variance are rounding. */
    private static final double SMALL = 1e-12;

    private final double[] means;
    private final double[][] covariance;
    private final double[][] deviations;

    /**
     * What is believed of the levels.
     *
     * @param means one each
     * @param covariance of them, positive semidefinite
     */
    ExpectedInformation(double[] means, double[][] covariance) {
        this.means = means.clone();
        this.covariance = covariance;
        deviations = LatinHypercube.normal(DRAWS, means.length);
    }

    /**
     * Expected from one observation about the observed quantity itself: ½ log₂(1 + signal/noise), the capacity of a
     * Gaussian channel (C. E. Shannon, 1949; D. J. C. MacKay, <i>Information Theory, Inference, and Learning Algorithms</i>,
     * ch. 11).
     */
    static double bits(double signalVariance, double noiseVariance) {
        return 0.5 * Math.log1p(signalVariance / noiseVariance) / Math.log(2);
    }

    /** Entropy, bits. */
    static double entropyBits(double[] chances) {
        double bits = 0;
        for (double chance : chances) {
            bits -= chance > 0 ? chance * Math.log(chance) / Math.log(2) : 0;
        }
        return bits;
    }

    /** Chance of each level to be the least. */
    double[] chances() {
        return chances(means, spread(covariance));
    }

    /** Expected from one observation of a level about which is the least, bits. */
    double aboutLeast(int observed, double noiseVariance) {
        double total = covariance[observed][observed] + noiseVariance;
        int n = means.length;
        double[][] left = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                left[i][j] = covariance[i][j] - covariance[i][observed] * covariance[j][observed] / total;
            }
        }
        double[][] draws = spread(left);
        NormalDistribution normal = new NormalDistribution();
        double expected = 0;
        for (int k = 0; k < OUTCOMES; k++) {
            double surprise = Math.sqrt(total) * normal.inverseCumulativeProbability((k + 0.5) / OUTCOMES);
            double[] moved = means.clone();
            for (int i = 0; i < n; i++) {
                moved[i] += covariance[i][observed] / total * surprise;
            }
            expected += entropyBits(chances(moved, draws)) / OUTCOMES;
        }
        return Math.max(0, entropyBits(chances()) - expected);
    }

    /** Draws about means of 0. */
    private double[][] spread(double[][] covariances) {
        int n = means.length;
        double greatest = 0;
        for (int i = 0; i < n; i++) {
            greatest = Math.max(greatest, covariances[i][i]);
        }
        double[][] draws = new double[DRAWS][n];
        if (greatest == 0) {
            return draws;
        }
        RealMatrix root = new RectangularCholeskyDecomposition(
                        MatrixUtils.createRealMatrix(covariances), SMALL * greatest)
                .getRootMatrix();
        for (int d = 0; d < DRAWS; d++) {
            for (int i = 0; i < n; i++) {
                for (int k = 0; k < root.getColumnDimension(); k++) {
                    draws[d][i] += root.getEntry(i, k) * deviations[d][k];
                }
            }
        }
        return draws;
    }

    private static double[] chances(double[] means, double[][] draws) {
        double[] chances = new double[means.length];
        for (double[] draw : draws) {
            int least = 0;
            for (int i = 1; i < means.length; i++) {
                if (means[i] + draw[i] < means[least] + draw[least]) {
                    least = i;
                }
            }
            chances[least]++;
        }
        return Arrays.stream(chances).map(count -> count / draws.length).toArray();
    }
}
