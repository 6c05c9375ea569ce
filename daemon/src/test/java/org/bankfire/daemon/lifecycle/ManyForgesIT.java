package org.bankfire.daemon.lifecycle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.Writer;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.bankfire.daemon.testbed.MosquittoProcess;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Forty forges of a club through one real broker into one daemon with two ledger threads; two of them misbehave. */
class ManyForgesIT {
    private static final Duration PATIENCE = Duration.ofSeconds(90);
    private static final int FORGES = 40;
    private static final int FLOODING = 0;
    private static final int BROKEN = 1;
    private static final int ROUNDS = 40;
    private static final long START_S = 1_780_000_000;
    private static final Pattern SEQUENCE = Pattern.compile("\"channel\":\"seq\"[^}]*?\"value\":([0-9.]+)");

    @TempDir
    Path folder;

    private final HttpClient http = HttpClient.newHttpClient();

    @Test
    void aFloodAndBadFramesOfTwoForgesNeitherDelayNorLoseAnythingOfTheOthers() throws Exception {
        // Else the broker itself would drop what it cannot send ahead of acknowledgements.
        try (MosquittoProcess broker =
                new MosquittoProcess(folder).with("max_inflight_messages 0").with("max_queued_messages 0")) {
            broker.start();
            BankfireConfig config = ConfigReader.read(configuration(broker.uri()), "club.toml", folder)
                    .config();
            AtomicBoolean done = new AtomicBoolean();
            AtomicLong flooded = new AtomicLong();
            AtomicLong spoilt = new AtomicLong();
            try (Daemon daemon = Daemon.start(config, false, Writer.nullWriter())) {
                awaitConnected(daemon);
                Thread flood = sender(broker.uri(), "flood", 0, done, i -> frame(FLOODING, i), flooded);
                Thread broken = sender(broker.uri(), "broken", 1, done, ManyForgesIT::bad, spoilt);
                try (Client client = new Client(broker.uri(), "others")) {
                    for (int round = 1; round <= ROUNDS; round++) {
                        for (int forge = 2; forge < FORGES; forge++) {
                            client.send("club/" + name(forge), frame(forge, round), 1);
                        }
                        // The flood goes on meanwhile: each round is seen before the next one is sent.
                        int seen = round;
                        int one = 2 + round % (FORGES - 2);
                        await().atMost(PATIENCE).until(() -> sequence(daemon, one) >= seen);
                    }
                    for (int forge = 2; forge < FORGES; forge++) {
                        int one = forge;
                        await().atMost(PATIENCE).until(() -> sequence(daemon, one) >= ROUNDS);
                    }
                    await().atMost(PATIENCE).until(() -> flooded.get() > 20L * ROUNDS && spoilt.get() > 0);
                } finally {
                    done.set(true);
                    flood.join();
                    broken.join();
                }
                assertThat(flooded.get()).as("a flood indeed").isGreaterThan(20L * ROUNDS);
                assertThat(spoilt).hasPositiveValue();
                // What the end leaves unstored would come again to the next daemon, and there is none.
                await().atMost(PATIENCE).until(() -> get(daemon, "/health").contains("\"storeBacklog\":0,"));
            }
            for (int forge = 2; forge < FORGES; forge++) {
                assertThat(stored(forge))
                        .as(name(forge))
                        .containsExactlyElementsOf(
                                IntStream.rangeClosed(1, ROUNDS).boxed().toList());
            }
        }
    }

    private interface Frames {
        String of(int number);
    }

    private static Thread sender(String uri, String id, int qos, AtomicBoolean done, Frames frames, AtomicLong sent) {
        Thread thread = new Thread(
                () -> {
                    try (Client client = new Client(uri, id)) {
                        while (!done.get()) {
                            client.send("club/" + id, frames.of((int) sent.incrementAndGet()), qos);
                        }
                    } catch (MqttException failure) {
                        throw new IllegalStateException(failure);
                    }
                },
                id);
        thread.start();
        return thread;
    }

    private static String name(int forge) {
        return "f" + forge;
    }

    private static String frame(int forge, int number) {
        double time = START_S + number / 10.0;
        return "[{\"bn\":\"" + name(forge) + ":\",\"bt\":" + time + ",\"n\":\"chamber\",\"u\":\"Cel\",\"v\":900},"
                + "{\"n\":\"gas\",\"u\":\"Pa\",\"v\":30000},{\"n\":\"seq\",\"v\":" + number + "}]";
    }

    /** Truncated, of an unknown unit and of no number at all, by turns. */
    private static String bad(int number) {
        String whole = frame(BROKEN, number);
        return switch (number % 3) {
            case 0 -> whole.substring(0, whole.length() / 2);
            case 1 -> whole.replace("\"v\":900", "\"v\":\"hot\"");
            default -> "";
        };
    }

    private void awaitConnected(Daemon daemon) {
        await().atMost(PATIENCE).until(() -> get(daemon, "/health").contains("\"connected\":true"));
    }

    private long sequence(Daemon daemon, int forge) throws Exception {
        Matcher latest = SEQUENCE.matcher(get(daemon, "/api/v1/forges/" + name(forge) + "/now"));
        return latest.find() ? Math.round(Double.parseDouble(latest.group(1))) : -1;
    }

    private String get(Daemon daemon, String path) throws Exception {
        return http.send(
                        HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + daemon.port() + path))
                                .build(),
                        HttpResponse.BodyHandlers.ofString())
                .body();
    }

    private List<Integer> stored(int forge) throws Exception {
        List<Integer> numbers = new ArrayList<>();
        try (ReadingStore store = SqliteStore.open(folder.resolve("book.db"))) {
            store.readings(
                    new Channel(name(forge), "seq"),
                    TimeRange.ALL,
                    reading -> numbers.add((int) Math.round(reading.value())));
        }
        return numbers;
    }

    private static String configuration(String broker) throws Exception {
        String shed = Files.readString(Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml"));
        String forge = shed.substring(shed.indexOf("[[forge]]"));
        StringBuilder text = new StringBuilder("""
                [daemon]
                ledger-threads = 2

                [dashboard]
                listen = "127.0.0.1:0"

                [store]
                path = "book.db"

                [[source]]
                kind = "mqtt"
                broker = "%s"
                client-id = "club"
                topics = ["club/#"]

                """.formatted(broker));
        for (int i = 0; i < FORGES; i++) {
            text.append(forge.replaceFirst("id = \"shed\"", "id = \"" + name(i) + "\""))
                    .append('\n');
        }
        return text.toString();
    }

    /** A publisher that waits for the broker's word only as the quality of service asks for. */
    private static final class Client implements AutoCloseable {
        private final MqttClient client;

        Client(String uri, String id) throws MqttException {
            client = new MqttClient(uri, id, new MemoryPersistence());
            MqttConnectOptions options = new MqttConnectOptions();
            options.setMaxInflight(1_000);
            client.connect(options);
        }

        void send(String topic, String text, int qos) throws MqttException {
            client.publish(topic, text.getBytes(StandardCharsets.UTF_8), qos, false);
        }

        @Override
        public void close() throws MqttException {
            client.disconnect();
            client.close();
        }
    }
}
