package org.bankfire.analysis.correction;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.analysis.correction.Frames.FORGE;
import static org.bankfire.analysis.correction.Frames.at;
import static org.bankfire.analysis.correction.Frames.chain;
import static org.bankfire.analysis.correction.Frames.names;
import static org.bankfire.analysis.correction.Frames.only;
import static org.bankfire.analysis.reading.Unit.MILLIAMPERE;
import static org.bankfire.analysis.reading.Unit.MILLIVOLT;
import static org.bankfire.analysis.reading.Unit.PASCAL;
import static org.bankfire.analysis.reading.Unit.RATIO;
import static org.bankfire.analysis.reading.Unit.VOLT;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.correction.PressureCalibration.Output;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.thermocouple.ToleranceClass;
import org.junit.jupiter.api.Test;

class PressureChainTest {
    private static final double NAN = Double.NaN;

    private final PressureCalibration fourBar = PressureCalibration.ratiometric("gas", 4e5);

    @Test
    void aRatiometricTransducerGivesPressureFromVoltsAndFromTheRatio() {
        List<Reading> all = chain(fourBar).correct(List.of(at(0, "gas-volts", 2500, MILLIVOLT)));
        assertThat(names(all)).containsExactly("gas-volts", "gas");
        assertThat(only("gas", all).value()).isCloseTo(2e5, within(1e-6));
        assertThat(only("gas", all).unit()).isEqualTo(PASCAL);
        assertThat(only("gas", chain(fourBar).correct(List.of(at(0, "gas-ratio", 0.3, RATIO))))
                        .value())
                .isCloseTo(1e5, within(1e-6));
    }

    @Test
    void aRatioCalibrationTakesVoltsOnlyWhereTheSupplyIsKnown() {
        PressureCalibration known = new PressureCalibration("gas", Output.RATIO, 0.1, 0, 0.9, 4e5, 5, NAN, NAN, 0.01);
        PressureCalibration unknown =
                new PressureCalibration("gas", Output.RATIO, 0.1, 0, 0.9, 4e5, NAN, NAN, NAN, 0.01);
        Reading volts = at(0, "gas-volts", 2.5, VOLT);
        assertThat(only("gas", chain(known).correct(List.of(volts))).value()).isCloseTo(2e5, within(1e-6));
        assertThat(only("gas", chain(unknown).correct(List.of(volts))).quality())
                .isEqualTo(Quality.UNIT);
    }

    /** 0.5–4.5 V at 5 V: nothing sound lies below 5 % or above 95 % of the supply. */
    @Test
    void theRailsAreShorts() {
        assertThat(gasFrom(fourBar, 0.24)).isEqualTo(Quality.SHORT_TO_GROUND);
        assertThat(gasFrom(fourBar, 0.26)).isEqualTo(Quality.GOOD);
        assertThat(gasFrom(fourBar, 4.74)).isEqualTo(Quality.GOOD);
        assertThat(gasFrom(fourBar, 4.76)).isEqualTo(Quality.SHORT_TO_SUPPLY);
    }

    @Test
    void pointsBeyondARailMoveItAndATransducerFromZeroVoltsHasNone() {
        PressureCalibration wide =
                new PressureCalibration("gas", Output.RATIOMETRIC_VOLTS, 0.2, 0, 4.8, 4e5, 5, NAN, NAN, 0.01);
        assertThat(gasFrom(wide, 0.11)).isEqualTo(Quality.GOOD);
        assertThat(gasFrom(wide, 0.09)).isEqualTo(Quality.SHORT_TO_GROUND);
        assertThat(gasFrom(wide, 4.89)).isEqualTo(Quality.GOOD);
        assertThat(gasFrom(wide, 4.91)).isEqualTo(Quality.SHORT_TO_SUPPLY);
        PressureCalibration fromZero =
                new PressureCalibration("gas", Output.RATIOMETRIC_VOLTS, 0, 0, 5, 4e5, 5, NAN, NAN, 0.01);
        assertThat(gasFrom(fromZero, -0.01)).isEqualTo(Quality.GOOD);
        assertThat(gasFrom(fromZero, 5.01)).isEqualTo(Quality.GOOD);
    }

