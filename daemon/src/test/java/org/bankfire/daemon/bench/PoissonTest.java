package org.bankfire.daemon.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PoissonTest {
    /** Half the 0.95 quantile of χ² with 2 n + 2 degrees of freedom, from any table of it. */
    @ParameterizedTest
    @CsvSource({"0, 2.996", "1, 4.744", "2, 6.296", "3, 7.754", "9, 15.705", "14, 21.886"})
    void upperLimitIsThatOfTheTables(long count, double limit) {
        assertThat(Poisson.upper95(count)).isCloseTo(limit, within(0.001));
    }

    @ParameterizedTest
    @CsvSource({"1000", "3000"})
    void largeCountsGoToTheNormalLimit(long count) {
        double normal = count + 1.645 * Math.sqrt((double) count);
        assertThat(Poisson.upper95(count)).isCloseTo(normal, within(0.003 * (double) count));
    }
}
