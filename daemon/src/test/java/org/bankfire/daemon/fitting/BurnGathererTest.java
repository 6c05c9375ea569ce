package org.bankfire.daemon.fitting;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.daemon.fitting.Burns.T0;

import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.RunningLog;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.fitting.Burns.Listening;
import org.bankfire.daemon.fitting.GatheredBurn.Stage;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

class BurnGathererTest {
    private static final double COOL_DOWN_S = 1_200;
    private static final double OFF_S = 620;

    private final Listening told = new Listening();
    private BurnGatherer gatherer;

    @BeforeEach
    void create() throws Exception {
        gatherer = new BurnGatherer(Burns.shed().description(), COOL_DOWN_S, List.of(told));
    }

    private void readings(int fromS, int toS) {
        for (int s = fromS; s < toS; s++) {
            Burns.at(s, OFF_S).forEach(gatherer::accept);
        }
    }

    private List<Stage> stages() {
        return told.taken.stream().map(GatheredBurn::stage).toList();
    }

    @Test
    void aBurnBeginsWithItsGasThoughItIsKnownOnlyLater() {
        readings(0, 32);
        gatherer.accept(Burns.burning(20));
        readings(32, 90);
        assertThat(told.begun).containsExactly("shed-20260301T100020Z");
        assertThat(stages()).containsExactly(Stage.BURNING);
        GatheredBurn burn = told.taken.get(0);
        assertThat(burn.start()).isEqualTo(T0.plusSeconds(20));
        assertThat(burn.record().samples()).as("from 20 s to 80 s").isEqualTo(61);
        Stretch first = burn.record().stretches().get(0);
        assertThat(first.gaugePa()).isEqualTo(80_000);
        assertThat(first.lit()).isTrue();
    }

    @Test
    void itIsOfferedEveryMinuteThenAtItsEndAndWithItsCoolDown() {
        readings(0, 32);
        gatherer.accept(Burns.burning(20));
        readings(32, 625);
        assertThat(stages()).hasSize(10).containsOnly(Stage.BURNING);
        gatherer.accept(Burns.over(20, 620));
        assertThat(stages()).hasSize(11).endsWith(Stage.ENDED);
        readings(625, 1_900);
        assertThat(stages()).hasSize(12).endsWith(Stage.COOLED);
        GatheredBurn cooled = told.taken.get(11);
        assertThat(cooled.end()).isEqualTo(T0.plusSeconds(OFF_S + COOL_DOWN_S));
        assertThat(cooled.record().stretches().get(0).lit()).isTrue();
        assertThat(cooled.record()
                        .stretches()
                        .get(cooled.record().stretches().size() - 1)
                        .lit())
                .isFalse();
        gatherer.accept(Burns.over(20, 620));
        readings(1_900, 4_000);
        gatherer.finish();
        assertThat(stages()).as("taken once").hasSize(12);
    }

    @Test
    void whatComesAfterTheCoolDownIsNotInIt() {
        gatherer.accept(Burns.burning(20));
        readings(32, 625);
        gatherer.accept(Burns.over(20, 620));
        readings(625, 700);
        told.taken.clear();
        readings(9_000, 9_001);
        assertThat(stages()).containsExactly(Stage.COOLED);
        assertThat(told.taken.get(0).end()).isEqualTo(T0.plusSeconds(699));
        assertThat(told.taken.get(0).record().endS()).isBetween(679.0, 681.0);
    }

    @Test
    void theNextBurnEndsTheCoolDown() {
        readings(0, 32);
        gatherer.accept(Burns.burning(20));
        readings(32, 625);
        gatherer.accept(Burns.over(20, 620));
        readings(625, 900);
        told.taken.clear();
        gatherer.accept(Burns.burning(880));
        assertThat(stages()).containsExactly(Stage.COOLED);
        GatheredBurn cooled = told.taken.get(0);
        assertThat(cooled.burnId()).isEqualTo("shed-20260301T100020Z");
        assertThat(cooled.end()).isEqualTo(T0.plusSeconds(880));
        assertThat(cooled.record().endS()).isBetween(800.0, 860.0);
        readings(900, 950);
        assertThat(told.begun).endsWith("shed-20260301T101440Z");
        assertThat(stages()).hasSize(2).endsWith(Stage.BURNING);
    }

    @Test
    void whatIsNotWantedIsOfferedAgainSoonAndNotMade() throws Exception {
        boolean[] wanted = {false};
        Listening choosy = new Listening();
        BurnGatherer busy = new BurnGatherer(Burns.shed().description(), COOL_DOWN_S, List.of(new BurnTaker() {
            @Override
            public boolean wants(String forge, String burnId, Stage stage) {
                return wanted[0];
            }

            @Override
            public void take(GatheredBurn burn) {
                choosy.take(burn);
            }
        }));
        busy.accept(Burns.burning(0));
        for (int s = 0; s < 200; s++) {
            wanted[0] = s >= 100;
            Burns.at(s, OFF_S).forEach(busy::accept);
        }
        assertThat(choosy.taken).hasSize(2);
        assertThat(choosy.taken.get(0).end()).isEqualTo(T0.plusSeconds(100));
    }

    @Test
    void settingsFromBeforeTheBurnAreInForce() {
        gatherer.accept(new Setting("shed", T0.plusSeconds(-9_000), Setting.PLUG, "out", ""));
        gatherer.accept(new Setting("shed", T0.plusSeconds(-9_000), "setting-jet", "0.9", "mm"));
        gatherer.accept(Burns.burning(0));
        readings(0, 70);
        assertThat(told.taken.get(0).record().stretches()).noneMatch(Stretch::plugIn);
        assertThat(told.taken.get(0).forge().burner().jetDiameterM()).isCloseTo(0.9e-3, within(1e-12));
    }

    @Test
    void aBurnThatWasOverBeforeTheStartIsNotOne() {
        gatherer.accept(Burns.over(-4_000, -900));
        readings(0, 200);
        gatherer.finish();
        assertThat(told.taken).isEmpty();
        assertThat(told.begun).isEmpty();
    }

    @Test
    void whatIsToldOfThePastIsPassedOn() {
        Setting jet = new Setting("shed", T0.plusSeconds(-9_000), "setting-jet", "0.8", "mm");
        RunningLog before = new RunningLog();
        before.accept(jet);
        gatherer.restore(before);
        assertThat(told.retold).as("known before").isEmpty();
        readings(0, 32);
        gatherer.accept(Burns.burning(20));
        gatherer.accept(new Note("shed", T0.plusSeconds(25), "stock", "in"));
        gatherer.accept(new Setting("shed", T0.plusSeconds(26), "setting-choke", "half", ""));
        assertThat(told.retold).as("of the burn in hand, or nothing to a fit").isEmpty();
        EntryKey key = new EntryKey(jet.time(), jet.name());
        gatherer.accept(new Correction("shed", T0.plusSeconds(30), key, T0, null, false, "").note());
        gatherer.accept(new Note("shed", T0.plusSeconds(-90_000), "stock", "in"));
        gatherer.accept(new Setting("shed", T0.plusSeconds(-80_000), "setting-choke", "half", ""));
        assertThat(told.retold)
                .containsExactly(
                        new Retold(null, key, T0),
                        Retold.justNow(new EntryKey(T0.plusSeconds(-90_000), "stock"), null));
    }
}
