package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.daemon.store.StoreQueries;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.influx.InfluxServer;
import org.bankfire.daemon.store.influx.InfluxSettings;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.InfluxProcess;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Commands of the built jar that store recorded burns, with a real database server behind the store. */
final class InfluxCommandsIT {
    private static final int FRAMES = 2_400;
    private static final int RAW_CHANNELS = 3;
    private static final long START_S = 1_780_000_000;

    @TempDir
    Path folder;

    @Test
    void whatIsImportedWhileTheServerIsAwayIsBroughtByTheNextImportAndIsThereOnce() throws Exception {
        Path record = record();
        try (InfluxProcess influx = new InfluxProcess(Files.createDirectory(folder.resolve("influx")))) {
            Path config = config(influx);
            try (DaemonProcess run = run("import", record, config)) {
                assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
                assertThat(String.join("\n", run.log())).contains("wait in", "for the database server");
            }
            influx.start();
            // The same file again, as somebody does who is not sure.
            for (int i = 0; i < 2; i++) {
                try (DaemonProcess run = run("import", record, config)) {
                    assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
                    assertThat(String.join("\n", run.log())).doesNotContain("wait in");
                }
            }
            everythingIsThereOnce(influx);
            try (InfluxServer server = server(influx);
                    SqliteStore file = SqliteStore.openReadOnly(folder.resolve("book.db"))) {
                assertThat(server.alarmTransitions("shed", TimeRange.ALL))
                        .as("what was an alarm then is none now")
                        .isEmpty();
                assertThat(server.notes("shed", TimeRange.ALL)).isEqualTo(file.notes("shed", TimeRange.ALL));
                assertThat(server.settings("shed", TimeRange.ALL)).isEqualTo(file.settings("shed", TimeRange.ALL));
            }
        }
    }

    @Test
    void whatIsReplayedIntoTheStoreIsOnTheServerOnceWithItsAlarms() throws Exception {
        Path record = record();
        try (InfluxProcess influx = new InfluxProcess(Files.createDirectory(folder.resolve("influx"))).start()) {
            Path config = config(influx);
            List<String> events = new ArrayList<>();
            for (int i = 0; i < 2; i++) {
                try (DaemonProcess run = DaemonProcess.runToEnd(
                        "replay", record.toString(), "--into-store", "--config", config.toString())) {
                    assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
                    events.add(String.join("\n", run.output()));
                }
            }
            assertThat(events.get(1)).isEqualTo(events.get(0)).contains("\"alarm\":\"chamber-over-limit\"");
            everythingIsThereOnce(influx);
            try (InfluxServer server = server(influx);
                    SqliteStore file = SqliteStore.openReadOnly(folder.resolve("book.db"))) {
                assertThat(server.alarmTransitions("shed", TimeRange.ALL))
                        .isNotEmpty()
                        .containsExactlyInAnyOrderElementsOf(file.alarmTransitions("shed", TimeRange.ALL));
            }
        }
    }

    private static DaemonProcess run(String command, Path record, Path config) throws Exception {
        return DaemonProcess.runToEnd(command, record.toString(), "--config", config.toString());
    }

    private static InfluxServer server(InfluxProcess influx) throws Exception {
        InfluxServer server = new InfluxServer(new InfluxSettings(influx.url(), "bankfire", null, null));
        server.setUp(Duration.ofDays(3_650));
        return server;
    }

    private void everythingIsThereOnce(InfluxProcess influx) throws Exception {
        try (InfluxServer server = server(influx);
                SqliteStore file = SqliteStore.openReadOnly(folder.resolve("book.db"))) {
            List<Reading> there = readings(server);
            assertThat(new HashSet<>(there)).as("nothing twice").hasSameSizeAs(there);
            assertThat(there).isEqualTo(readings(file));
            assertThat(there.size()).isGreaterThanOrEqualTo(FRAMES * RAW_CHANNELS);
            List<Double> gas = new ArrayList<>();
            server.readings(new Channel("shed", "gas"), TimeRange.ALL, reading -> gas.add(reading.value()));
            assertThat(gas).hasSize(FRAMES);
            for (int i = 0; i < FRAMES; i++) {
                assertThat(gas.get(i)).isEqualTo(gasKpa(i));
            }
        }
    }

    private static List<Reading> readings(StoreQueries from) throws Exception {
        List<Reading> found = new ArrayList<>();
        from.readings("shed", TimeRange.ALL, found::add);
        return found;
    }

    private Path config(InfluxProcess influx) throws Exception {
        return ForgeConfigFile.write(folder, """
                kind = "influx"
                url = "%s"
                """.formatted(influx.url()), """
                kind = "virtual"
                forge = "shed"
                """);
    }

    /** Ten minutes at 4 Hz: raw and linear channels, a chamber that grows too hot, a note and a setting. */
    private Path record() throws Exception {
        List<String> lines = new ArrayList<>();
        for (int i = 0; i < FRAMES; i++) {
            double time = START_S + i / 4.0;
            lines.add("[{\"bn\":\"shed:\",\"bt\":" + time + ",\"n\":\"chamber-emf\",\"u\":\"mV\",\"v\":"
                    + (30 + i / 97.0)
                    + "},{\"n\":\"cold-junction\",\"u\":\"Cel\",\"v\":24.5},{\"n\":\"gas\",\"u\":\"kPa\",\"v\":"
                    + gasKpa(i) + "}]");
        }
        lines.add(
                FRAMES / 2,
                "[{\"bn\":\"shed:\",\"bt\":" + (START_S + FRAMES / 8.0)
                        + ",\"n\":\"note\",\"vs\":\"choke opened\"},{\"n\":\"setting-jet\",\"u\":\"mm\",\"v\":0.9}]");
        return Files.write(folder.resolve("record.ndjson"), lines);
    }

    private static double gasKpa(int frame) {
        return 80 + frame / 300.0;
    }
}
