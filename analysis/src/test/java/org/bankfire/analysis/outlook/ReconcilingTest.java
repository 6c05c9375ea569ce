package org.bankfire.analysis.outlook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

class ReconcilingTest {
    /** Members −1 and 1 about 10: variance 2. */
    private static final double[] MEMBERS = {-1, 1};

    /** One figure, measured itself: mean and variance of the product of two normal densities (any textbook). */
    @Test
    void oneMeasuredFigureIsWeighedByItsVariances() {
        double doubt = 0.5;
        double measured = 11;
        Reconciling reconciling =
                new Reconciling(new double[][] {{-1 / doubt, 1 / doubt}}, new double[] {(measured - 10) / doubt});
        double[] after = new double[2];
        double best = reconciling.apply(10, MEMBERS, after);
        double gain = 2 / (2 + doubt * doubt);
        assertThat(best).isCloseTo(10 + gain * (measured - 10), within(1e-12));
        double mean = (after[0] + after[1]) / 2;
        double variance = Math.pow(after[0] - mean, 2) + Math.pow(after[1] - mean, 2);
        assertThat(mean).isCloseTo(best, within(1e-12));
        assertThat(variance).isCloseTo(2 * (1 - gain), within(1e-12));
        assertThat(reconciling.widening()).isEqualTo(1);
    }

    /** Two looks at a figure y, and x that goes with it: x moves by cov(x, y) (var y + R)⁻¹ (measured − y). */
    @Test
    void aFigureThatWasNotMeasuredMovesWithThoseThatWere() {
        double[] y = {-2, -1, 0, 1, 2};
        double[] x = {-3, -3, 1, 1, 4};
        double doubt = 1.5;
        double[] row = Arrays.stream(y).map(each -> each / doubt).toArray();
        Reconciling reconciling = new Reconciling(new double[][] {row, row}, new double[] {1 / doubt, 1 / doubt});
        double varianceY = 10.0 / 4;
        double covariance = (6 + 3 + 0 + 1 + 8) / 4.0;
        double[] after = new double[5];
        // Two looks with doubt R are one with doubt R/2.
        assertThat(reconciling.apply(100, x, after))
                .isCloseTo(100 + covariance / (varianceY + doubt * doubt / 2), within(1e-12));
    }

    @Test
    void aMissThatNothingAllowsWidensTheSpreadFirst() {
        Reconciling near = new Reconciling(new double[][] {{-1, 1}}, new double[] {1});
        Reconciling far = new Reconciling(new double[][] {{-1, 1}}, new double[] {20});
        assertThat(near.widening()).isEqualTo(1);
        assertThat(far.widening()).isEqualTo(5);
        double[] after = new double[2];
        assertThat(far.apply(0, MEMBERS, after)).isBetween(18.0, 20.0);
    }
}
