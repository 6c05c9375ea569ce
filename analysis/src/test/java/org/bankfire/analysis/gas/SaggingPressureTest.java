package org.bankfire.analysis.gas;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.Random;
import org.bankfire.analysis.gas.SaggingPressure.Cause;
import org.bankfire.analysis.gas.SaggingPressure.Evidence;
import org.junit.jupiter.api.Test;

/** The scenes are our own: an 11 kg propane cylinder that feeds a jet at 1.5 bar. */
class SaggingPressureTest {
    private static final Cylinder ELEVEN = Cylinder.ofCapacity(Fuel.PROPANE, 11);
    private static final double WARM_K = 288.15;
    private static final double COLD_K = 245.15;

    @Test
    void aFrostyCylinderWithGasInItIsCold() {
        SaggingPressure verdict = sagging(COLD_K, 2, 6);
        assertThat(verdict.cause()).isEqualTo(Cause.COLD_CYLINDER);
        assertThat(verdict.highestVapourGaugePa()).isLessThan(1.5e5 + SaggingPressure.REGULATOR_NEEDS_PA);
        assertThat(verdict.explanation()).contains("cold").doesNotContain("emptying");
        assertThat(verdict.next()).contains("tepid water", "never near a flame").doesNotContain("Weigh");
    }

    @Test
    void theRegulatorNeedsHalfABarMoreThanItGives() {
        double justBelowK = VapourPressure.temperatureK(Fuel.PROPANE, Atmosphere.SEA_LEVEL_PA + 1.97e5);
        double justAboveK = VapourPressure.temperatureK(Fuel.PROPANE, Atmosphere.SEA_LEVEL_PA + 2.03e5);
        assertThat(sagging(justBelowK, 0, 6).cause()).isEqualTo(Cause.COLD_CYLINDER);
        assertThat(sagging(justAboveK, 0, 6).cause()).isEqualTo(Cause.REGULATOR_OR_HOSE);
        assertThat(sagging(justAboveK, 1, 6).cause()).isEqualTo(Cause.CANNOT_TELL);
    }

    @Test
    void aColdCylinderOfUnknownContentsIsToBeWeighedToo() {
        SaggingPressure verdict = sagging(COLD_K, 2, Double.NaN);
        assertThat(verdict.cause()).isEqualTo(Cause.COLD_CYLINDER);
        assertThat(verdict.explanation()).contains("may be emptying too");
        assertThat(verdict.next()).contains("Weigh");
    }

    @Test
    void aCylinderWithOnlyVapourLeftIsEmptyingHoweverWarm() {
        assertThat(sagging(WARM_K, 2, 0.4).cause()).isEqualTo(Cause.EMPTYING_CYLINDER);
        assertThat(sagging(Double.NaN, Double.NaN, 0.4).cause()).isEqualTo(Cause.EMPTYING_CYLINDER);
        assertThat(sagging(COLD_K, 2, 0.4).explanation()).contains("and it is cold");
    }

    @Test
    void aWarmCylinderWithGasInItPutsItOnRegulatorOrHose() {
        SaggingPressure verdict = sagging(WARM_K, 5, 6);
        assertThat(verdict.cause()).isEqualTo(Cause.REGULATOR_OR_HOSE);
        assertThat(verdict.possible()).containsExactly(Cause.REGULATOR_OR_HOSE);
        assertThat(verdict.next()).startsWith("Close the gas at the cylinder").contains("leaks with soapy water");
    }

