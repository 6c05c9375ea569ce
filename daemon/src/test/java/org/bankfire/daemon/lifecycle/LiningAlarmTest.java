package org.bankfire.daemon.lifecycle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.burnfit.LiningTrend;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.ledger.EventWriter;
import org.bankfire.daemon.ledger.Ledger;
import org.bankfire.daemon.ledger.Ledgers;
import org.bankfire.daemon.ledger.Pipeline;
import org.bankfire.daemon.ledger.StoreOutput;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class LiningAlarmTest {
    private static final Duration PATIENCE = Duration.ofSeconds(60);

    @TempDir
    Path folder;

    private static LiningTrend trend(double... wattsPerK) {
        List<BurnLoss> losses = new ArrayList<>();
        for (double loss : wattsPerK) {
            WallTime start = WallTime.ofEpochSeconds(86_400.0 * losses.size());
            losses.add(new BurnLoss("shed-" + losses.size(), start, 1_000, new Band(loss, loss * 0.95, loss * 1.05)));
        }
        return LiningTrend.of(losses);
    }

    @Test
    void twoBurnsThatLoseMoreRaiseALowAlarmWithItsEvidenceAndTheNextInsideClearsIt() throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        List<ForgeConfig> forges = ConfigReader.read(Files.readString(example), "shed.toml", folder)
                .config()
                .forges();
        ReceiptClock clock =
                new ReceiptClock(() -> WallTime.of(Instant.now()), () -> new MonotonicTime(System.nanoTime()));
        try (ReadingStore store = SqliteStore.open(folder.resolve("shed.db"));
                StoreWriter writer = new StoreWriter(store, "test")) {
            StoreOutput output = new StoreOutput(writer, new EventWriter(Writer.nullWriter()));
            Ledger ledger = new Ledger(
                    new Pipeline(forges, output),
                    new DeliveryQueue(),
                    writer,
                    output,
                    new NoUpkeep(),
                    snapshot -> {},
                    System::nanoTime);
            Ledgers ledgers = new Ledgers(List.of(ledger), forge -> 0);
            ledger.start();
            try {
                LiningAlarm alarm = new LiningAlarm(ledgers, clock);
                alarm.onTrend("shed", trend(1.7, 1.7, 1.7, 1.7, 1.7, 2.3), 2.3);
                alarm.onTrend("barn", trend(1.7, 1.7, 1.7, 1.7, 1.7, 2.3, 2.3), 2.3);
                alarm.onTrend("shed", trend(1.7, 1.7, 1.7, 1.7, 1.7, 2.3, 2.31), 2.31);
                await().atMost(PATIENCE).until(() -> journal(store).size() == 1);
                AlarmTransition raised = journal(store).get(0);
                assertThat(raised.alarm()).isEqualTo(AlarmId.LINING_LOSS_UP);
                assertThat(raised.priority()).isEqualTo(Priority.LOW);
                assertThat(raised.state()).isEqualTo(AlarmState.UNACKNOWLEDGED);
                assertThat(raised.value()).isEqualTo(2.31);
                assertThat(raised.why()).contains("36 % above the 1.70 W/K", "2 burns in a row");
                alarm.onTrend("shed", trend(1.7, 1.7, 1.7, 1.7, 1.7, 2.3, 2.31, 1.72), 1.72);
                await().atMost(PATIENCE).until(() -> journal(store).size() == 2);
                AlarmTransition gone = journal(store).get(0);
                assertThat(gone.state()).isEqualTo(AlarmState.RETURNED_UNACKNOWLEDGED);
                assertThat(gone.why()).contains("within what burns differ by");
            } finally {
                ledger.close();
            }
            // The ledger has gone: told in the log, and nothing thrown at the thread that fits.
            new LiningAlarm(ledgers, clock).onTrend("shed", trend(1.7), 1.7);
        }
    }

    /** The alarms that were stored, newest first. */
    private static List<AlarmTransition> journal(ReadingStore store) throws StoreException {
        return store.latestAlarmTransitions("shed", 10);
    }

    private static final class NoUpkeep implements Ledger.Upkeep {
        @Override
        public void followClock() {}

        @Override
        public void tick() {}
    }
}
