package org.bankfire.analysis.outlook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.SplittableRandom;
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.analysis.burnfit.RecordDrive;
import org.junit.jupiter.api.Test;

class RegulatorTest {
    private final BurnRecorder recorder = new BurnRecorder();
    private final SplittableRandom random = new SplittableRandom(3);
    private double timeS;

    /** Goes from one pressure to another, evenly, with noise of a cheap transducer. */
    private RegulatorTest gas(double fromPa, double toPa, int seconds) {
        for (int i = 0; i < seconds; i++) {
            timeS++;
            double pascal = fromPa + (toPa - fromPa) * i / seconds;
            recorder.chamber(timeS, 1200);
            recorder.gas(timeS, pascal + 300 * random.nextGaussian());
        }
        return this;
    }

    private Regulator regulator() {
        return Regulator.of(recorder.record().stretches(), RecordDrive.GAS_ON_PA);
    }

    @Test
    void aTurnIsFoundWithWhatWasBeforeAndIsNow() {
        gas(80e3, 80e3, 900).gas(45e3, 45e3, 300);
        Regulator found = regulator();
        assertThat(found.touchedS()).isCloseTo(900, within(3.0));
        assertThat(found.beforePa()).isCloseTo(80e3, within(500.0));
        assertThat(found.gaugePa()).isCloseTo(45e3, within(200.0));
        assertThat(found.workingPa()).isCloseTo(80e3, within(500.0));
    }

    @Test
    void aSlowTurnIsOne() {
        gas(80e3, 80e3, 900).gas(80e3, 30e3, 20).gas(30e3, 30e3, 300);
        Regulator found = regulator();
        assertThat(found.beforePa()).isCloseTo(80e3, within(1500.0));
        assertThat(found.touchedS()).isBetween(900.0, 925.0);
        assertThat(found.gaugePa()).isCloseTo(30e3, within(300.0));
    }

    @Test
    void noiseAndSagAreNoTurn() {
        gas(80e3, 74e3, 3600);
        Regulator found = regulator();
        assertThat(found.touchedS()).isNaN();
        assertThat(found.beforePa()).isNaN();
        assertThat(found.gaugePa()).isCloseTo(74e3, within(500.0));
    }

    @Test
    void lightingIsNoTurn() {
        gas(0, 0, 30).gas(60e3, 60e3, 600);
        assertThat(regulator().touchedS()).isNaN();
        assertThat(regulator().gaugePa()).isCloseTo(60e3, within(300.0));
    }

    @Test
    void aShortBurstIsNoWorkingPressure() {
        gas(50e3, 50e3, 600).gas(120e3, 120e3, 40).gas(50e3, 50e3, 600);
        assertThat(regulator().workingPa()).isCloseTo(50e3, within(500.0));
    }

    @Test
    void shutGasIsNoMeanOfWhatFlowedBefore() {
        gas(50e3, 50e3, 600).gas(0, 0, 20);
        assertThat(regulator().gaugePa()).isCloseTo(0, within(200.0));
    }

    @Test
    void nothingIsKnownOfNothing() {
        assertThat(Regulator.of(List.of(), RecordDrive.GAS_ON_PA).gaugePa()).isNaN();
    }
}