    /** NAMUR NE 43: failure below 3.6 mA and above 21 mA. */
    @Test
    void aCurrentLoopTellsItsFailures() {
        PressureCalibration loop = PressureCalibration.currentLoop("gas", 4e5, 150);
        assertThat(only("gas", chain(loop).correct(List.of(at(0, "gas-volts", 1.8, VOLT))))
                        .value())
                .as("12 mA across 150 Ω is half")
                .isCloseTo(2e5, within(1e-6));
        assertThat(gasFrom(loop, 0.0035 * 150)).isEqualTo(Quality.OPEN);
        assertThat(gasFrom(loop, 0.0037 * 150)).isEqualTo(Quality.GOOD);
        assertThat(gasFrom(loop, 0.0209 * 150)).isEqualTo(Quality.GOOD);
        assertThat(gasFrom(loop, 0.0211 * 150)).isEqualTo(Quality.SHORT_TO_SUPPLY);
        List<Reading> direct = chain(loop).correct(List.of(at(0, "gas", 8, MILLIAMPERE)));
        assertThat(only("gas", direct).value()).isCloseTo(1e5, within(1e-6));
        assertThat(only("gas-raw", direct).unit()).isEqualTo(MILLIAMPERE);
    }

    @Test
    void pressuresComeOutInPascal() {
        CorrectionChain chain = chain();
        assertThat(gas(chain, at(0, "gas", 0.5, Unit.BAR))).isEqualTo(5e4);
        assertThat(gas(chain, at(1, "gas", 50, Unit.KILOPASCAL))).isEqualTo(5e4);
        assertThat(gas(chain, at(2, "gas", 500, Unit.HECTOPASCAL))).isEqualTo(5e4);
        // NIST SP 811: 1 psi is 6894.757 Pa.
        assertThat(gas(chain, at(3, "gas", 10, Unit.PSI))).isCloseTo(68_947.57, within(0.01));
        assertThat(only("gas", chain.correct(List.of(at(4, "gas", -2, Unit.BAR))))
                        .quality())
                .isEqualTo(Quality.RANGE);
    }

    @Test
    void aTransducerThatNobodyDescribedIsUncalibrated() {
        List<Reading> all = chain().correct(List.of(at(0, "gas-volts", 2.5, VOLT)));
        assertThat(only("gas", all).quality()).isEqualTo(Quality.UNCALIBRATED);
        assertThat(only("gas-volts", all).value()).isEqualTo(2.5);
    }

    /** 1 % of 4 bar is 4 kPa; one step of a 10-bit converter over the span, rectangular, is 113 Pa. */
    @Test
    void spanAndZeroAddInQuadrature() {
        PressureCalibration zeroed =
                new PressureCalibration("gas", Output.RATIOMETRIC_VOLTS, 0.5, 0, 4.5, 4e5, 5, NAN, 0.52, 0.01);
        Reading gas = only("gas", chain(zeroed).correct(List.of(at(0, "gas-volts", 2.52, VOLT))));
        assertThat(gas.value()).isCloseTo(2e5, within(1e-6));
        assertThat(gas.standardUncertainty()).isCloseTo(Math.hypot(4000, 4e5 / 1024 / Math.sqrt(12)), within(1e-6));
        Reading never = only("gas", chain(fourBar).correct(List.of(at(0, "gas-volts", 2.5, VOLT))));
        assertThat(never.standardUncertainty())
                .isCloseTo(Math.hypot(6000 / Math.sqrt(3), 4000 / Math.sqrt(3)), within(1e-6));
    }

