package org.bankfire.analysis.flame;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class HeatResponseTest {
    /** Carslaw and Jaeger, section 2.9: a semi-infinite solid under a constant flux, 2 q √(t/π) / e at its surface. */
    @ParameterizedTest
    @ValueSource(doubles = {1, 2, 5, 10, 60, 300, 1000})
    void theWallFollowsTheSquareRootOfTime(double seconds) {
        HeatResponse response = new HeatResponse(400, 0);
        for (int i = 0; i < Math.round(seconds * 4); i++) {
            response.step(0.25, 0, 50_000);
        }
        double expected = 2 * 50_000 * Math.sqrt(seconds / Math.PI) / 400;
        assertThat(response.wall()).isCloseTo(expected, within(0.05 * expected));
    }

    @Test
    void theGasPartIsFirstOrderWithTheLagOfTheProbe() {
        HeatResponse response = new HeatResponse(400, 12);
        for (int i = 0; i < 48; i++) {
            response.step(0.25, 100, 0);
        }
        assertThat(response.gas()).isCloseTo(100 * (1 - Math.exp(-1)), within(1e-9));
    }

    @Test
    void aSavedStateIsGoneBackTo() {
        HeatResponse response = new HeatResponse(400, 12);
        response.step(5, 100, 1000);
        double[] saved = new double[HeatResponse.stateSize()];
        response.save(saved, 0);
        double wall = response.wall();
        response.step(5, 0, 0);
        response.restore(saved, 0);
        assertThat(response.wall()).isEqualTo(wall);
    }
}
