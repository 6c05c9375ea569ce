package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.reading.Note;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.PtyPair;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a user does about alarms over HTTP, and what is left of it when the daemon is killed and started again. */
final class AlarmControlsIT {
    private static final Duration PATIENCE = Duration.ofMinutes(3);
    private static final String ALARMS = "/api/v1/forges/shed/alarms";

    private final HttpClient http = HttpClient.newHttpClient();

    @TempDir
    Path folder;

    @Test
    void shelfAndOutOfServiceOutliveAKilledDaemon() throws Exception {
        try (PtyPair line = new PtyPair(folder)) {
            JsonNode before;
            try (DaemonProcess daemon = startDaemon(line)) {
                // Nobody sends: that is an alarm, and it calls.
                await().atMost(PATIENCE)
                        .untilAsserted(
                                () -> assertThat(stateOf(daemon, "no-data")).isEqualTo("unacknowledged"));
                assertThat(post(daemon, "/no-data/shelve", "{\"minutes\":481}")).isEqualTo(400);
                assertThat(post(daemon, "/gas-left-on/shelve", "{\"minutes\":16}"))
                        .isEqualTo(400);
                assertThat(post(daemon, "/no-data/unshelve", "{}")).isEqualTo(409);
                assertThat(post(daemon, "/no-data/shelve", "{\"minutes\":30,\"by\":\"Ida\"}"))
                        .isEqualTo(200);
                assertThat(post(daemon, "/shell-high/service", "{\"out\":true,\"by\":\"Ida\"}"))
                        .isEqualTo(200);
                assertThat(post(daemon, "/chamber-high/shelve", "{\"minutes\":0.02}"))
                        .isEqualTo(200);
                await().atMost(PATIENCE)
                        .untilAsserted(
                                () -> assertThat(stateOf(daemon, "no-data")).isEqualTo("shelved"));
                // What is in the journal is in the store.
                await().atMost(PATIENCE)
                        .until(() -> get(daemon).get("journal").findValuesAsText("state").stream()
                                        .filter(state -> state.equals("shelved"))
                                        .count()
                                == 2);
                await().atMost(PATIENCE)
                        .until(() -> stateOf(daemon, "chamber-high").equals("normal")
                                && get(daemon)
                                        .get("journal")
                                        .get(0)
                                        .get("state")
                                        .textValue()
                                        .equals("normal"));
                before = standing(get(daemon), "no-data");
                daemon.kill();
            }
            assertThat(notes())
                    .containsExactly(
                            AlarmAction.shelve(AlarmId.NO_DATA, 1_800, "Ida"),
                            AlarmAction.outOfService(AlarmId.SHELL_HIGH, true, "Ida"),
                            AlarmAction.shelve(AlarmId.CHAMBER_HIGH, 1.2, "page"));
            try (DaemonProcess daemon = startDaemon(line)) {
                await().atMost(PATIENCE)
                        .untilAsserted(
                                () -> assertThat(stateOf(daemon, "no-data")).isEqualTo("shelved"));
                JsonNode after = standing(get(daemon), "no-data");
                assertThat(after.get("until")).isEqualTo(before.get("until"));
                assertThat(after.get("untilT").doubleValue() - after.get("t").doubleValue())
                        .isEqualTo(1_800);
                assertThat(stateOf(daemon, "shell-high")).isEqualTo("out-of-service");
                assertThat(stateOf(daemon, "chamber-high")).isEqualTo("normal");
                assertThat(post(daemon, "/no-data/unshelve", "{}")).isEqualTo(200);
                await().atMost(PATIENCE)
                        .untilAsserted(
                                () -> assertThat(stateOf(daemon, "no-data")).isEqualTo("unacknowledged"));
                assertThat(post(daemon, "/shell-high/service", "{\"out\":false}"))
                        .isEqualTo(200);
                await().atMost(PATIENCE)
                        .untilAsserted(
                                () -> assertThat(stateOf(daemon, "shell-high")).isEqualTo("normal"));
            }
        }
    }

    private List<AlarmAction> notes() throws Exception {
        try (ReadingStore store = SqliteStore.open(folder.resolve("book.db"))) {
            return store.notes("shed", TimeRange.ALL).stream()
                    .filter((Note note) -> AlarmAction.isKeptAs(note.name()))
                    .map(note -> AlarmAction.of(note).orElseThrow())
                    .toList();
        }
    }

    private DaemonProcess startDaemon(PtyPair line) throws Exception {
        Path config = ForgeConfigFile.write(folder, """
                kind = "serial"
                port = "%s"
                baud = 115200
                """.formatted(line.device()));
        return DaemonProcess.start("run", "--config", config.toString());
    }

    private String stateOf(DaemonProcess daemon, String alarm) throws Exception {
        return standing(get(daemon), alarm).path("state").asText("normal");
    }

    private static JsonNode standing(JsonNode alarms, String alarm) {
        for (JsonNode standing : alarms.get("standing")) {
            if (standing.get("alarm").textValue().equals(alarm)) {
                return standing;
            }
        }
        return new ObjectMapper().createObjectNode();
    }

    private JsonNode get(DaemonProcess daemon) throws Exception {
        HttpRequest request = HttpRequest.newBuilder(URI.create(daemon.page()).resolve(ALARMS))
                .build();
        return new ObjectMapper()
                .readTree(
                        http.send(request, HttpResponse.BodyHandlers.ofString()).body());
    }

    private int post(DaemonProcess daemon, String path, String body) throws Exception {
        HttpRequest request = HttpRequest.newBuilder(URI.create(daemon.page()).resolve(ALARMS + path))
                .header("Content-Type", "application/json")
                .POST(HttpRequest.BodyPublishers.ofString(body))
                .build();
        return http.send(request, HttpResponse.BodyHandlers.ofString()).statusCode();
    }
}