    @Test
    void whatIsNotKnownIsNotGuessed() {
        SaggingPressure nothingKnown = sagging(Double.NaN, Double.NaN, Double.NaN);
        assertThat(nothingKnown.cause()).isEqualTo(Cause.CANNOT_TELL);
        assertThat(nothingKnown.possible())
                .containsExactly(Cause.COLD_CYLINDER, Cause.EMPTYING_CYLINDER, Cause.REGULATOR_OR_HOSE);
        assertThat(nothingKnown.lowestVapourGaugePa()).isNaN();
        assertThat(nothingKnown.next()).contains("Weigh", "Measure the cylinder's wall", "tepid water");

        SaggingPressure roughTemperature = sagging(255.15, 8, 6);
        assertThat(roughTemperature.possible()).containsExactly(Cause.COLD_CYLINDER, Cause.REGULATOR_OR_HOSE);
        assertThat(roughTemperature.explanation()).doesNotContain("emptying");

        SaggingPressure warmButNotWeighed = sagging(WARM_K, 2, Double.NaN);
        assertThat(warmButNotWeighed.possible()).containsExactly(Cause.EMPTYING_CYLINDER, Cause.REGULATOR_OR_HOSE);
        assertThat(warmButNotWeighed.next()).contains("Weigh").doesNotContain("tepid");
        assertThat(sagging(WARM_K, 2, 1.2).possible()).isEqualTo(warmButNotWeighed.possible());
    }

    @Test
    void morePressureThanTheCylinderCanHaveIsToldAsAContradiction() {
        SaggingPressure verdict = SaggingPressure.judge(new Evidence(
                Cylinder.ofCapacity(Fuel.BUTANE, 11), 1.5e5, 1.2e5, Atmosphere.SEA_LEVEL_PA, 275.15, 2, 6));
        assertThat(verdict.cause()).isEqualTo(Cause.CANNOT_TELL);
        assertThat(verdict.explanation()).contains("not what it is taken for");
    }

    @Test
    void aPressureNearTheSetOneDoesNotSag() {
        SaggingPressure verdict =
                SaggingPressure.judge(new Evidence(ELEVEN, 1.5e5, 1.45e5, Atmosphere.SEA_LEVEL_PA, COLD_K, 2, 0.1));
        assertThat(verdict.cause()).isEqualTo(Cause.NOT_SAGGING);
        assertThat(verdict.possible()).isEmpty();
        assertThat(verdict.next()).isEmpty();
    }

    /** The cooler and the emptier, the less it can be laid on the regulator; and every answer has its words. */
    @Test
    void lessKnowledgeNeverRulesACauseOut() {
        Random random = new Random(20260312);
        for (int i = 0; i < 2000; i++) {
            double liquidK = 235 + 65 * random.nextDouble();
            double contentsKg = 11 * random.nextDouble();
            double uncertaintyK = 10 * random.nextDouble();
            SaggingPressure sure = sagging(liquidK, uncertaintyK, contentsKg);
            assertThat(sure.explanation()).isNotBlank();
            assertThat(sure.next()).isNotBlank();
            SaggingPressure vague = sagging(liquidK, uncertaintyK + 5, contentsKg);
            if (sure.cause() != Cause.EMPTYING_CYLINDER && !sure.explanation().contains("taken for")) {
                assertThat(vague.possible())
                        .as("%s K ± %s, %s kg", liquidK, uncertaintyK, contentsKg)
                        .containsAll(sure.possible());
            }
        }
    }

    @Test
    void evidenceThatCannotBeIsRefusedByItsField() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Evidence(ELEVEN, 0, 1e5, 101_325, WARM_K, 2, 6))
                .withMessage("set pressure is 0.0 Pa: allowed is above 0");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Evidence(ELEVEN, 1e5, Double.NaN, 101_325, WARM_K, 2, 6))
                .withMessageContaining("pressure now");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Evidence(ELEVEN, 1e5, 1e5, Double.NaN, WARM_K, 2, 6))
                .withMessageContaining("pressure of the air");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Evidence(ELEVEN, 1e5, 1e5, 101_325, 20, 2, 6))
                .withMessage("temperature of the liquid in K is 20.0: allowed are 200.0 to 340.0");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Evidence(ELEVEN, 1e5, 1e5, 101_325, WARM_K, Double.NaN, 6))
                .withMessageContaining("uncertainty of the liquid's temperature");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Evidence(ELEVEN, 1e5, 1e5, 101_325, WARM_K, 2, -1))
                .withMessageContaining("contents are -1.0 kg");
    }

    private static SaggingPressure sagging(double liquidK, double uncertaintyK, double contentsKg) {
        return SaggingPressure.judge(
                new Evidence(ELEVEN, 1.5e5, 0.2e5, Atmosphere.SEA_LEVEL_PA, liquidK, uncertaintyK, contentsKg));
    }
}
