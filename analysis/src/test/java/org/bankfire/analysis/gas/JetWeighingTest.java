package org.bankfire.analysis.gas;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;
import static org.assertj.core.api.InstanceOfAssertFactories.type;

import java.util.Random;
import org.bankfire.analysis.gas.JetWeighing.Found;
import org.bankfire.analysis.gas.JetWeighing.Implausible;
import org.bankfire.analysis.gas.JetWeighing.TooUncertain;
import org.bankfire.analysis.gas.JetWeighing.Weighing;
import org.junit.jupiter.api.Test;

class JetWeighingTest {
    /** By hand: 1.7 kg of an ideal 2.0 kg; √2 · 0.01 / 2 from the scale, 0.85 · 0.02 from the flow. */
    @Test
    void theCoefficientIsTheGasGoneOverTheIdealFlow() {
        assertThat(JetWeighing.judge(new Weighing(20.0, 18.3, 0.01, 2.0, 0.04)))
                .asInstanceOf(type(Found.class))
                .satisfies(found -> {
                    assertThat(found.dischargeCoefficient()).isCloseTo(0.85, within(1e-12));
                    assertThat(found.fromScale()).isCloseTo(0.00707, within(1e-5));
                    assertThat(found.fromFlow()).isCloseTo(0.017, within(1e-9));
                    assertThat(found.standardUncertainty()).isCloseTo(0.01841, within(1e-5));
                });
    }

    /** Burns of a jet of 0.84 with a scale and a pressure sensor that err: the spread is the uncertainty that is told. */
    @Test
    void theUncertaintyIsTheSpreadOfManyWeighings() {
        Random random = new Random(20260313);
        double gaugePa = 1.2e5;
        double sensorPa = 3e3;
        double scaleKg = 0.012;
        double seconds = 5400;
        double idealTrueKg = seconds * ideal(gaugePa);
        int burns = 4000;
        double sum = 0;
        double sumOfSquares = 0;
        double told = 0;
        for (int i = 0; i < burns; i++) {
            double readPa = gaugePa + sensorPa * random.nextGaussian();
            double idealKg = seconds * ideal(readPa);
            double relative =
                    Jet.relativeUncertainty(Fuel.PROPANE.jetGas(), readPa, sensorPa, Atmosphere.SEA_LEVEL_PA, 1, 0);
            double beforeKg = 21 + scaleKg * random.nextGaussian();
            double afterKg = 21 - 0.84 * idealTrueKg + scaleKg * random.nextGaussian();
            Found found =
                    (Found) JetWeighing.judge(new Weighing(beforeKg, afterKg, scaleKg, idealKg, relative * idealKg));
            sum += found.dischargeCoefficient();
            sumOfSquares += found.dischargeCoefficient() * found.dischargeCoefficient();
            told += found.standardUncertainty();
        }
        double mean = sum / burns;
        double spread = Math.sqrt(sumOfSquares / burns - mean * mean);
        assertThat(mean).isCloseTo(0.84, within(0.002));
        assertThat(told / burns).isCloseTo(spread, withinPercentage(5));
    }

    @Test
    void tooLittleGasForTheScaleIsRefusedAndTheNeededAmountIsEnough() {
        Weighing little = new Weighing(20.0, 19.83, 0.02, 0.2, 0.004);
        TooUncertain refused = (TooUncertain) JetWeighing.judge(little);
        assertThat(refused.usedKg()).isCloseTo(0.17, within(1e-9));
        assertThat(refused.next()).contains("burn longer", "finer scale");
        double neededKg = refused.neededKg();
        assertThat(neededKg).isGreaterThan(0.17);
        assertThat(judged(neededKg * 1.001, little)).isInstanceOf(Found.class);
        assertThat(judged(neededKg * 0.999, little)).isInstanceOf(TooUncertain.class);
    }

    @Test
    void aPressureThatIsHardlyKnownCannotBeMadeUpForByWeighing() {
        TooUncertain refused = (TooUncertain) JetWeighing.judge(new Weighing(20, 15, 0.005, 6, 0.6));
        assertThat(refused.neededKg()).isNaN();
        assertThat(refused.next()).contains("zero with the hose off");
    }

    @Test
    void aCoefficientThatNoJetHasIsToldAsSuch() {
        assertThat(JetWeighing.judge(new Weighing(20, 17, 0.01, 2, 0.04)))
                .asInstanceOf(type(Implausible.class))
                .satisfies(odd -> assertThat(odd.next()).contains("leak"));
        assertThat(JetWeighing.judge(new Weighing(20, 19.5, 0.01, 2, 0.04)))
                .asInstanceOf(type(Implausible.class))
                .satisfies(odd -> assertThat(odd.next()).contains("Less gas is gone"));
        assertThat(JetWeighing.judge(new Weighing(17, 20, 0.01, 2, 0.04))).isInstanceOf(Implausible.class);
    }

    /** 1.01 ± 0.02 is a jet of 1 as likely as not. */
    @Test
    void aCoefficientAboveOneWithinItsUncertaintyIsHeldAtOne() {
        Found found = (Found) JetWeighing.judge(new Weighing(20, 17.98, 0.01, 2, 0.04));
        assertThat(found.dischargeCoefficient()).isEqualTo(1);
    }

    @Test
    void massesThatCannotBeAreRefusedByName() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Weighing(Double.NaN, 18, 0.01, 2, 0.04))
                .withMessage("mass before the burn is NaN kg: allowed are 0 and more");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Weighing(20, 18, 0, 2, 0.04))
                .withMessageContaining("both must be above 0");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Weighing(20, 18, 0.01, 2, -1))
                .withMessageContaining("standard uncertainty of the ideal flow");
    }

    private static double ideal(double gaugePa) {
        return Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 1, gaugePa, Atmosphere.SEA_LEVEL_PA, 288.15);
    }

    private static JetWeighing.Result judged(double usedKg, Weighing as) {
        double idealKg = usedKg * as.idealKg() / (as.beforeKg() - as.afterKg());
        return JetWeighing.judge(new Weighing(
                as.beforeKg(),
                as.beforeKg() - usedKg,
                as.scaleStandardUncertaintyKg(),
                idealKg,
                idealKg * as.idealStandardUncertaintyKg() / as.idealKg()));
    }
}
