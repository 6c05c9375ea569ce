package org.bankfire.daemon.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.Writer;
import java.nio.file.Path;
import java.util.List;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.config.ForgeConfig;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What a forge's monitor hears of settings that are written late, corrected or withdrawn: seen by the flow through the jet. */
class CorrectedLaneTest {
    private static final WallTime START = WallTime.ofEpochSeconds(1_772_359_212);
    private static final double DESCRIBED_MM = 0.8;

    private Pipeline pipeline;
    private double describedKgPerS;

    @BeforeEach
    void light() throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        List<ForgeConfig> forges =
                ConfigReader.read(example, List.of()).config().forges();
        assertThat(forges.get(0).description().burner().jetDiameterM()).isEqualTo(DESCRIBED_MM / 1000);
        pipeline = new Pipeline(forges, new RecordedOutput(new EventWriter(Writer.nullWriter()), null, false));
        gas(0);
        describedKgPerS = flow();
    }

    private double flow() {
        return List.copyOf(pipeline.lanes()).get(0).monitor().snapshot().gasFlowKgPerS();
    }

    /** The flow goes with the bore's area. */
    private void holds(double jetMm) {
        double area = (jetMm / DESCRIBED_MM) * (jetMm / DESCRIBED_MM);
        assertThat(flow() / describedKgPerS).isCloseTo(area, within(1e-9));
    }

    private void gas(double timeS) {
        WallTime time = START.plusSeconds(timeS);
        pipeline.accept(new Pack(
                List.of(Reading.good(new Channel("shed", "gas"), 60_000, Unit.PASCAL, time, time)),
                List.of(),
                List.of()));
    }

    private void jet(double timeS, String mm) {
        Setting setting = new Setting("shed", START.plusSeconds(timeS), "setting-jet", mm, "mm");
        pipeline.accept(new Pack(List.of(), List.of(), List.of(setting)));
    }

    private void correct(double timeS, double ofS, String what) {
        Note note = new Note(
                "shed", START.plusSeconds(timeS), Note.CORRECTION, START.plusSeconds(ofS) + " setting-jet " + what);
        pipeline.accept(new Pack(List.of(), List.of(note), List.of()));
    }

    @Test
    void aJetThatIsWrittenDownLateHoldsOnlyWhenNoneCameSince() {
        gas(1_000);
        jet(1_000, "0.9");
        holds(0.9);
        jet(-500, "0.5");
        holds(0.9);
        jet(1_000.5, "1.0");
        holds(1.0);
    }

    @Test
    void aCorrectionHasItsEffectOnlyOnWhatIsInForce() {
        jet(1, "0.7");
        gas(1_000);
        jet(1_000, "0.9");
        correct(1_010, 1, "is 0.6 mm");
        holds(0.9);
        correct(1_020, 1_000, "is 1.1 mm");
        holds(1.1);
        correct(1_030, 1_000, "withdrawn");
        holds(0.6);
        correct(1_040, 1, "withdrawn");
        holds(DESCRIBED_MM);
        correct(1_050, 1_000, "is 1.2 mm");
        holds(1.2);
    }

    @Test
    void aMomentThatIsCorrectedDecidesWhichOfTwoHolds() {
        jet(1, "0.7");
        gas(1_000);
        jet(1_000, "0.9");
        correct(1_010, 1, "at " + START.plusSeconds(1_005));
        holds(0.7);
        correct(1_020, 1_000, "at " + START.plusSeconds(1_007));
        holds(0.9);
    }

    @Test
    void aCorrectionThatComesBeforeItsEntryWaitsForIt() {
        correct(10, 5, "is 1.1 mm");
        holds(DESCRIBED_MM);
        jet(5, "0.9");
        holds(1.1);
    }

    @Test
    void aClockThatWasSetBackHidesNoSetting() {
        gas(7_200);
        jet(7_200, "0.9");
        pipeline.accept(new Pack(
                List.of(), List.of(new Note("shed", START.plusSeconds(3_600), Note.CLOCK_STEP, "-3600")), List.of()));
        gas(3_601);
        jet(3_602, "1.1");
        holds(1.1);
        correct(3_610, 3_602, "is 1.2 mm");
        holds(1.2);
    }

    @Test
    void whatCannotBeReadChangesNothing() {
        jet(1, "0.9");
        correct(2, 1, "perhaps 0.7 mm");
        correct(3, 1, "is a wide one");
        holds(0.9);
    }
}
