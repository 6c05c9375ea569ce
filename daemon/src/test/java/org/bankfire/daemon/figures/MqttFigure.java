package org.bankfire.daemon.figures;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.IntStream;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.lifecycle.Daemon;
import org.bankfire.daemon.testbed.MosquittoProcess;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;

/**
 * Messages that wait at a real broker, QoS 1, taken as fast as it goes: by the daemon, from the first frame until all are
 * corrected, watched, stored, durable and acknowledged; and by a bare Paho client that acknowledges and counts them.
 */
final class MqttFigure {
    private static final int FORGES = 20;
    private static final long STEP_US = 5_000;
    private static final Duration DONE = Duration.ofMinutes(3);
    private static final String FILTER = "club/#";

    private final Path folder;
    private final MosquittoProcess broker;
    private final int messages;
    private final ForgeValues values;
    private int run;

    private MqttFigure(Path folder, MosquittoProcess broker, int messages) {
        this.folder = folder;
        this.broker = broker;
        this.messages = messages;
        this.values = ForgeValues.burning(1, messages / FORGES + 1, 10);
    }

    static List<Figure> figures(Path folder, int messages, int rounds) throws Exception {
        try (MosquittoProcess broker = new MosquittoProcess(folder)
                .quiet()
                .with("max_inflight_messages 10000")
                .with("set_tcp_nodelay true")) {
            broker.start();
            MqttFigure mqtt = new MqttFigure(folder, broker, messages);
            Duel.Result result = Duel.of(rounds, mqtt::ours, mqtt::bare);
            return List.of(result.figure(
                    "messages of four readings by MQTT, stored before they are acknowledged",
                    "messages/s",
                    "bare Paho receive, acknowledged and counted",
                    "",
                    Figure.Verdict.NO_TARGET));
        }
    }

    private double ours() throws Exception {
        Path own = Files.createDirectory(folder.resolve("mqtt-" + run++));
        BankfireConfig config = ConfigReader.read(BenchForge.configuration(
                        own,
                        """
                        kind = "mqtt"
                        broker = "%s"
                        topics = ["%s"]
                        """.formatted(broker.uri(), FILTER),
                        IntStream.range(0, FORGES).mapToObj(FleetSender::id).toList()))
                .config();
        try (Daemon daemon = Daemon.start(config, false, new StringBuilder())) {
            // Subscribed, too: else nobody keeps the messages.
            Health health = health(daemon);
            if (!health.await(
                    DONE, now -> now.path("sources").path(0).path("connected").asBoolean())) {
                throw new IOException("the daemon did not reach the broker: " + health.now());
            }
        }
        publish();
        try (Daemon daemon = Daemon.start(config, false, new StringBuilder())) {
            Health health = health(daemon);
            long latest = System.nanoTime() + DONE.toNanos();
            while (health.frames() == 0) {
                if (System.nanoTime() - latest > 0) {
                    throw new IOException("the daemon took no message: " + health.now());
                }
                TimeUnit.MILLISECONDS.sleep(1);
            }
            long begin = System.nanoTime();
            long readings = (long) messages * ForgeValues.CHANNELS;
            if (!health.await(DONE, now -> now.path("readingsStored").asLong() >= readings)) {
                throw new IOException("the daemon did not store all: " + health.now());
            }
            return messages / ((System.nanoTime() - begin) / 1e9);
        }
    }

    private static Health health(Daemon daemon) {
        return new Health("http://127.0.0.1:" + daemon.port() + "/");
    }

    private double bare() throws Exception {
        String id = "bare-" + run++;
        MqttClient absent = connected(id, null);
        absent.subscribe(FILTER, 1);
        absent.disconnect();
        absent.close();
        publish();
        Counter counter = new Counter(messages);
        MqttClient client = connected(id, counter);
        if (!counter.all.await(DONE.toSeconds(), TimeUnit.SECONDS)) {
            throw new IOException("the bare client got " + counter.count + " of " + messages + " messages");
        }
        double seconds = (counter.lastNanos - counter.firstNanos) / 1e9;
        client.unsubscribe(FILTER);
        client.disconnect();
        client.close();
        return messages / seconds;
    }

    private MqttClient connected(String id, @org.jspecify.annotations.Nullable MqttCallback callback)
            throws MqttException {
        MqttClient client = new MqttClient(broker.uri(), id, new MemoryPersistence());
        client.setCallback(callback);
        MqttConnectOptions options = new MqttConnectOptions();
        options.setCleanSession(false);
        client.connect(options);
        return client;
    }

    /** Each message has a time of its own, so that none is taken for another. */
    private void publish() throws IOException, InterruptedException {
        long begin = OneClock.now().micros(System.nanoTime()) - messages * STEP_US;
        PackBytes[] packs = new PackBytes[FORGES];
        byte[][] topics = new byte[FORGES][];
        for (int i = 0; i < FORGES; i++) {
            packs[i] = new PackBytes(FleetSender.id(i));
            topics[i] = ("club/" + FleetSender.id(i)).getBytes(StandardCharsets.US_ASCII);
        }
        try (LeanPublisher publisher = new LeanPublisher(broker.port(), "boards")) {
            for (int i = 0; i < messages; i++) {
                int forge = i % FORGES;
                publisher.add(topics[forge], packs[forge], begin + i * STEP_US, values.tail(i / FORGES));
            }
            publisher.flush();
            long end = System.nanoTime() + DONE.toNanos();
            while (publisher.acknowledged() < messages) {
                if (System.nanoTime() > end) {
                    throw new IOException("the broker took " + publisher.acknowledged() + " of " + messages);
                }
                TimeUnit.MILLISECONDS.sleep(1);
            }
        }
    }

    private static final class Counter implements MqttCallback {
        private final long wanted;
        private final AtomicLong count = new AtomicLong();
        private final CountDownLatch all = new CountDownLatch(1);
        private volatile long firstNanos;
        private volatile long lastNanos;

        Counter(long wanted) {
            this.wanted = wanted;
        }

        @Override
        public void connectionLost(Throwable cause) {
            // Then not all come, and that is told.
        }

        @Override
        public void messageArrived(String topic, MqttMessage message) {
            long number = count.incrementAndGet();
            if (number == 1) {
                firstNanos = System.nanoTime();
            } else if (number == wanted) {
                lastNanos = System.nanoTime();
                all.countDown();
            }
        }

        @Override
        public void deliveryComplete(IMqttDeliveryToken token) {
            // It sends nothing.
        }
    }
}