    @Test
    void aZeroIsCapturedWithTheHoseOffAndApplied() {
        CorrectionChain chain = chain(fourBar);
        List<Reading> resting = new ArrayList<>();
        for (int i = 0; i < 50; i++) {
            resting.add(at(i * 0.1, "gas-volts", 0.530 + (i % 2 == 0 ? 0.002 : -0.002), VOLT));
        }
        ZeroCapture capture = chain.captureZero("gas", resting);
        assertThat(capture).isInstanceOf(ZeroCapture.Captured.class);
        ZeroCapture.Captured captured = (ZeroCapture.Captured) capture;
        assertThat(captured.zero()).isCloseTo(0.530, within(1e-9));
        assertThat(captured.unit()).isEqualTo(VOLT);
        assertThat(captured.readings()).isEqualTo(50);
        assertThat(captured.shiftPa()).isCloseTo(3000, within(1e-6));
        // Scatter 2 mV over √50, and a 10-bit step of 4 V over √12.
        assertThat(captured.standardUncertainty())
                .isCloseTo(Math.hypot(0.002 / Math.sqrt(50), 4 / 1024.0 / Math.sqrt(12)), within(1e-5));
        assertThat(captured.words())
                .isEqualTo("zero of gas taken as 0.530000 V from 50 readings: it moves by 3000 Pa, known to ±233 Pa"
                        + " (95 %)");

        assertThat(gas(chain, at(10, "gas-volts", 0.530, VOLT))).isCloseTo(3000, within(1e-6));
        chain.setZero(captured);
        assertThat(gas(chain, at(11, "gas-volts", 0.530, VOLT))).isCloseTo(0, within(1e-6));
        assertThat(gas(chain, at(12, "gas-volts", 2.530, VOLT))).isCloseTo(2e5, within(1e-6));
        assertThat(ZeroCapture.settingName("gas")).isEqualTo("setting-zero-gas");
    }

    @Test
    void aSourceThatReportsPressureCanBeZeroedTooAndAgain() {
        CorrectionChain chain = chain();
        List<Reading> resting = new ArrayList<>();
        for (int i = 0; i < 20; i++) {
            resting.addAll(chain.correct(List.of(at(i, "gas", 12, Unit.HECTOPASCAL))));
        }
        assertThat(names(resting)).containsOnly("gas");
        chain.setZero((ZeroCapture.Captured) chain.captureZero("gas", resting));
        List<Reading> zeroed = new ArrayList<>();
        for (int i = 20; i < 40; i++) {
            zeroed.addAll(chain.correct(List.of(at(i, "gas", 17, Unit.HECTOPASCAL))));
        }
        assertThat(names(zeroed.subList(0, 2))).containsExactly("gas-raw", "gas");
        assertThat(zeroed.get(1).value()).isCloseTo(500, within(1e-9));
        ZeroCapture.Captured again = (ZeroCapture.Captured) chain.captureZero("gas", zeroed);
        assertThat(again.zero()).as("from the raw readings").isCloseTo(1700, within(1e-9));
        assertThat(again.readings()).isEqualTo(20);
    }

    @Test
    void aZeroIsRefusedWithItsReason() {
        CorrectionChain chain = chain(fourBar);
        assertThat(refusal(chain.captureZero("gas", outputs(9, 0.5, 0)))).isEqualTo(ZeroCapture.Reason.TOO_FEW);
        assertThat(refusal(chain.captureZero("gas", outputs(50, 0.5, 0.05)))).isEqualTo(ZeroCapture.Reason.TOO_NOISY);
        assertThat(refusal(chain.captureZero("gas", outputs(50, 0.8, 0)))).isEqualTo(ZeroCapture.Reason.TOO_FAR);
        assertThat(refusal(chain.captureZero("chamber", outputs(50, 0.5, 0))))
                .isEqualTo(ZeroCapture.Reason.NOT_A_PRESSURE);
        assertThat(chain.captureZero("gas", outputs(50, 0.8, 0)).words())
                .isEqualTo("gas reads 30000 Pa where its low end should be; allowed are 12000 Pa to either side:"
                        + " is the hose off?");
        assertThatThrownBy(() -> chain.setZero("chamber", 0.5, NAN)).hasMessageContaining("shed:chamber");
        assertThatThrownBy(() -> chain.setZero("gas", NAN, NAN)).hasMessageContaining("zero of shed:gas is NaN");
    }

