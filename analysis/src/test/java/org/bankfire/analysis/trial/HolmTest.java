package org.bankfire.analysis.trial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

final class HolmTest {
    /** Four tests with the chances 0.01, 0.04, 0.03 and 0.005, the usual example of the method; from memory. */
    @Test
    void theUsualExampleHasTheFirstAndTheFourthPositive() {
        double[] adjusted = Holm.adjusted(new double[] {0.01, 0.04, 0.03, 0.005}, new double[] {1, 1, 1, 1});
        assertThat(adjusted).containsExactly(new double[] {0.03, 0.06, 0.06, 0.02}, within(1e-12));
    }

    /** By hand after Holm's section 3: 0.03/0.8 is the least of p/w, then 0.008/0.1 and 0.02/0.1. */
    @Test
    void aTestWithMoreWeightPaysLess() {
        double[] adjusted = Holm.adjusted(new double[] {0.008, 0.03, 0.02}, new double[] {0.1, 0.8, 0.1});
        assertThat(adjusted).containsExactly(new double[] {0.0375, 0.0375, 0.0375}, within(1e-12));
        assertThat(Holm.adjusted(new double[] {0.001, 0.03, 0.5}, new double[] {0.1, 0.8, 0.1}))
                .containsExactly(new double[] {0.01, 0.03375, 0.5}, within(1e-12));
    }

    @Test
    void aTestThatWasNotMadeCountsForNothing() {
        double[] adjusted = Holm.adjusted(new double[] {0.02, Double.NaN, 0.9}, new double[] {1, 1, 1});
        assertThat(adjusted[0]).isCloseTo(0.04, within(1e-12));
        assertThat(adjusted[1]).isNaN();
        assertThat(adjusted[2]).isCloseTo(0.9, within(1e-12));
    }
}
