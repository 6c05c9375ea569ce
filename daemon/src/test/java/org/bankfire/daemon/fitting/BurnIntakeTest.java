package org.bankfire.daemon.fitting;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.daemon.fitting.Burns.T0;
import static org.bankfire.daemon.fitting.Burns.reading;

import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;

class BurnIntakeTest {
    private final BurnIntake intake = new BurnIntake(T0);

    private GatheredBurn gathered() throws Exception {
        return intake.gathered(
                Burns.shed().description(), "shed-1", GatheredBurn.Stage.COOLED, Double.POSITIVE_INFINITY);
    }

    private List<Stretch> stretches() throws Exception {
        return gathered().record().stretches();
    }

    private static Stretch at(List<Stretch> stretches, double timeS) {
        return stretches.stream()
                .filter(stretch -> stretch.startS() <= timeS && timeS < stretch.endS())
                .findFirst()
                .orElseThrow();
    }

    /** A steady burn of so many seconds. */
    private void burn(int fromS, int toS) {
        for (int s = fromS; s < toS; s++) {
            intake.take(reading("chamber", s, 900, Unit.CELSIUS));
        }
    }

    @Test
    void readingsBecomeKelvinAndPascal() throws Exception {
        intake.take(reading("chamber", 0, 900, Unit.CELSIUS));
        intake.take(reading("gas", 0, 82.5, Unit.KILOPASCAL));
        intake.take(reading("ambient", 0, 12, Unit.CELSIUS));
        Stretch first = stretches().get(0);
        assertThat(first.chamberK()).isEqualTo(1_173.15);
        assertThat(first.gaugePa()).isEqualTo(82_500);
        assertThat(first.ambientK()).isEqualTo(285.15);
    }

    @Test
    void onlyGoodReadingsOfTheRightKindCount() throws Exception {
        Channel chamber = new Channel("shed", "chamber");
        intake.take(Reading.fault(chamber, Unit.CELSIUS, Quality.OPEN, T0, T0));
        intake.take(new Reading(chamber, 1_500, Unit.CELSIUS, Double.NaN, Quality.UNCERTAIN, T0, T0));
        intake.take(reading("chamber", 1, 30, Unit.MILLIVOLT));
        intake.take(reading("gas", 1, 4, Unit.VOLT));
        intake.take(reading("shell", 1, 90, Unit.CELSIUS));
        assertThat(intake.hasChamber()).isFalse();
        assertThat(stretches()).isEmpty();
    }

    @Test
    void stockAndPlugAreWhereTheHandsPutThem() throws Exception {
        intake.take(new Setting("shed", T0.plusSeconds(-3_600), Setting.PLUG, "out", ""));
        intake.take(new Note("shed", T0.plusSeconds(20), Note.STOCK, "In: 16 mm bar"));
        intake.take(new Note("shed", T0.plusSeconds(40), Note.STOCK, "out"));
        intake.take(new Note("shed", T0.plusSeconds(30), Note.STOCK, "inside of the shed it rains"));
        intake.take(new Setting("shed", T0.plusSeconds(40), Setting.PLUG, "in", ""));
        burn(0, 60);
        List<Stretch> stretches = stretches();
        assertThat(at(stretches, 10)).returns(false, Stretch::plugIn).returns(false, Stretch::stockIn);
        assertThat(at(stretches, 25)).returns(false, Stretch::plugIn).returns(true, Stretch::stockIn);
        assertThat(at(stretches, 35)).returns(true, Stretch::stockIn);
        assertThat(at(stretches, 50)).returns(true, Stretch::plugIn).returns(false, Stretch::stockIn);
    }

    @Test
    void theJetThatWasInBeforeTheBurnIsTheForges() throws Exception {
        intake.take(new Setting("shed", T0.plusSeconds(-60), "setting-jet", "0.9", "mm"));
        intake.take(new Setting("shed", T0.plusSeconds(60), "setting-jet", "1.2", "mm"));
        assertThat(gathered().forge().burner().jetDiameterM()).isCloseTo(0.9e-3, within(1e-12));
        intake.take(new Setting("shed", T0.plusSeconds(-50), "setting-jet", "a wide one", "mm"));
        intake.take(new Setting("shed", T0.plusSeconds(-40), "setting-jet", "90", "mm"));
        assertThat(gathered().forge())
                .as("none that a burner can have")
                .isEqualTo(Burns.shed().description());
    }

    @Test
    void theCylinderTellsTheGasAlsoWhenItIsChanged() throws Exception {
        intake.take(reading("cylinder", -5, 25, Unit.KILOGRAM));
        double[] massesKg = {12, 11.8, 11.5, 20.4, 20.2};
        for (int i = 0; i < massesKg.length; i++) {
            intake.take(reading("cylinder", i * 60, massesKg[i], Unit.KILOGRAM));
        }
        assertThat(gathered().record().weighedGasKg()).isCloseTo(0.5 + 0.2, within(1e-9));
        assertThat(gathered().record().weighedUncertaintyKg()).isCloseTo(Math.sqrt(2) * 0.02, within(1e-9));
    }

