package org.bankfire.analysis.trial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.ForgeRun;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Materials;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;

/**
 * Burns that the model itself has made: whether a model that is right brings them to common conditions. Whether it is right
 * enough is judged against the virtual forge.
 */
final class TrialSeriesTest {
    private static final ForgeDescription SHED = new ForgeDescription(
            "shed",
            "Shed",
            1173.15,
            293.15,
            0,
            new Burner(Fuel.PROPANE, 0.8e-3, 18e-3, 0.85, 0.025),
            0.2,
            0.16,
            0.23,
            12,
            List.of(new Layer(Materials.find("insulating-firebrick-23").orElseThrow(), 0.076)),
            List.of(new Opening("front", 0.09, 0.11, false), new Opening("rear", 0.076, 0.08, true)));

    private static Setting setting(int burn, String name, String value) {
        return new Setting("shed", start(burn), name, value, "");
    }

    private static WallTime start(int burn) {
        return WallTime.ofEpochSeconds(1_772_359_200 + 86_400.0 * burn);
    }

    /** A heat-up by the second, with noise of half a kelvin. */
    private static TrialBurn burn(int number, double ambientK, double gaugePa, double endS, List<Setting> settings) {
        ForgeModel model = new ForgeModel(SHED, ForgeParameters.of(SHED));
        ForgeRun run = new ForgeRun(model, ambientK, ambientK);
        run.fire(new Firing(model.gasKgPerS(gaugePa, ambientK), true));
        BurnRecorder readings = new BurnRecorder();
        TrialRecorder recorder = new TrialRecorder();
        Random random = new Random(number);
        for (double timeS = 0; timeS < endS; timeS += 0.25) {
            double kelvin = run.chamberK() + 0.5 * random.nextGaussian();
            readings.chamber(timeS, kelvin);
            recorder.chamber(timeS, kelvin);
            readings.gas(timeS, gaugePa);
            readings.ambient(timeS, ambientK);
            run.advanceTo(timeS + 0.25);
        }
        settings.forEach(setting -> recorder.setting(setting.time().secondsSince(start(number)), setting));
        return recorder.burn("shed-" + number, start(number), SHED, readings.record(), null);
    }

    private static StretchFigure first(Trial trial) {
        return trial.stretches().get(0).figures().get(0);
    }

    @Test
    void differencesOfWeatherAndRegulatorAreTakenOutByTheModel() {
        List<TrialBurn> burns = List.of(
                burn(1, 278.15, 95e3, 1500, List.of(setting(1, "setting-choke", "open"))),
                burn(2, 303.15, 75e3, 1500, List.of(setting(2, "setting-choke", "half"))));
        TrialSeries series = TrialSeries.of(SHED, burns, List.of());
        assertThat(series.trials()).hasSize(2);
        double rawA = first(series.trials().get(0)).band().value();
        double rawB = first(series.trials().get(1)).band().value();
        assertThat(rawB / rawA).isGreaterThan(1.2);
        TrialComparison comparison = series.comparisons().get(0);
        TrialComparison.Difference time = comparison.differences().get(0);
        assertThat(comparison.changed()).containsExactly("choke");
        assertThat(time.value()).isCloseTo(0, within(1.0));
        assertThat(time.verdict()).isNotEqualTo(Verdict.REAL);
        assertThat(time.correctedFrom()).isNotNull();
        assertThat(time.scatter())
                .isNotNull()
                .extracting(TrialComparison.Scatter::source)
                .isEqualTo(ScatterSource.USUAL);
    }

    @Test
    void whatABurnDoesNotTellIsSaidWithWhatWould() {
        TrialBurn shortBurn = burn(1, 293.15, 80e3, 61, List.of());
        TrialSeries series = TrialSeries.of(SHED, List.of(shortBurn), List.of());
        StretchFigure time = first(series.trials().get(0));
        assertThat(time.isTold()).isFalse();
        assertThat(time.because()).startsWith("the chamber came to ");
        assertThat(time.would()).isEqualTo("heat up to 900 °C without turning the gas down");
        assertThat(series.trials().get(0).stretches().get(0).figures())
                .filteredOn(figure -> figure.key().figure().isFitted())
                .allSatisfy(figure -> assertThat(figure.because()).contains("no fit"));
        assertThat(series.comparisons()).isEmpty();
    }

    @Test
    void aBurnIsCutWhereASettingChangesAndNotWhereTheDaemonKeepsOne() {
        Setting plug = new Setting("shed", start(1).plusSeconds(800), "plug", "out", "");
        Setting kept = new Setting("shed", start(1).plusSeconds(400), "setting-wire-hours", "3.2", "");
        TrialSeries series = TrialSeries.of(SHED, List.of(burn(1, 293.15, 90e3, 1500, List.of(plug, kept))), List.of());
        assertThat(series.trials()).hasSize(2);
        assertThat(series.trials().get(0).settings().words()).isEqualTo("jet 0.8 mm, plug in");
        assertThat(series.trials().get(1).settings().words()).isEqualTo("jet 0.8 mm, plug out");
        TrialStretch second = series.trials().get(1).stretches().get(0).stretch();
        assertThat(second.fromS()).isEqualTo(800);
        assertThat(first(series.trials().get(1)).because()).isEqualTo("the settings were changed after lighting");
        assertThat(second.curve().size()).isBetween(2, 200);
    }

    @Test
    void theMostTellingBurnIsOneThatNobodyKnowsAndTheModelKnowsTheJet() {
        List<TrialBurn> burns = new ArrayList<>();
        for (int i = 0; i < 4; i++) {
            burns.add(burn(i, 293.15, 85e3, 1500, List.of(setting(i, "setting-choke", "open"))));
        }
        List<Setting> inForce = List.of(
                setting(5, "setting-choke", "open"),
                setting(5, "setting-possible-choke", "open, half"),
                setting(5, "setting-possible-jet", "0.7, 0.8, 0.9"));
        NextTrial next = TrialSeries.of(SHED, burns, inForce).next();
        assertThat(next.proposals()).hasSize(4);
        assertThat(next.proposals()).filteredOn(NextTrial.Proposal::repeat).hasSize(1);
        NextTrial.Proposal choke = proposal(next, "choke half");
        assertThat(choke.known()).isEqualTo(NextTrial.Known.NOTHING);
        NextTrial.Proposal small = proposal(next, "jet 0.7 mm");
        assertThat(small.known()).isEqualTo(NextTrial.Known.MODEL);
        assertThat(small.expected().value()).isGreaterThan(10);
        NextTrial.Proposal repeat = proposal(next, "the present settings once more");
        assertThat(next.proposals().get(0).informationBits()).isGreaterThan(repeat.informationBits());
        assertThat(next.why()).contains("would tell most");
        assertThat(next.proposals().stream()
                        .mapToDouble(NextTrial.Proposal::chanceBest)
                        .sum())
                .isCloseTo(1, within(1e-9));
    }

    private static NextTrial.Proposal proposal(NextTrial next, String change) {
        return next.proposals().stream()
                .filter(each -> each.change().equals(change))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void withoutAnythingPossibleItSaysHowToMarkIt() {
        NextTrial next = TrialSeries.of(SHED, List.of(), List.of()).next();
        assertThat(next.proposals()).isEmpty();
        assertThat(next.why()).contains("setting-possible-jet");
    }
}
