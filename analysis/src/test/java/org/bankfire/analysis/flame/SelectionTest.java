package org.bankfire.analysis.flame;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SelectionTest {
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 10, 55, 276})
    void isWhatSortingWouldGive(int n) {
        Random random = new Random(n);
        for (int trial = 0; trial < 200; trial++) {
            // Few different values make many equal ones.
            int different = 1 + random.nextInt(2 * n);
            double[] values =
                    random.doubles(n + 3).map(x -> Math.floor(x * different)).toArray();
            double[] behind = Arrays.copyOfRange(values, n, n + 3);
            double[] sorted = Arrays.copyOf(values, n);
            Arrays.sort(sorted);
            int k = random.nextInt(n);

            assertThat(Selection.smallest(values, n, k)).isEqualTo(sorted[k]);
            assertThat(Arrays.stream(values, 0, k).allMatch(value -> value <= sorted[k]))
                    .isTrue();
            assertThat(Arrays.stream(values, k, n).allMatch(value -> value >= sorted[k]))
                    .isTrue();
            assertThat(Arrays.stream(values, 0, n).sorted().toArray()).isEqualTo(sorted);
            assertThat(Arrays.copyOfRange(values, n, n + 3)).isEqualTo(behind);
        }
    }
}
