package org.bankfire.analysis.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.distribution.continuous.TDistribution;
import org.junit.jupiter.api.Test;

class StudentTTest {
    /** Tables of Student's t, two-sided 95 %, to three decimals. */
    @Test
    void theTabledValuesAreFound() {
        double[][] table = {{1, 12.706}, {4, 2.776}, {10, 2.228}, {29, 2.045}, {30, 2.042}, {60, 2.000}, {120, 1.980}};
        for (double[] row : table) {
            assertThat(StudentT.twoSided95(row[0])).as("%s degrees", row[0]).isCloseTo(row[1], within(0.0005));
        }
    }

    /** Fractions, for effective samples are not whole. */
    @Test
    void theExpansionAgreesWithTheLibrary() {
        for (double degrees = 30; degrees < 5000; degrees *= 1.37) {
            double library = new TDistribution(degrees).cumulativeProbability(StudentT.twoSided95(degrees));
            assertThat(library).as("%s degrees", degrees).isCloseTo(0.975, within(1e-8));
        }
    }

    @Test
    void whatIsInterpolatedAgreesWithTheLibrary() {
        for (double degrees = 3; degrees < 30; degrees += 0.037) {
            double library = new TDistribution(degrees).cumulativeProbability(StudentT.twoSided95(degrees));
            assertThat(library).as("%s degrees", degrees).isCloseTo(0.975, within(1e-9));
        }
    }
}
