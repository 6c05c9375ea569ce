package org.bankfire.daemon.notify;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.bankfire.daemon.notify.Alarms.step;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.BurnPhase;
import org.bankfire.analysis.monitor.FlameState;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.mqtt.MqttSettings;
import org.bankfire.daemon.config.OutputConfig;
import org.bankfire.daemon.testbed.BrokerListener;
import org.bankfire.daemon.testbed.BrokerListener.Heard;
import org.bankfire.daemon.testbed.MosquittoProcess;
import org.bankfire.dashboard.source.OutputBook.Condition;
import org.bankfire.dashboard.source.OutputBook.OutputState;
import org.bankfire.dashboard.source.OutputBook.Tested;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The MQTT output against a real broker. */
final class MqttOutputIT {
    private static final Duration PATIENCE = Duration.ofSeconds(60);
    private static final String EVENT = "class/forge/shed/event";
    private static final String STATE = "class/forge/shed/state";
    private static final String STATUS = "class/daemon/status";
    private static final String BEAT = "class/daemon/heartbeat";

    @TempDir
    Path folder;

    private final AtomicBoolean alive = new AtomicBoolean(true);
    private final AtomicBoolean logging = new AtomicBoolean(true);
    private @Nullable MosquittoProcess running;
    private @Nullable Outputs started;

    @BeforeEach
    void broker() throws IOException {
        running = new MosquittoProcess(folder);
    }

    @AfterEach
    void stop() {
        if (started != null) {
            started.close();
        }
        if (running != null) {
            running.close();
        }
    }

    private MosquittoProcess mosquitto() {
        return Objects.requireNonNull(running);
    }

    private Outputs start(@Nullable String user, @Nullable Path password) {
        MqttSettings broker =
                new MqttSettings(mosquitto().uri(), "out", List.of(), user, password, null, "class/daemon/status");
        Outputs outputs = new Outputs(
                List.of(new OutputConfig.Mqtt(Alarms.everything("broker"), broker, "class", 1)),
                Alarms.NAMES,
                Alarms.clock());
        started = outputs;
        outputs.start(alive::get, logging::get);
        return outputs;
    }

    private BrokerListener listener(String name) throws Exception {
        return new BrokerListener(mosquitto().uri(), name, "class/#");
    }

    private static OutputState state(Outputs outputs) {
        return outputs.outputs().get(0);
    }

    private static ForgeSnapshot snapshot(FlameState flame, double atS, AlarmStatus... alarms) {
        return new ForgeSnapshot(
                "shed",
                WallTime.ofEpochSeconds(1_772_359_212 + atS),
                BurnPhase.HEATING,
                flame,
                null,
                Double.NaN,
                Double.NaN,
                null,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                null,
                List.of(alarms),
                List.of());
    }

    private static JsonNode json(String text) throws IOException {
        return new ObjectMapper().readTree(text);
    }

    private static void awaitConnected(Outputs outputs) {
        await().atMost(PATIENCE).until(() -> state(outputs).condition() != Condition.FAILING);
    }

    @Test
    void aLateSubscriberFindsHowTheForgeAndTheDaemonStand() throws Exception {
        mosquitto().start();
        Outputs outputs = start(null, null);
        awaitConnected(outputs);
        outputs.onSnapshot(snapshot(FlameState.BURNING, 0));
        outputs.onSnapshot(snapshot(
                FlameState.OUT,
                5,
                new AlarmStatus(
                        AlarmId.FLAME_OUT,
                        AlarmState.UNACKNOWLEDGED,
                        Priority.CRITICAL,
                        new WallTime(7),
                        null,
                        1_000,
                        "because"),
                new AlarmStatus(
                        AlarmId.CHAMBER_HIGH,
                        AlarmState.ACKNOWLEDGED,
                        Priority.HIGH,
                        new WallTime(3),
                        null,
                        1_200,
                        "hot")));
        try (BrokerListener early = listener("early")) {
            await().atMost(PATIENCE).until(() -> early.latest(STATE).orElse("").contains("\"flame\":\"out\""));
        }
        try (BrokerListener late = listener("late")) {
            await().atMost(PATIENCE)
                    .until(() -> late.latest(STATE).isPresent()
                            && late.latest(STATUS).isPresent());
            Heard heard = late.on(STATE).get(0);
            assertThat(heard.retained()).isTrue();
            assertThat(heard.qos()).isEqualTo(1);
            JsonNode state = json(heard.text());
            assertThat(state.get("forge").textValue()).isEqualTo("shed");
            assertThat(state.get("phase").textValue()).isEqualTo("heating");
            assertThat(state.get("time").textValue()).isEqualTo("2026-03-01T10:00:17Z");
            assertThat(state.get("alarms").findValuesAsText("alarm")).containsExactly("flame-out", "chamber-high");
            assertThat(late.on(STATUS).get(0).text()).isEqualTo("online");
            assertThat(late.on(STATUS).get(0).retained()).isTrue();
            outputs.close();
            await().atMost(PATIENCE).until(() -> late.latest(STATUS).orElse("").equals("offline"));
        }
    }

