package org.bankfire.analysis.burnfit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.junit.jupiter.api.Test;

class BurnRecorderTest {
    private final BurnRecorder recorder = new BurnRecorder();

    @Test
    void stretchesFollowEachOtherWithoutGapAndKeepEveryReading() {
        Random random = new Random(1);
        for (int i = 0; i < 20_000; i++) {
            recorder.chamber(i * 0.25, 300 + i * 0.05 + random.nextGaussian());
            recorder.gas(i * 0.25, 80e3);
        }
        BurnRecord record = recorder.record();
        assertThat(record.samples()).isEqualTo(20_000);
        assertThat(record.stretches().stream().mapToInt(Stretch::samples).sum()).isEqualTo(20_000);
        assertThat(record.endS()).isCloseTo(5000, within(2.0));
        assertThat(record.stretches()).hasSizeLessThanOrEqualTo(600);
    }

    @Test
    void theMeanOfAllReadingsIsKept() {
        double sum = 0;
        for (int i = 0; i < 4000; i++) {
            double kelvin = 300 + 900 * (1 - Math.exp(-i / 800.0));
            recorder.chamber(i, kelvin);
            sum += kelvin;
        }
        double kept = 0;
        for (Stretch stretch : recorder.record().stretches()) {
            kept += stretch.chamberK() * stretch.samples();
        }
        assertThat(kept).isCloseTo(sum, within(1e-6 * sum));
    }

    @Test
    void twelveHoursAtTenHertzStayBounded() {
        for (int i = 0; i < 12 * 3600 * 10; i++) {
            recorder.chamber(i * 0.1, 1200 + 30 * Math.sin(i * 0.001));
            recorder.gas(i * 0.1, 50e3);
        }
        BurnRecord record = recorder.record();
        assertThat(record.stretches()).hasSizeLessThanOrEqualTo(600);
        assertThat(record.samples()).isEqualTo(432_000);
        assertThat(record.endS()).isCloseTo(43_200, within(20.0));
    }

    @Test
    void aTurnOfTheRegulatorAndAHandMakeAStretchEnd() {
        for (int i = 0; i < 600; i++) {
            recorder.chamber(i, 1200);
            recorder.gas(i, i < 300 ? 80e3 : 30e3);
        }
        recorder.plug(450, false);
        recorder.stock(500, true);
        recorder.lit(550, false);
        for (Stretch stretch : recorder.record().stretches()) {
            double middleS = (stretch.startS() + stretch.endS()) / 2;
            assertThat(stretch.gaugePa()).isEqualTo(middleS < 300 ? 80e3 : 30e3);
            assertThat(stretch.plugIn()).isEqualTo(middleS < 450);
            assertThat(stretch.stockIn()).isEqualTo(middleS > 500);
            assertThat(stretch.lit()).isEqualTo(middleS < 550);
        }
    }

    @Test
    void readingsMayComeInAnyOrderAndNonsenseIsLeftOut() {
        recorder.chamber(10, 500);
        recorder.chamber(2, 400);
        recorder.chamber(-1, 300);
        recorder.chamber(Double.NaN, 300);
        recorder.chamber(1e9, 300);
        recorder.chamber(3, Double.NaN);
        BurnRecord record = recorder.record();
        assertThat(record.samples()).isEqualTo(2);
        assertThat(record.endS()).isEqualTo(11);
    }

    @Test
    void aPressureHoldsUntilTheNextOneIsKnown() {
        recorder.gas(0, 70e3);
        for (int i = 0; i < 60; i++) {
            recorder.chamber(i, 300 + 10 * i);
        }
        assertThat(recorder.record().stretches()).allMatch(stretch -> stretch.gaugePa() == 70e3);
        assertThat(recorder.record().hasPressure()).isTrue();
    }

    @Test
    void theCylindersMassTellsTheGas() {
        recorder.chamber(0, 300);
        recorder.cylinder(14.2, 0.01);
        recorder.cylinder(13.5, 0.01);
        assertThat(recorder.record().weighedGasKg()).isCloseTo(0.7, within(1e-12));
        assertThat(recorder.record().weighedUncertaintyKg()).isCloseTo(0.01414, within(1e-5));
    }
}