    @Test
    void aCylinderWeighedBeforeLightingCounts() throws Exception {
        intake.take(reading("cylinder", -300, 12.4, Unit.KILOGRAM));
        intake.take(reading("cylinder", 3600, 11.6, Unit.KILOGRAM));
        assertThat(gathered().record().weighedGasKg()).isCloseTo(0.8, within(1e-9));
    }

    @Test
    void afterTheFlameNothingIsLit() throws Exception {
        burn(0, 60);
        intake.out(T0.plusSeconds(30));
        List<Stretch> stretches = stretches();
        assertThat(at(stretches, 20).lit()).isTrue();
        assertThat(at(stretches, 40).lit()).isFalse();
    }

    /** A small computer without a battery begins in 1970 and is set by the network in the middle of a burn. */
    @Test
    void aClockThatIsSetDoesNotTearTheBurn() throws Exception {
        burn(0, 60);
        double stepS = 1e8;
        WallTime after = T0.plusSeconds(60 + stepS);
        intake.take(new Note("shed", after, Note.CLOCK_STEP, Double.toString(stepS)));
        intake.take(Reading.good(new Channel("shed", "chamber"), 900, Unit.CELSIUS, after, after));
        // A source with a clock of its own goes on as it did.
        intake.take(Reading.good(
                new Channel("shed", "chamber"), 900, Unit.CELSIUS, T0.plusSeconds(61), T0.plusSeconds(61 + stepS)));
        assertThat(intake.lengthS()).isEqualTo(61);
        assertThat(gathered().record().samples()).isEqualTo(62);
    }

    @Test
    void aBurnIsCutWhereTheNextOneBegins() throws Exception {
        burn(0, 600);
        GatheredBurn cut = intake.gathered(Burns.shed().description(), "shed-1", GatheredBurn.Stage.COOLED, 200);
        assertThat(cut.end()).isEqualTo(T0.plusSeconds(200));
        assertThat(cut.record().endS()).isBetween(100.0, 200.0);
        assertThat(cut.record().samples())
                .isEqualTo(Math.round(cut.record().endS()))
                .isEqualTo(cut.record().stretches().stream()
                        .mapToLong(Stretch::samples)
                        .sum());
    }

    @Test
    void whatIsCorrectedLaterCountsAsIfItHadBeenSaidAtFirst() throws Exception {
        intake.take(new Setting("shed", T0.plusSeconds(-60), "setting-jet", "0.9", "mm"));
        intake.take(new Setting("shed", T0.plusSeconds(20), Setting.PLUG, "out", ""));
        intake.take(new Note("shed", T0.plusSeconds(30), Note.STOCK, "in"));
        burn(0, 60);
        correct(100, T0.plusSeconds(-60), "setting-jet is 1.1 mm");
        correct(101, T0.plusSeconds(20), "plug at " + T0.plusSeconds(40));
        correct(102, T0.plusSeconds(30), "stock withdrawn");
        assertThat(gathered().forge().burner().jetDiameterM()).isCloseTo(1.1e-3, within(1e-12));
        List<Stretch> stretches = stretches();
        assertThat(at(stretches, 30)).returns(true, Stretch::plugIn);
        assertThat(at(stretches, 50)).returns(false, Stretch::plugIn).returns(false, Stretch::stockIn);
    }

    @Test
    void aWeighingIsCorrectedWithOrWithoutANoteOfItsOwn() throws Exception {
        intake.take(new Note("shed", T0.plusSeconds(-300), "cylinder", "112 kg"));
        intake.take(reading("cylinder", -300, 112, Unit.KILOGRAM));
        intake.take(reading("cylinder", 1_800, 1.06, Unit.KILOGRAM));
        intake.take(reading("cylinder", 3_600, 10.4, Unit.KILOGRAM));
        correct(4_000, T0.plusSeconds(-300), "cylinder is 11.2 kg");
        correct(4_001, T0.plusSeconds(1_800), "cylinder withdrawn");
        assertThat(gathered().record().weighedGasKg()).isCloseTo(0.8, within(1e-9));
    }

    @Test
    void manyWeighingsOfAScaleSayTheSameAsAll() throws Exception {
        int count = 10_000;
        for (int i = 0; i < count; i++) {
            // The cylinder is changed half way.
            double massKg = i < count / 2 ? 12 - i * 1e-4 : 20 - i * 1e-4;
            intake.take(reading("cylinder", i, massKg, Unit.KILOGRAM));
        }
        assertThat(gathered().record().weighedGasKg()).isCloseTo((count - 1) * 1e-4, within(0.01));
    }

    private void correct(int timeS, WallTime of, String what) {
        intake.take(new Note("shed", T0.plusSeconds(timeS), Note.CORRECTION, of + " " + what));
    }
}
