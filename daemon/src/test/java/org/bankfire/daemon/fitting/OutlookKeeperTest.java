package org.bankfire.daemon.fitting;

import static org.assertj.core.api.Assertions.assertThat;
import static org.bankfire.daemon.fitting.Burns.T0;

import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.ForgeRun;
import org.bankfire.analysis.outlook.OutlookSettings;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.daemon.fitting.GatheredBurn.Stage;
import org.bankfire.dashboard.source.OutlookBook.Seen;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

class OutlookKeeperTest {
    private ForgeDescription shed;
    private int timesKnown;
    private long nanoTime;
    private OutlookKeeper keeper;

    @BeforeEach
    void makeKeeper() throws Exception {
        shed = Burns.shed().description();
        keeper = new OutlookKeeper(
                forge -> {
                    timesKnown++;
                    return KnownForge.described(forge, 20);
                },
                id -> OutlookSettings.of(shed),
                id -> true,
                () -> nanoTime);
    }

    /** A burn at 0.9 bar, turned down to 0.5 bar at 1,200 s, by the forge as described. */
    private GatheredBurn burn(String id, double endS, Stage stage) {
        ForgeModel model = new ForgeModel(shed, ForgeParameters.of(shed));
        ForgeRun run = new ForgeRun(model, shed.ambientK(), shed.ambientK());
        BurnRecorder recorder = new BurnRecorder();
        for (int i = 0; i < endS; i++) {
            double gaugePa = i < 1_200 ? 90e3 : 50e3;
            run.fire(new Firing(model.gasKgPerS(gaugePa, shed.ambientK()), true));
            run.advanceTo(i + 0.5);
            recorder.chamber(i, run.chamberK());
            recorder.gas(i, gaugePa);
        }
        return new GatheredBurn(shed, id, T0, T0.plusSeconds(endS), stage, recorder.record());
    }

    @Test
    void aBurnThatGoesOnIsLookedAheadOfAndOneThatHasEndedIsNot() {
        assertThat(keeper.outlook("shed", Double.NaN)).isEmpty();
        keeper.begun("shed", "shed-1");
        keeper.work(burn("shed-1", 1_500, Stage.BURNING));
        Seen seen = keeper.outlook("shed", Double.NaN).orElseThrow();
        assertThat(seen.burnId()).isEqualTo("shed-1");
        assertThat(seen.start()).isEqualTo(T0);
        assertThat(seen.hasFit()).isTrue();
        assertThat(seen.outlook().settling()).isPresent();
        assertThat(seen.outlook().idle().orElseThrow().pause().pauseS()).isEqualTo(OutlookSettings.USUAL_PAUSE_S);
        assertThat(keeper.outlook("loft", Double.NaN)).isEmpty();
        keeper.work(burn("shed-1", 1_600, Stage.ENDED));
        assertThat(keeper.outlook("shed", Double.NaN)).isEmpty();
    }

    @Test
    void anOutlookThatNothingRenewsIsNotShownForLong() {
        keeper.begun("shed", "shed-1");
        keeper.work(burn("shed-1", 1_500, Stage.BURNING));
        nanoTime += 119_000_000_000L;
        assertThat(keeper.outlook("shed", Double.NaN)).isPresent();
        nanoTime += 2_000_000_000L;
        assertThat(keeper.outlook("shed", Double.NaN)).isEmpty();
    }

    @Test
    void anotherPauseIsReckonedWhenItIsAskedFor() {
        keeper.begun("shed", "shed-1");
        keeper.work(burn("shed-1", 1_500, Stage.BURNING));
        Seen asked = keeper.outlook("shed", 3_600).orElseThrow();
        assertThat(asked.outlook().idle().orElseThrow().pause().pauseS()).isEqualTo(3_600);
        assertThat(keeper.outlook("shed", 3_600).orElseThrow().outlook()).isSameAs(asked.outlook());
        assertThat(keeper.outlook("shed", Double.NaN)
                        .orElseThrow()
                        .outlook()
                        .idle()
                        .orElseThrow()
                        .pause()
                        .pauseS())
                .isEqualTo(OutlookSettings.USUAL_PAUSE_S);
    }

    @Test
    void whatIsKnownOfAForgeIsLookedUpOnceAMinute() {
        keeper.begun("shed", "shed-1");
        keeper.work(burn("shed-1", 600, Stage.BURNING));
        keeper.work(burn("shed-1", 605, Stage.BURNING));
        assertThat(timesKnown).isEqualTo(1);
        keeper.work(burn("shed-1", 670, Stage.BURNING));
        assertThat(timesKnown).isEqualTo(2);
    }

    @Test
    void anOutlookOfABurnThatIsOverByThenIsDropped() {
        keeper.begun("shed", "shed-1");
        keeper.begun("shed", "shed-2");
        keeper.work(burn("shed-1", 1_500, Stage.BURNING));
        assertThat(keeper.outlook("shed", Double.NaN)).isEmpty();
    }

    @Test
    void forecastsAreScoredOnceWhatTheyWereOfHasHappened() {
        keeper.begun("shed", "shed-1");
        for (int endS = 1_210; endS <= 6_000 && keeper.score("shed").count() == 0; endS += 100) {
            keeper.work(burn("shed-1", endS, Stage.BURNING));
        }
        assertThat(keeper.score("shed").count()).isEqualTo(1);
        // The forge is the one that is known.
        assertThat(Math.abs(keeper.score("shed").meanErrorK())).isLessThan(10);
        assertThat(keeper.score("shed").shareInBand()).isEqualTo(1);
    }
}