    @Test
    void faultsAndCorrectedReadingsDoNotEnterAZero() {
        CorrectionChain chain = chain(fourBar);
        List<Reading> mixed = new ArrayList<>(outputs(20, 0.51, 0));
        mixed.add(Frames.faultAt(50, "gas-volts", VOLT, Quality.OPEN));
        mixed.add(at(51, "gas", 4e5, PASCAL));
        mixed.add(at(51, "chamber", 900, Unit.CELSIUS));
        ZeroCapture.Captured captured = (ZeroCapture.Captured) chain.captureZero("gas", mixed);
        assertThat(captured.readings()).isEqualTo(20);
        assertThat(captured.zero()).isCloseTo(0.51, within(1e-12));
    }

    @Test
    void wrongCalibrationsAreRefusedByFieldValueAndWhatIsAllowed() {
        assertThatThrownBy(
                        () -> new PressureCalibration("gas", Output.CURRENT_LOOP, 4, 0, 20, 4e5, NAN, 150, NAN, 0.01))
                .hasMessage("calibration of gas: low output is 4.0; allowed are 0.0 to 0.05 A");
        assertThatThrownBy(() ->
                        new PressureCalibration("gas", Output.RATIOMETRIC_VOLTS, 0.5, 0, 0.5, 4e5, 5, NAN, NAN, 0.01))
                .hasMessage("calibration of gas: high output is 0.5; it must differ from the low output");
        assertThatThrownBy(() -> new ThermocoupleCalibration(
                        "chamber",
                        ThermocoupleCalibration.Amplifier.ANALOGUE,
                        5,
                        0,
                        ToleranceClass.IEC_1,
                        NAN,
                        NAN,
                        NAN))
                .hasMessage("calibration of chamber: sensitivity is 5.0; allowed are 1.0E-4 to 1.0 V/K");
        assertThatThrownBy(() -> new PointsCalibration("shell", 1, 0, 1, 100, NAN))
                .hasMessage("calibration of shell: second point read is 1.0; it must differ from the first");
        assertThatThrownBy(() -> chain(fourBar, PressureCalibration.ratiometric("gas", 1e5)))
                .hasMessageContaining("channel gas is calibrated twice");
        assertThatThrownBy(() -> chain(PressureCalibration.ratiometric("a gas", 1e5)))
                .hasMessageContaining("channel \"a gas\"");
        WallTime time = Frames.START;
        Reading stranger = Reading.good(new Channel("barn", "gas"), 0, PASCAL, time, time);
        assertThatThrownBy(() -> chain().correct(List.of(stranger)))
                .hasMessage("reading of barn:gas given to the chain of forge " + FORGE);
    }

    private static ZeroCapture.Reason refusal(ZeroCapture capture) {
        assertThat(capture).isInstanceOf(ZeroCapture.Refused.class);
        return ((ZeroCapture.Refused) capture).reason();
    }

    private static List<Reading> outputs(int count, double volt, double swing) {
        List<Reading> readings = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            readings.add(at(i, "gas-volts", volt + (i % 2 == 0 ? swing : -swing), VOLT));
        }
        return readings;
    }

    private static Quality gasFrom(PressureCalibration calibration, double volt) {
        return only("gas", chain(calibration).correct(List.of(at(0, "gas-volts", volt, VOLT))))
                .quality();
    }

    private static double gas(CorrectionChain chain, Reading raw) {
        return only("gas", chain.correct(List.of(raw))).value();
    }
}
