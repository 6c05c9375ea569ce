package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.MosquittoProcess;
import org.bankfire.daemon.testbed.Programs;
import org.bankfire.daemon.testbed.PtyPair;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Settings written down, corrected and withdrawn: by command, over a broker, and what is left of it after a restart. */
final class LogBookIT {
    private static final Duration PATIENCE = Duration.ofMinutes(3);
    private static final String FIRST = "2026-03-01T10:00:12.250Z";

    private final HttpClient http = HttpClient.newHttpClient();

    @TempDir
    Path folder;

    private static Path config(Path folder, String source) throws IOException {
        Path config = ForgeConfigFile.write(folder, source);
        String text = Files.readString(config).replace("127.0.0.1:0", "127.0.0.1:" + Programs.freePort());
        return Files.writeString(config, text);
    }

    private Path serialConfig(Path folder) throws IOException {
        return config(folder, "kind = \"serial\"\nport = \"/dev/null\"\nbaud = 115200\n");
    }

    private static DaemonProcess write(Path config, String... arguments) throws Exception {
        List<String> all = new ArrayList<>(List.of("write", "--config", config.toString()));
        all.addAll(List.of(arguments));
        return DaemonProcess.runToEnd(all.toArray(String[]::new));
    }

    private static List<String> written(Path config, String where, String... arguments) throws Exception {
        try (DaemonProcess run = write(config, arguments)) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
            assertThat(String.join("\n", run.log())).contains(where);
            return run.output();
        }
    }

    private static void refused(Path config, String what, String... arguments) throws Exception {
        try (DaemonProcess run = write(config, arguments)) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isEqualTo(2);
            assertThat(run.output()).isEmpty();
            assertThat(String.join("\n", run.log())).contains(what);
        }
    }

    private static List<String> export(Path config) throws Exception {
        try (DaemonProcess run = DaemonProcess.runToEnd(
                "export",
                "--from",
                "2026-03-01T00:00:00Z",
                "--to",
                "2026-03-02T00:00:00Z",
                "--format",
                "csv",
                "--config",
                config.toString())) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
            return run.output();
        }
    }

    @Test
    void aStoreWithoutADaemonTakesEntriesAndCorrectionsAndExportsThemWhole() throws Exception {
        Path config = serialConfig(folder);
        String where = "since no daemon is running";
        assertThat(written(config, where, "--at", FIRST, "setting-jet=0.08 cm", "plug=out", "cylinder=25 lb"))
                .containsExactly(
                        FIRST + " setting-jet 0.8 mm", FIRST + " plug out", FIRST + " cylinder 11.33980925 kg");
        // The second is enough where it is the only one.
        assertThat(written(config, where, "--by", "Ida", "--correct", "2026-03-01T10:00:12Z", "setting-jet=0.9 mm"))
                .containsExactly("[Ida] " + FIRST + " setting-jet is 0.9 mm");
        assertThat(written(config, where, "--by", "Ida", "--withdraw", FIRST, "plug"))
                .containsExactly("[Ida] " + FIRST + " plug withdrawn");
        refused(config, "0.1 mm to 5 mm", "--at", FIRST, "note=never written", "setting-jet=9 mm");
        refused(config, "no entry setting-choke", "--correct", FIRST, "setting-choke=half");
        refused(config, "one of shed", "--forge", "loft", "plug=in");
        refused(config, "a time that is past", "--at", "2999-01-01T00:00:00Z", "plug=in");
        try (DaemonProcess again = write(config, "--at", FIRST, "plug=in")) {
            assertThat(again.exitCode()).isEqualTo(1);
            assertThat(String.join("\n", again.log())).contains("already");
        }

        List<String> exported = export(config);
        assertThat(exported)
                .hasSize(1 + 4 + 2)
                .anyMatch(line -> line.contains("setting-jet,0.8,mm"))
                .anyMatch(line -> line.contains("correction,[Ida] " + FIRST + " setting-jet is 0.9 mm"))
                .anyMatch(line -> line.contains("correction,[Ida] " + FIRST + " plug withdrawn"))
                .noneMatch(line -> line.contains("never written"));
        Path other = Files.createDirectory(folder.resolve("other"));
        Path otherConfig = serialConfig(other);
        Path file = Files.write(folder.resolve("shed.csv"), exported);
        try (DaemonProcess run =
                DaemonProcess.runToEnd("import", file.toString(), "--config", otherConfig.toString())) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
        }
        assertThat(export(otherConfig)).isEqualTo(exported);
    }

    @Test
    void aCorrectedJetIsInForceAtOnceByWireAndByCommandAndAfterARestart() throws Exception {
        try (MosquittoProcess broker = new MosquittoProcess(folder)) {
            broker.start();
            Path config = config(folder, """
                    kind = "mqtt"
                    broker = "%s"
                    client-id = "bankfire-test"
                    topics = ["forge/#"]
                    """.formatted(broker.uri()));
            MqttClient board = new MqttClient(broker.uri(), "board", new MemoryPersistence());
            board.connect();
            double jetT = Instant.now().getEpochSecond() - 20;
            try (DaemonProcess daemon = DaemonProcess.start("run", "--config", config.toString())) {
                daemon.page();
                double describedKgPerH = flow(daemon, board, Double.NaN);
                send(board, "[{\"bn\":\"shed:\",\"bt\":" + jetT + ",\"n\":\"setting-jet\",\"u\":\"mm\",\"v\":1.6}]");
                flow(daemon, board, 4 * describedKgPerH);
                send(board, "[{\"bn\":\"shed:\",\"n\":\"correction\",\"vs\":\"" + jetT + " setting-jet is 1.2 mm\"}]");
                flow(daemon, board, 2.25 * describedKgPerH);
                assertThat(written(config, "the running daemon at", "--correct", "" + jetT, "setting-jet=0.4 mm"))
                        .hasSize(1);
                flow(daemon, board, 0.25 * describedKgPerH);
                daemon.kill();
                try (DaemonProcess restarted = DaemonProcess.start("run", "--config", config.toString())) {
                    restarted.page();
                    flow(restarted, board, 0.25 * describedKgPerH);
                    written(config, "the running daemon at", "--withdraw", "" + jetT, "setting-jet");
                    flow(restarted, board, describedKgPerH);
                    JsonNode entry = get(restarted, "entries").at("/entries/0");
                    assertThat(entry.get("history")).hasSize(3);
                    assertThat(entry.get("withdrawn").booleanValue()).isTrue();
                    refused(config, "0.1 mm to 5 mm", "setting-jet=9 mm");
                }
            }
            board.disconnect();
            board.close();
        }
    }

    @Test
    void aLineOfASerialBoardCorrectsToo() throws Exception {
        try (PtyPair line = new PtyPair(folder)) {
            Path config = config(folder, "kind = \"serial\"\nport = \"%s\"\nbaud = 115200\n".formatted(line.device()));
            try (DaemonProcess daemon = DaemonProcess.start("run", "--config", config.toString())) {
                daemon.page();
                daemon.awaitLog("open at 115200 baud");
                String plug = "[{\"bn\":\"shed:\",\"bt\":1772359212.25,\"n\":\"plug\",\"vs\":\"in\"}]\n";
                String correction =
                        "[{\"bn\":\"shed:\",\"n\":\"correction\",\"vs\":\"[Otto] 1772359212.25 plug is out\"}]\n";
                line.send(plug + correction);
                String span = "entries?from=1772359200&to=1772359300";
                await().atMost(PATIENCE)
                        .until(() -> get(daemon, span)
                                .at("/entries/0/value")
                                .asText()
                                .equals("out"));
                assertThat(get(daemon, span).at("/entries/0/history/0/by").asText())
                        .isEqualTo("Otto");
            }
        }
    }

    private static void send(MqttClient board, String pack) throws MqttException {
        board.publish("forge/shed", pack.getBytes(StandardCharsets.UTF_8), 1, false);
    }

    /** Flow through the jet at 80 kPa goes with its area; sent until the page's answer says what is expected. */
    private double flow(DaemonProcess daemon, MqttClient board, double expectedKgPerH) {
        double[] flow = {Double.NaN};
        await().atMost(PATIENCE).pollInterval(Duration.ofMillis(200)).untilAsserted(() -> {
            send(
                    board,
                    "[{\"bn\":\"shed:\",\"n\":\"gas\",\"u\":\"kPa\",\"v\":80},{\"n\":\"chamber\",\"u\":\"Cel\",\"v\":900}]");
            flow[0] = get(daemon, "now").path("gasFlowKgPerHour").asDouble(Double.NaN);
            assertThat(flow[0]).isPositive();
            if (!Double.isNaN(expectedKgPerH)) {
                assertThat(flow[0]).isCloseTo(expectedKgPerH, within(0.01 * expectedKgPerH));
            }
        });
        return flow[0];
    }

    private JsonNode get(DaemonProcess daemon, String route) throws Exception {
        URI uri = URI.create(daemon.page()).resolve("/api/v1/forges/shed/" + route);
        return new ObjectMapper()
                .readTree(http.send(HttpRequest.newBuilder(uri).build(), HttpResponse.BodyHandlers.ofString())
                        .body());
    }
}
