package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.microsoft.playwright.Page;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.lifecycle.Stores;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreQueries;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.influx.InfluxServer;
import org.bankfire.daemon.store.influx.InfluxSettings;
import org.bankfire.daemon.store.spool.SpooledStore;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.InfluxProcess;
import org.bankfire.daemon.testbed.PageBrowser;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The daemon as a user runs it, with a database server that comes late and is killed, and is killed itself. */
final class InfluxToPageIT {
    private static final Duration PATIENCE = Duration.ofMinutes(3);
    private static final ObjectMapper JSON = new ObjectMapper();

    @TempDir
    Path folder;

    private final HttpClient client =
            HttpClient.newBuilder().proxy(HttpClient.Builder.NO_PROXY).build();

    @Test
    void everythingGetsToTheServerAndThePageSaysHowFarItIsBehind() throws Exception {
        try (InfluxProcess influx = new InfluxProcess(Files.createDirectory(folder.resolve("influx")))) {
            Path config = ForgeConfigFile.write(folder, """
                    kind = "influx"
                    url = "%s"
                    """.formatted(influx.url()), """
                    kind = "virtual"
                    forge = "shed"
                    rate = "10 Hz"
                    """);
            try (DaemonProcess daemon = DaemonProcess.start("run", "--config", config.toString())) {
                String page = daemon.page();
                await().pollInSameThread()
                        .atMost(PATIENCE)
                        .until(() -> server(page).get("waiting").longValue() > 100
                                && !server(page).get("reachable").booleanValue());
                daemon.kill();
            }
            try (DaemonProcess daemon = DaemonProcess.start("run", "--config", config.toString());
                    PageBrowser browser = new PageBrowser()) {
                String address = daemon.page();
                Page page = browser.open(address + "#alarms", 1280, 800);
                await().pollInSameThread()
                        .atMost(PATIENCE)
                        .until(() -> kept(page).startsWith("✕ takes nothing since"));
                assertThat(server(address).get("waiting").longValue()).isGreaterThan(100);

                influx.start();
                await().pollInSameThread()
                        .atMost(PATIENCE)
                        .until(() -> kept(page).equals("✓ has everything"));
                influx.kill();
                await().pollInSameThread()
                        .atMost(PATIENCE)
                        .until(() -> !server(address).get("reachable").booleanValue());
                influx.start();
                await().pollInSameThread()
                        .atMost(PATIENCE)
                        .until(() -> kept(page).equals("✓ has everything"));
                daemon.kill();
            }
            compare(influx, config);
        }
    }

    /** What the killed daemon left waiting goes now; then both must hold the same. */
    private void compare(InfluxProcess influx, Path config) throws Exception {
        try (SpooledStore store =
                (SpooledStore) Stores.open(ConfigReader.read(config).config())) {
            await().pollInSameThread().atMost(PATIENCE).until(() -> store.drain(waiting -> {}) == 0);
            assertThat(store.lag().orElseThrow().refused()).isZero();
            assertThat(store.lag().orElseThrow().dropped()).isZero();
        }
        try (SqliteStore file = SqliteStore.openReadOnly(folder.resolve("book.db"));
                InfluxServer server = new InfluxServer(new InfluxSettings(influx.url(), "bankfire", null, null))) {
            server.setUp(Duration.ofDays(730));
            List<Reading> stored = readings(file);
            assertThat(stored).hasSizeGreaterThan(200);
            assertThat(readings(server)).isEqualTo(stored);
            for (Channel channel : file.channels("shed")) {
                compareRollups(
                        server.rollups(channel, TimeRange.ALL, Rollup.Width.FIVE_MINUTES),
                        file.rollups(channel, TimeRange.ALL, Rollup.Width.FIVE_MINUTES));
            }
            assertThat(server.alarmTransitions("shed", TimeRange.ALL))
                    .containsExactlyInAnyOrderElementsOf(file.alarmTransitions("shed", TimeRange.ALL));
        }
    }

    /** The first minutes of a new file are summed up anew on their way, in another order: means differ by rounding. */
    private static void compareRollups(List<Rollup> there, List<Rollup> here) {
        assertThat(there).hasSameSizeAs(here);
        for (int i = 0; i < here.size(); i++) {
            Rollup expected = here.get(i);
            Rollup found = there.get(i);
            assertThat(found.mean()).isCloseTo(expected.mean(), within(1e-12 * Math.abs(expected.mean())));
            assertThat(new Rollup(found.start(), found.min(), expected.mean(), found.max(), found.count()))
                    .isEqualTo(expected);
        }
    }

    private static List<Reading> readings(StoreQueries from) throws Exception {
        List<Reading> found = new ArrayList<>();
        from.readings("shed", TimeRange.ALL, found::add);
        return found;
    }

    private static String kept(Page page) {
        var words = page.locator("[data-kept=server] .words");
        return words.count() == 0 ? "" : words.textContent();
    }

    private JsonNode server(String page) throws IOException, InterruptedException {
        HttpRequest request = HttpRequest.newBuilder(URI.create(page).resolve("/api/v1/store"))
                .timeout(Duration.ofMinutes(2))
                .build();
        return JSON.readTree(client.send(request, HttpResponse.BodyHandlers.ofString())
                        .body())
                .get("server");
    }
}
