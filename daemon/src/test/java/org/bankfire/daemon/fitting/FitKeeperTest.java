package org.bankfire.daemon.fitting;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.daemon.fitting.Burns.T0;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.LiningTrend;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.fitting.GatheredBurn.Stage;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class FitKeeperTest {
    private static final double DAY_S = 86_400;
    private static final String FIRST = "shed-20260301T100000Z";

    private final List<LiningTrend> trends = new ArrayList<>();
    private final List<StoredFit> written = new ArrayList<>();
    private final List<Double> jetsMm = new ArrayList<>();
    private WallTime now = T0.plusSeconds(9_999);
    private double lossWPerK = 1.7;
    private double latestWPerK = Double.NaN;
    private ReadingStore store;
    private FitKeeper keeper;

    @TempDir
    Path folder;

    @BeforeEach
    void open() throws Exception {
        store = SqliteStore.open(folder.resolve("shed.db"));
        keeper = keeper();
    }

    private FitKeeper keeper() throws Exception {
        FitKeeper made = new FitKeeper(
                (forge, record) -> {
                    jetsMm.add(1_000 * forge.burner().jetDiameterM());
                    return Burns.telling(forge, lossWPerK);
                },
                store,
                written::add,
                () -> now,
                List.of(Burns.shed().description()));
        made.tell((forge, trend, latest) -> {
            trends.add(trend);
            latestWPerK = latest;
        });
        return made;
    }

    @AfterEach
    void close() throws Exception {
        store.close();
    }

    private void commit() throws StoreException {
        store.append(new StoreBatch(List.of(), List.of(), List.of(), List.of(), List.of(), written));
        written.clear();
    }

    private void fit(double startS, Stage stage) throws Exception {
        keeper.work(Burns.gathered(startS, stage));
    }

    @Test
    void theFitOfABurnThatGoesOnIsShownAndNotStored() throws Exception {
        assertThat(keeper.fitNow("shed")).isEmpty();
        keeper.begun("shed", FIRST);
        assertThat(keeper.fitNow("shed")).isEmpty();
        fit(0, Stage.BURNING);
        assertThat(keeper.fitNow("shed").orElseThrow())
                .contains("\"forge\":\"shed\"", "\"valueWPerK\":1.7", "\"start\":\"2026-03-01T10:00:00Z\"");
        assertThat(keeper.fitOf(FIRST)).isEqualTo(keeper.fitNow("shed"));
        assertThat(written).isEmpty();
        assertThat(trends).isEmpty();
    }

    @Test
    void anEndedBurnIsStoredAndStoredAgainWithItsCoolDown() throws Exception {
        keeper.begun("shed", FIRST);
        lossWPerK = Double.NaN;
        fit(0, Stage.ENDED);
        assertThat(written).singleElement().satisfies(fit -> {
            assertThat(fit.burnId()).isEqualTo(FIRST);
            assertThat(fit.finishedAt()).isEqualTo(T0.plusSeconds(9_999));
            assertThat(fit.loss()).as("not told yet").isNull();
            assertThat(fit.json()).isEqualTo(keeper.fitOf(FIRST).orElseThrow());
        });
        assertThat(keeper.fitNow("shed")).as("while it cools").isPresent();
        lossWPerK = 1.8;
        fit(0, Stage.COOLED);
        commit();
        assertThat(store.losses("shed", 9)).singleElement().satisfies(loss -> {
            assertThat(loss.wattsPerK().value()).isEqualTo(1.8);
            assertThat(loss.atC()).isEqualTo(1_000);
        });
        assertThat(keeper.fitNow("shed")).isEmpty();
        assertThat(keeper.fitOf(FIRST)).isPresent();
    }

    @Test
    void theNextBurnsBeginningHidesTheFitOfTheLast() throws Exception {
        keeper.begun("shed", FIRST);
        fit(0, Stage.BURNING);
        keeper.begun("shed", "shed-20260302T100000Z");
        fit(0, Stage.COOLED);
        assertThat(keeper.fitNow("shed")).isEmpty();
        fit(DAY_S, Stage.BURNING);
        assertThat(keeper.fitNow("shed")).isPresent();
        assertThat(keeper.fitOf("shed-20260302T100000Z")).isPresent();
    }

    @Test
    void twoBurnsThatLoseMoreAreTheConditionAlsoAfterARestart() throws Exception {
        for (int i = 0; i < 6; i++) {
            fit(i * DAY_S, Stage.COOLED);
            commit();
        }
        lossWPerK = 2.4;
        fit(6 * DAY_S, Stage.ENDED);
        assertThat(trends).as("only with its cool-down").hasSize(6);
        fit(6 * DAY_S, Stage.COOLED);
        commit();
        assertThat(trends).extracting(LiningTrend::lossUp).containsOnly(false).hasSize(7);
        // Not committed yet: the trend knows of it all the same.
        fit(7 * DAY_S, Stage.COOLED);
        assertThat(trends.get(7).lossUp()).isTrue();
        assertThat(trends.get(7).burns()).isEqualTo(8);
        assertThat(latestWPerK).isEqualTo(2.4);
        commit();

        trends.clear();
        keeper = keeper();
        keeper.first();
        assertThat(trends).singleElement().returns(true, LiningTrend::lossUp);
        lossWPerK = 1.7;
        fit(8 * DAY_S, Stage.COOLED);
        assertThat(trends.get(1).lossUp()).isFalse();
    }

    @Test
    void aBurnThatTellsNoLossLeavesTheTrendAsItIs() throws Exception {
        fit(0, Stage.COOLED);
        trends.clear();
        lossWPerK = Double.NaN;
        fit(DAY_S, Stage.COOLED);
        assertThat(trends).isEmpty();
        assertThat(written).hasSize(2);
    }

    @Test
    void aStoreThatCannotBeReadCostsTheTrendAndNotTheFit() throws Exception {
        store.close();
        fit(0, Stage.COOLED);
        assertThat(written).hasSize(1);
        assertThat(trends).singleElement().returns(1, LiningTrend::burns);
    }

    /** Three short burns, a day apart, of which the last two are fitted; the jet is told before the first and the third. */
    private void threeBurns() throws Exception {
        List<Reading> readings = new ArrayList<>();
        List<Burn> burns = new ArrayList<>();
        for (int day = 0; day < 3; day++) {
            for (int s = 0; s < 120; s++) {
                readings.add(Burns.reading("chamber", day * DAY_S + s, 20 + s, Unit.CELSIUS));
                readings.add(Burns.reading("gas", day * DAY_S + s, 80_000, Unit.PASCAL));
            }
            burns.add(Burns.over(day * DAY_S, day * DAY_S + 119));
        }
        List<Setting> jets = List.of(jet(-600, "0.8"), jet(1.5 * DAY_S, "0.9"));
        store.append(new StoreBatch(readings, List.of(), jets, List.of(), burns, List.of()));
        fit(DAY_S, Stage.COOLED);
        fit(2 * DAY_S, Stage.COOLED);
        commit();
        jetsMm.clear();
        trends.clear();
    }

    private static Setting jet(double timeS, String mm) {
        return new Setting("shed", T0.plusSeconds(timeS), "setting-jet", mm, "mm");
    }

    private Correction write(double atS, double entryS, String name, String value) throws StoreException {
        EntryKey entry = new EntryKey(T0.plusSeconds(entryS), name);
        Correction correction = new Correction("shed", T0.plusSeconds(atS), entry, null, value, false, "");
        store.append(new StoreBatch(List.of(), List.of(correction.note()), List.of(), List.of(), List.of(), List.of()));
        return correction;
    }

    private int catchUp() {
        int turns = 1;
        while (keeper.catchUp()) {
            turns++;
        }
        return turns;
    }

    private List<String> writtenBurns() {
        return written.stream().map(StoredFit::burnId).toList();
    }

    @Test
    void aBurnOfThePastIsFittedAnewWhenItsJetIsCorrected() throws Exception {
        threeBurns();
        now = T0.plusSeconds(4 * DAY_S);
        lossWPerK = 2.1;
        Correction correction = write(4 * DAY_S, -600, "setting-jet", "1 mm");
        keeper.retold("shed", Retold.justNow(correction.entry(), null));
        catchUp();
        assertThat(writtenBurns()).as("fitted before, and lit with that jet").containsExactly("shed-20260302T100000Z");
        assertThat(jetsMm).singleElement().satisfies(mm -> assertThat(mm).isCloseTo(1, within(1e-9)));
        assertThat(written.get(0).finishedAt()).isEqualTo(now);
        assertThat(trends).singleElement().returns(2, LiningTrend::burns);
        assertThat(latestWPerK).as("of the latest burn, which stands").isEqualTo(1.7);
        commit();
        assertThat(catchUp()).as("nothing is left").isOne();
        assertThat(written).isEmpty();
    }

    @Test
    void whatWasCorrectedWhileNoDaemonRanIsFoundAtItsStartAndOnce() throws Exception {
        threeBurns();
        write(3 * DAY_S, -600, "setting-jet", "1 mm");
        write(3 * DAY_S + 1, 1.5 * DAY_S, "setting-jet", "1.1 mm");
        write(3 * DAY_S + 2, 50, "note", "nothing to a fit");
        now = T0.plusSeconds(4 * DAY_S);
        keeper = keeper();
        keeper.first();
        assertThat(catchUp()).as("a burn a turn").isEqualTo(2);
        assertThat(writtenBurns()).containsExactly("shed-20260303T100000Z", "shed-20260302T100000Z");
        assertThat(jetsMm)
                .satisfiesExactly(
                        mm -> assertThat(mm).isCloseTo(1.1, within(1e-9)),
                        mm -> assertThat(mm).isCloseTo(1, within(1e-9)));
        commit();
        keeper = keeper();
        keeper.first();
        catchUp();
        assertThat(written).as("at the next start").isEmpty();
    }

    @Test
    void stockThatIsToldLateConcernsItsBurnAlone() throws Exception {
        threeBurns();
        keeper.retold("shed", Retold.justNow(new EntryKey(T0.plusSeconds(DAY_S + 30), "stock"), null));
        catchUp();
        assertThat(writtenBurns()).containsExactly("shed-20260302T100000Z");
        written.clear();
        keeper.retold("shed", Retold.justNow(new EntryKey(T0.plusSeconds(DAY_S - 7_200), "stock"), null));
        catchUp();
        assertThat(written).as("long before it was lit").isEmpty();
    }

    @Test
    void theBurnThatCoolsDownIsLeftToItsOwnFit() throws Exception {
        threeBurns();
        keeper.begun("shed", "shed-20260303T100000Z");
        keeper.retold("shed", Retold.justNow(new EntryKey(T0.plusSeconds(2 * DAY_S + 30), "stock"), null));
        catchUp();
        assertThat(written).isEmpty();
    }

    @Test
    void theFitAtHandIsReplacedWhenItsOwnBurnIsFittedAnew() throws Exception {
        threeBurns();
        String before = keeper.fitOf("shed-20260303T100000Z").orElseThrow();
        lossWPerK = 2.2;
        keeper.retold("shed", Retold.justNow(new EntryKey(T0.plusSeconds(DAY_S + 30), "stock"), null));
        catchUp();
        assertThat(keeper.fitOf("shed-20260303T100000Z")).as("another burn's").contains(before);
        keeper.retold("shed", Retold.justNow(new EntryKey(T0.plusSeconds(2 * DAY_S + 30), "stock"), null));
        catchUp();
        assertThat(keeper.fitOf("shed-20260303T100000Z").orElseThrow()).contains("\"valueWPerK\":2.2");
        assertThat(latestWPerK).isEqualTo(2.2);
    }
}
