package org.bankfire.analysis.prediction;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class GasProgrammeTest {
    private static final GasProgramme LIGHT_THEN_FULL =
            GasProgramme.of(new double[] {10, 60, 60, 600, 660}, new double[] {30e3, 30e3, 100e3, 100e3, 40e3});

    @Test
    void pressureHoldsBeforeTheFirstPointAndAfterTheLast() {
        assertThat(LIGHT_THEN_FULL.gaugePaAt(0)).isEqualTo(30e3);
        assertThat(LIGHT_THEN_FULL.gaugePaAt(10_000)).isEqualTo(40e3);
        assertThat(GasProgramme.constant(80e3).gaugePaAt(1e6)).isEqualTo(80e3);
    }

    @Test
    void pressureIsStraightBetweenPointsAndStepsWhereTwoShareATime() {
        assertThat(LIGHT_THEN_FULL.gaugePaAt(59.999)).isEqualTo(30e3);
        assertThat(LIGHT_THEN_FULL.gaugePaAt(60)).isEqualTo(100e3);
        assertThat(LIGHT_THEN_FULL.gaugePaAt(630)).isCloseTo(70e3, within(1e-6));
    }

    @Test
    void pointsAndRampsAreFound() {
        assertThat(LIGHT_THEN_FULL.nextPointS(10)).isEqualTo(60);
        assertThat(LIGHT_THEN_FULL.nextPointS(60)).isEqualTo(600);
        assertThat(LIGHT_THEN_FULL.nextPointS(660)).isEqualTo(Double.POSITIVE_INFINITY);
        assertThat(LIGHT_THEN_FULL.ramps(20)).isFalse();
        assertThat(LIGHT_THEN_FULL.ramps(60)).isFalse();
        assertThat(LIGHT_THEN_FULL.ramps(600)).isTrue();
        assertThat(LIGHT_THEN_FULL.ramps(700)).isFalse();
    }

    @ParameterizedTest
    @ValueSource(doubles = {-1, 4.1e5, Double.NaN, Double.POSITIVE_INFINITY})
    void aPressureBelowAmbientOrOutOfReachIsRefusedByRow(double gaugePa) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> GasProgramme.of(new double[] {0, 60}, new double[] {1e4, gaugePa}))
                .withMessage("row 2: gasPa is " + gaugePa + ": allowed are 0.0 to 400000.0");
    }

    @ParameterizedTest
    @ValueSource(doubles = {29, Double.NaN, 1e6})
    void aTimeThatGoesBackOrIsAbsurdIsRefusedByRow(double timeS) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> GasProgramme.of(new double[] {30, timeS}, new double[] {1e4, 1e4}))
                .withMessageContaining("row 2: tS is " + timeS);
    }
}
