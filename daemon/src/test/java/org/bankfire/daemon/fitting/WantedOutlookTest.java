package org.bankfire.daemon.fitting;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.daemon.fitting.Burns.T0;

import java.nio.file.Path;
import java.util.List;
import org.bankfire.analysis.outlook.OutlookSettings;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class WantedOutlookTest {
    @TempDir
    private Path folder;

    private SqliteStore store;
    private ForgeConfig shed;
    private WantedOutlook wanted;
    private WallTime now = T0;

    @BeforeEach
    void open() throws Exception {
        store = SqliteStore.open(folder.resolve("shed.db"));
        shed = Burns.shed();
        wanted = new WantedOutlook(store, () -> now);
    }

    @AfterEach
    void close() throws Exception {
        store.close();
    }

    private void mark(double beforeS, String name, String value, String unit) throws Exception {
        now = now.plusSeconds(20);
        Setting setting = new Setting("shed", T0.plusSeconds(-beforeS), name, value, unit);
        store.append(new StoreBatch(List.of(), List.of(), List.of(setting), List.of(), List.of()));
    }

    @Test
    void targetAndPriceAreTheConfigurationsAndWithoutMarksThereAreNoLimits() {
        OutlookSettings settings = wanted.of(shed);
        assertThat(settings.targetK()).isEqualTo(shed.description().targetK());
        assertThat(Double.compare(settings.pricePerKg(), shed.monitor().gasPricePerKg()))
                .isZero();
        assertThat(settings.lowestStablePa()).isNaN();
        assertThat(settings.highestStablePa()).isNaN();
        assertThat(settings.steadyKPerMin()).isCloseTo(2, within(1e-12));
    }

    @Test
    void theLatestMarksHoldInWhateverUnitTheyWereMade() throws Exception {
        mark(900, "setting-lowest-stable", "35", "kPa");
        mark(600, "setting-lowest-stable", "0.28", "bar");
        mark(500, "setting-highest-stable", "20", "psi");
        OutlookSettings settings = wanted.of(shed);
        assertThat(settings.lowestStablePa()).isCloseTo(28_000, within(1e-6));
        assertThat(settings.highestStablePa()).isCloseTo(137_895.1, within(0.1));
    }

    @Test
    void marksThatAreNoPressuresOrContradictEachOtherAreNotHeeded() throws Exception {
        mark(900, "setting-lowest-stable", "about there", "");
        assertThat(wanted.of(shed).lowestStablePa()).isNaN();
        mark(800, "setting-lowest-stable", "60", "mm");
        assertThat(wanted.of(shed).lowestStablePa()).isNaN();
        mark(700, "setting-lowest-stable", "60", "kPa");
        mark(600, "setting-highest-stable", "50", "kPa");
        assertThat(wanted.of(shed).lowestStablePa()).as("what keeps the flame").isCloseTo(60_000, within(1e-6));
        assertThat(wanted.of(shed).highestStablePa()).isNaN();
    }

    @Test
    void whatWasMarkedStillHoldsWhileTheStoreCannotBeRead() throws Exception {
        mark(700, "setting-lowest-stable", "60", "kPa");
        assertThat(wanted.of(shed).lowestStablePa()).isCloseTo(60_000, within(1e-6));
        store.close();
        now = now.plusSeconds(60);
        assertThat(wanted.of(shed).lowestStablePa()).isCloseTo(60_000, within(1e-6));
    }
}