    @Test
    void everyStepIsAnEventInOrderAndATestIsHeardAsOne() throws Exception {
        mosquitto().start();
        Outputs outputs = start(null, null);
        awaitConnected(outputs);
        try (BrokerListener listener = listener("listener")) {
            outputs.onAlarm(Alarms.flameOut());
            outputs.onAlarm(step(AlarmId.FLAME_OUT, AlarmState.ACKNOWLEDGED, 1));
            outputs.onAlarm(step(AlarmId.FLAME_OUT, AlarmState.NORMAL, 2));
            await().atMost(PATIENCE).until(() -> listener.on(EVENT).size() == 3);
            assertThat(listener.on(EVENT).get(0).text())
                    .isEqualTo(Alarms.message().json());
            assertThat(listener.on(EVENT)).allMatch(heard -> heard.qos() == 1 && !heard.retained());
            Tested tested = outputs.test("broker").orElseThrow().get(PATIENCE.toSeconds(), TimeUnit.SECONDS);
            assertThat(tested.done()).as(tested.words()).isTrue();
            await().atMost(PATIENCE)
                    .until(() -> listener.latest("class/daemon/test").isPresent());
            assertThat(listener.latest("class/daemon/test").orElse("")).contains("\"kind\":\"test\"");
            assertThat(outputs.test("cellar")).isEmpty();
        }
    }

    @Test
    void whileTheBrokerIsAwayNothingIsLostAndTheOrderIsKept() throws Exception {
        mosquitto().start();
        Outputs outputs = start(null, null);
        awaitConnected(outputs);
        try (BrokerListener listener = listener("listener")) {
            Wording wording = new Wording(Alarms.NAMES, ZoneId.of("UTC"));
            List<String> expected = new ArrayList<>();
            for (int i = 0; i < 60; i++) {
                AlarmTransition step = step(
                        i % 3 == 0 ? AlarmId.FLAME_OUT : AlarmId.NO_IGNITION,
                        i % 2 == 0 ? AlarmState.UNACKNOWLEDGED : AlarmState.NORMAL,
                        i);
                expected.add(wording.of(Telling.of(step, 0, false)).json());
                outputs.onAlarm(step);
                if (i == 10) {
                    await().atMost(PATIENCE).until(() -> !listener.on(EVENT).isEmpty());
                    mosquitto().stop();
                    await().atMost(PATIENCE).until(() -> state(outputs).condition() == Condition.FAILING);
                }
            }
            assertThat(state(outputs).waiting()).isGreaterThanOrEqualTo(49);
            mosquitto().start();
            listener.connect();
            await().atMost(PATIENCE).until(() -> state(outputs).waiting() == 0);
            await().atMost(PATIENCE)
                    .untilAsserted(() -> assertThat(
                                    listener.on(EVENT).stream().map(Heard::text).distinct())
                            .containsExactlyElementsOf(expected));
            assertThat(state(outputs).dropped()).isZero();
            assertThat(state(outputs).failed()).isZero();
            await().atMost(PATIENCE)
                    .until(() -> listener.latest(STATUS).orElse("").equals("online"));
        }
    }

    @Test
    void theHeartBeatsOnlyWhileTheDaemonsWorkGoesOn() throws Exception {
        mosquitto().start();
        Outputs outputs = start(null, null);
        try (BrokerListener listener = listener("listener")) {
            awaitConnected(outputs);
            // Without a snapshot nobody knows that readings are watched, whatever is said.
            await().during(Duration.ofSeconds(2))
                    .atMost(PATIENCE)
                    .until(() -> listener.on(BEAT).isEmpty());
            awaitBeat(outputs, listener);
            JsonNode beat = json(listener.latest(BEAT).orElse(""));
            assertThat(beat.get("everyS").doubleValue()).isEqualTo(1);
            assertThat(beat.get("logging").booleanValue()).isTrue();
            logging.set(false);
            await().atMost(PATIENCE).until(() -> {
                outputs.onSnapshot(snapshot(FlameState.BURNING, 0));
                return listener.latest(BEAT).orElse("").contains("\"logging\":false");
            });
            alive.set(false);
            // Some may be on their way; then none comes for three periods.
            AtomicInteger known = new AtomicInteger(listener.on(BEAT).size());
            await().during(Duration.ofSeconds(3)).atMost(PATIENCE).until(() -> {
                outputs.onSnapshot(snapshot(FlameState.BURNING, 0));
                int now = listener.on(BEAT).size();
                return known.getAndSet(now) == now;
            });
            alive.set(true);
            awaitBeat(outputs, listener);
            // The ledger hangs: no snapshot comes any more.
            await().atMost(PATIENCE).until(() -> quiet(listener));
        }
    }

    private static void awaitBeat(Outputs outputs, BrokerListener listener) {
        int before = listener.on(BEAT).size();
        await().atMost(PATIENCE).until(() -> {
            outputs.onSnapshot(snapshot(FlameState.BURNING, 0));
            return listener.on(BEAT).size() > before;
        });
    }

    /** No beat within the last two and a half periods. */
    private static boolean quiet(BrokerListener listener) {
        List<Heard> beats = listener.on(BEAT);
        return System.nanoTime() - beats.get(beats.size() - 1).nanos() > TimeUnit.MILLISECONDS.toNanos(2_500);
    }

    @Test
    void aBrokerThatRefusesUsSaysWhyAndAMendedPasswordServesWithoutARestart() throws Exception {
        mosquitto().withUser("class", "sesame").start();
        Path password = Files.writeString(folder.resolve("password"), "hunter2\n");
        Outputs outputs = start("class", password);
        await().atMost(PATIENCE).until(() -> state(outputs).detail().contains("wrong user or password"));
        assertThat(state(outputs).detail()).doesNotContain("hunter2");
        assertThat(outputs.test("broker")
                        .orElseThrow()
                        .get(PATIENCE.toSeconds(), TimeUnit.SECONDS)
                        .done())
                .isFalse();
        outputs.onAlarm(Alarms.flameOut());
        Files.writeString(password, "sesame\n");
        await().atMost(PATIENCE).until(() -> state(outputs).sent() == 1);
        assertThat(state(outputs).condition()).isEqualTo(Condition.OK);
    }
}
