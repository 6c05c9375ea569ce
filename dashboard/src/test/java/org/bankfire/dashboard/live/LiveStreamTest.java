package org.bankfire.dashboard.live;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.CopyOnWriteArrayList;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The live stream as a browser hears it. */
class LiveStreamTest {
    private static final Duration PATIENCE = Duration.ofSeconds(60);

    private final ScriptedForge forge = new ScriptedForge().add(ScriptedForge.LOFT, "Loft forge");
    private final List<Listener> listeners = new ArrayList<>();
    private RunningDashboard dashboard;

    record Event(String id, String name, JsonNode data) {}

    /** Reads one stream on a thread of its own. */
    private static final class Listener implements AutoCloseable {
        private final List<Event> events = new CopyOnWriteArrayList<>();
        private final InputStream stream;
        private volatile boolean ended;

        Listener(InputStream stream) {
            this.stream = stream;
            Thread reader = new Thread(this::read, "listener");
            reader.setDaemon(true);
            reader.start();
        }

        private void read() {
            try (BufferedReader lines = new BufferedReader(new InputStreamReader(stream, StandardCharsets.UTF_8))) {
                String id = "";
                String name = "";
                String line = lines.readLine();
                while (line != null) {
                    if (line.startsWith("id: ")) {
                        id = line.substring(4);
                    } else if (line.startsWith("event: ")) {
                        name = line.substring(7);
                    } else if (line.startsWith("data: ")) {
                        events.add(new Event(id, name, new ObjectMapper().readTree(line.substring(6))));
                    }
                    line = lines.readLine();
                }
            } catch (IOException e) {
                // The stream was closed under it, which is one way to end.
            }
            ended = true;
        }

        List<Event> named(String name) {
            return events.stream().filter(event -> event.name().equals(name)).toList();
        }

