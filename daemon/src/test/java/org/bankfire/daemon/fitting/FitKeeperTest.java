package org.bankfire.daemon.fitting;

import static org.assertj.core.api.Assertions.assertThat;
import static org.bankfire.daemon.fitting.Burns.T0;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.burnfit.LiningTrend;
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

    private FitKeeper keeper() {
        FitKeeper made = new FitKeeper(
                (forge, record) -> Burns.telling(forge, lossWPerK),
                store,
                written::add,
                () -> T0.plusSeconds(9_999),
                List.of("shed"));
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
}
