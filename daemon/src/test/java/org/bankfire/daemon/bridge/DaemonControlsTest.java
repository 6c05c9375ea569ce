package org.bankfire.daemon.bridge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.ledger.EventWriter;
import org.bankfire.daemon.ledger.Ledger;
import org.bankfire.daemon.ledger.Ledgers;
import org.bankfire.daemon.ledger.Pipeline;
import org.bankfire.daemon.ledger.StoreOutput;
import org.bankfire.daemon.store.RecordingStore;
import org.bankfire.daemon.store.StoreWriter;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What users ask for where each forge has a ledger thread of its own. */
class DaemonControlsTest {
    private static final List<String> FORGES = List.of("shed", "quarry", "loft");
    private static final AlarmAction ACKNOWLEDGE = AlarmAction.acknowledge(AlarmId.FLAME_OUT, "smith");

    @TempDir
    Path folder;

    @Test
    void anUnknownForgeIsRefusedWithTheNamesOfAll() throws Exception {
        String shed = Files.readString(Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml"));
        ReceiptClock clock =
                new ReceiptClock(() -> WallTime.of(Instant.now()), () -> new MonotonicTime(System.nanoTime()));
        try (StoreWriter writer = new StoreWriter(new RecordingStore(), "test")) {
            List<Ledger> each = new ArrayList<>();
            for (String forge : FORGES) {
                StoreOutput output = new StoreOutput(writer, new EventWriter(Writer.nullWriter()));
                String file = shed.replace("id = \"shed\"", "id = \"" + forge + "\"");
                Pipeline pipeline = new Pipeline(
                        ConfigReader.read(file, "forges.toml", folder).config().forges(), output);
                each.add(new Ledger(
                        pipeline,
                        new DeliveryQueue(),
                        writer,
                        output,
                        new NoUpkeep(),
                        snapshot -> {},
                        System::nanoTime));
            }
            try (Ledgers ledgers = new Ledgers(each, forge -> Math.max(0, FORGES.indexOf(forge)))) {
                ledgers.start();
                DaemonControls controls = new DaemonControls(FORGES, ledgers, writer, clock, List.of());
                assertThatThrownBy(() -> controls.act("barn", ACKNOWLEDGE))
                        .isInstanceOf(IllegalArgumentException.class)
                        .hasMessage("forge \"barn\" is not configured; allowed are shed, quarry, loft");
                assertThatThrownBy(() -> controls.captureZero("barn", "gas"))
                        .isInstanceOf(IllegalArgumentException.class)
                        .hasMessageContaining("shed, quarry, loft");
                for (String forge : FORGES) {
                    assertThat(controls.act(forge, ACKNOWLEDGE)).isFalse();
                }
            }
        }
    }

    private static final class NoUpkeep implements Ledger.Upkeep {
        @Override
        public void followClock() {}

        @Override
        public void tick() {}
    }
}