        @Override
        public void close() {
            try {
                stream.close();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }

    @BeforeEach
    void start() throws IOException {
        dashboard = new RunningDashboard(forge);
    }

    @AfterEach
    void stop() {
        dashboard.close();
        listeners.forEach(Listener::close);
    }

    private HttpResponse<InputStream> open(String query) throws Exception {
        return dashboard
                .client()
                .send(
                        dashboard
                                .request("/api/v1/live" + query)
                                .header("Accept-Encoding", "gzip")
                                .build(),
                        HttpResponse.BodyHandlers.ofInputStream());
    }

    private Listener listen(String query) throws Exception {
        HttpResponse<InputStream> response = open(query);
        assertThat(response.statusCode()).isEqualTo(200);
        assertThat(response.headers().firstValue("Content-Type").orElseThrow()).startsWith("text/event-stream");
        assertThat(response.headers().firstValue("Content-Encoding")).isEmpty();
        Listener listener = new Listener(response.body());
        listeners.add(listener);
        return listener;
    }

    private static double chamber(Event event) {
        return event.data().at("/chamber/value").doubleValue();
    }

    @Test
    void aPageIsGreetedWithWhatIsKnownAndHearsWhatChanges() throws Exception {
        forge.burning(ScriptedForge.QUARRY, 800);
        Listener listener = listen("?forge=quarry");
        await().atMost(PATIENCE).until(() -> listener.named("snapshot").size() == 1);
        assertThat(chamber(listener.named("snapshot").get(0))).isEqualTo(800);
        var published = forge.burning(ScriptedForge.QUARRY, 801);
        await().atMost(PATIENCE).until(() -> listener.named("snapshot").size() == 2);
        Event event = listener.named("snapshot").get(1);
        assertThat(chamber(event)).isEqualTo(801);
        assertThat(event.id())
                .isEqualTo(
                        String.valueOf(Objects.requireNonNull(published.time()).epochMicros()));
    }

    @Test
    void aForgeIsLookedAtAsLongAsAStreamOfItIsOpen() throws Exception {
        listen("");
        Listener listener = listen("?forge=quarry");
        await().atMost(PATIENCE).until(() -> dashboard.isLookedAt("quarry"));
        assertThat(dashboard.isLookedAt("loft"))
                .as("a page of all forges looks at none of them")
                .isFalse();
        listener.close();
        await().atMost(PATIENCE).until(() -> !dashboard.isLookedAt("quarry"));
    }

    @Test
    void aBurstIsThinnedAndItsLastSnapshotArrives() throws Exception {
        long begunNanos = System.nanoTime();
        Listener listener = listen("?forge=quarry");
        await().atMost(PATIENCE).until(() -> !listener.named("snapshot").isEmpty());
        for (int i = 1; i <= 500; i++) {
            forge.burning(ScriptedForge.QUARRY, i);
        }
        await().atMost(PATIENCE).until(() -> listener.named("snapshot").stream().anyMatch(e -> chamber(e) == 500));
        // One a gap, with one gap of credit, and the greeting: however slow the machine, and how long the burst takes.
        long gaps = (System.nanoTime() - begunNanos) / LiveClient.LEAST_GAP_NANOS;
        assertThat((long) listener.named("snapshot").size()).isLessThanOrEqualTo(gaps + 3);
        assertThat(listener.named("snapshot").stream().mapToDouble(LiveStreamTest::chamber))
                .isSorted();
    }

    @Test
    void theDaemonIsHeardEvenWhenNothingHappens() throws Exception {
        Listener listener = listen("");
        await().atMost(PATIENCE).until(() -> listener.named("heartbeat").size() >= 3);
        assertThat(listener.named("heartbeat").get(1).data().get("serverT").doubleValue())
                .isGreaterThan(
                        listener.named("heartbeat").get(0).data().get("serverT").doubleValue());
    }

    @Test
    void theBeatTellsThatNothingIsJudgedThoughPagesAreServed() throws Exception {
        Listener listener = listen("");
        await().atMost(PATIENCE).until(() -> !listener.named("heartbeat").isEmpty());
        assertThat(listener.named("heartbeat").get(0).data().get("judgedAgoS").doubleValue())
                .isEqualTo(0.02);
        forge.hang(7.5);
        await().atMost(PATIENCE)
                .until(() -> listener.named("heartbeat").stream()
                        .anyMatch(beat -> beat.data().get("judgedAgoS").doubleValue() == 7.5));
    }

    @Test
    void aPageOfOneForgeHearsOnlyTheAlarmsOfOthers() throws Exception {
        Listener listener = listen("?forge=loft");
        await().atMost(PATIENCE).until(() -> !listener.named("snapshot").isEmpty());
        forge.burning(ScriptedForge.QUARRY, 1_000);
        forge.burning(ScriptedForge.QUARRY, 1_001, forge.flameOut());
        // Before it may come that no alarm stands there, when that is told by itself.
        await().atMost(PATIENCE)
                .until(() -> listener.named("alarms").stream()
                        .anyMatch(e -> !e.data().get("alarms").isEmpty()));
        forge.burning(ScriptedForge.LOFT, 20);
        await().atMost(PATIENCE).until(() -> listener.named("snapshot").size() > 1);
        assertThat(listener.named("snapshot"))
                .allMatch(e -> e.data().get("forge").textValue().equals("loft"));
        Event alarms = listener.named("alarms").get(listener.named("alarms").size() - 1);
        assertThat(alarms.data().get("forge").textValue()).isEqualTo("quarry");
        assertThat(alarms.data().at("/alarms/0/alarm").textValue()).isEqualTo("flame-out");
    }

    @Test
    void anAlarmElsewhereIsToldOnceHoweverOftenItsForgeSpeaks() throws Exception {
        Listener listener = listen("?forge=loft");
        await().atMost(PATIENCE).until(() -> !listener.named("snapshot").isEmpty());
        AlarmStatus out = forge.flameOut();
        for (int i = 0; i < 50; i++) {
            forge.burning(ScriptedForge.QUARRY, 1_000 + i, out);
        }
        await().atMost(PATIENCE)
                .until(() -> listener.named("alarms").stream()
                        .anyMatch(e -> e.data().at("/alarms/0/alarm").textValue() != null));
        for (int i = 0; i < 50; i++) {
            forge.burning(ScriptedForge.QUARRY, 1_050 + i, out);
        }
        forge.burning(ScriptedForge.QUARRY, 1_100);
        await().atMost(PATIENCE)
                .until(() -> listener.named("alarms").stream()
                        .anyMatch(e -> e.data().get("alarms").isEmpty()));
        assertThat(listener.named("alarms").stream()
                        .filter(e -> !e.data().get("alarms").isEmpty()))
                .hasSize(1);
    }

    @Test
    void aPageThatComesLaterIsToldOfAlarmsThatStandElsewhere() throws Exception {
        forge.burning(ScriptedForge.QUARRY, 1_001, forge.flameOut());
        Listener listener = listen("?forge=loft");
        await().atMost(PATIENCE).until(() -> !listener.named("alarms").isEmpty());
    }

    @Test
    void aPageOfAllForgesHearsEachOfThem() throws Exception {
        Listener listener = listen("");
        await().atMost(PATIENCE)
                .until(() -> listener.named("snapshot").stream()
                                .map(e -> e.data().get("forge").textValue())
                                .distinct()
                                .count()
                        == 2);
    }

    @Test
    void whatIsWrittenOnOnePageIsAnnouncedToAll() throws Exception {
        Listener listener = listen("?forge=quarry");
        await().atMost(PATIENCE).until(() -> !listener.named("heartbeat").isEmpty());
        dashboard.post("/api/v1/forges/quarry/notes", "{\"text\":\"x\"}");
        await().atMost(PATIENCE).until(() -> !listener.named("written").isEmpty());
        assertThat(listener.named("written").get(0).data().get("forge").textValue())
                .isEqualTo("quarry");
    }

    @Test
    void thereAreOnlySoManyPagesAndALeavingOneMakesRoom() throws Exception {
        for (int i = 0; i < LiveHub.MAX_CLIENTS; i++) {
            listen("");
        }
        HttpResponse<InputStream> refused = open("");
        assertThat(refused.statusCode()).isEqualTo(503);
        assertThat(refused.headers().firstValue("Retry-After")).isPresent();
        assertThat(new String(refused.body().readAllBytes(), StandardCharsets.UTF_8))
                .contains("32 pages");
        listeners.get(0).close();
        await().atMost(PATIENCE).until(() -> open("").statusCode() == 200);
        // Streams hold no thread: ordinary requests are still answered.
        assertThat(dashboard.get("/api/v1/forges").statusCode()).isEqualTo(200);
    }

    @Test
    void closingTheServerEndsTheStreamsAndTheSubscription() throws Exception {
        Listener listener = listen("");
        await().atMost(PATIENCE).until(() -> !listener.events.isEmpty());
        dashboard.close();
        await().atMost(PATIENCE).until(() -> listener.ended);
        assertThat(forge.listeners()).isZero();
    }
}
