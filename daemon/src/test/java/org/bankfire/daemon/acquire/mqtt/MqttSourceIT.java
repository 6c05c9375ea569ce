package org.bankfire.daemon.acquire.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.testbed.Certificates;
import org.bankfire.daemon.testbed.CuttableLink;
import org.bankfire.daemon.testbed.MosquittoProcess;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Against a real Mosquitto. */
class MqttSourceIT {
    private static final Duration SOON = Duration.ofSeconds(60);
    /** A little more than is promised. */
    private static final Duration CLOSED = Duration.ofMillis(2_500);

    private static final int CLOSINGS = 5;
    private static final String TOPIC = "forge/shed";
    private static final String STATUS = "bankfire/status";

    private static final FrameDecoder STUB = (bytes, receiptTime) -> new Pack(List.of(), List.of(), List.of());

    @TempDir
    Path folder;

    private final ReceiptClock clock =
            new ReceiptClock(() -> WallTime.of(Instant.now()), () -> new MonotonicTime(System.nanoTime()));
    private final DeliveryQueue queue = new DeliveryQueue();
    private final List<AutoCloseable> opened = new ArrayList<>();
    private MosquittoProcess broker;

    @BeforeEach
    void broker() throws Exception {
        broker = toClose(new MosquittoProcess(folder));
    }

    @AfterEach
    void closeAll() throws Exception {
        for (int i = opened.size() - 1; i >= 0; i--) {
            opened.get(i).close();
        }
    }

    @Test
    void messagesComeInOrderAndStampedApart() throws Exception {
        broker.start();
        StoringLedger ledger = toClose(new StoringLedger(queue, true));
        MqttSource source = started(settings(broker.uri()));
        Sender sender = toClose(new Sender(broker.uri(), "sensor"));
        for (int i = 0; i < 200; i++) {
            sender.send(TOPIC, "m" + i);
        }
        await().atMost(SOON).until(() -> ledger.texts().size() == 200);

        assertThat(ledger.texts()).isEqualTo(texts(0, 200));
        await().atMost(SOON).until(() -> source.status().frames() == 200);
        assertThat(source.status().detail()).isEqualTo("connected");
    }

    @Test
    void nothingIsLostWhenTheBrokerGoesAndComesBackInTheMiddle() throws Exception {
        broker.start();
        StoringLedger ledger = toClose(new StoringLedger(queue, true));
        MqttSource source = started(settings(broker.uri()));
        Sender sender = toClose(new Sender(broker.uri(), "sensor"));
        AtomicInteger sent = new AtomicInteger();
        ScheduledExecutorService sensor = Executors.newSingleThreadScheduledExecutor();
        toClose((AutoCloseable) sensor::shutdownNow);
        var unused = sensor.scheduleAtFixedRate(
                () -> sender.send(TOPIC, "m" + sent.getAndIncrement()), 0, 10, TimeUnit.MILLISECONDS);
        for (int round = 1; round <= 2; round++) {
            int enough = sent.get() + 50;
            await().atMost(SOON).until(() -> ledger.texts().contains("m" + enough));
            long before = source.status().reconnects();
            broker.restart();
            await().atMost(SOON).until(() -> source.status().reconnects() > before);
        }
        int last = sent.get() + 50;
        await().atMost(SOON).until(() -> ledger.texts().contains("m" + last));
        sensor.shutdown();
        assertThat(sensor.awaitTermination(SOON.toSeconds(), TimeUnit.SECONDS)).isTrue();

        await().atMost(SOON)
                .untilAsserted(() -> assertThat(new LinkedHashSet<>(ledger.texts()))
                        .containsExactlyInAnyOrderElementsOf(texts(0, sent.get())));
    }

    @Test
    void messagesSentWhileTheSourceIsAwayWaitForItAtTheBrokerThroughARestartOfTheBroker() throws Exception {
        broker.start();
        started(settings(broker.uri())).close();
        send(0, 50);
        broker.restart();
        StoringLedger ledger = toClose(new StoringLedger(queue, true));
        started(settings(broker.uri()));

        await().atMost(SOON).until(() -> ledger.texts().size() >= 50);
        assertThat(ledger.texts()).isEqualTo(texts(0, 50));
    }

    @Test
    void whatWasNeverStoredComesAgainToTheNextSourceAndWhatWasStoredDoesNot() throws Exception {
        broker.start();
        StoringLedger storing = new StoringLedger(queue, true);
        MqttSource first = started(settings(broker.uri()));
        send(0, 5);
        await().atMost(SOON).until(() -> storing.texts().size() == 5);
        awaitAcknowledged(5);
        storing.close();
        StoringLedger failing = new StoringLedger(queue, false);
        send(5, 10);
        await().atMost(SOON).until(() -> failing.texts().size() == 5);
        failing.close();
        first.close();

        StoringLedger ledger = toClose(new StoringLedger(queue, true));
        started(settings(broker.uri()));
        send(10, 11);
        await().atMost(SOON).until(() -> ledger.texts().contains("m10"));
        assertThat(ledger.texts()).isEqualTo(texts(5, 11));
    }

    @Test
    void whatTheStoreHasInHandWhenTheLinkIsCutIsHandedOnOnceAndAcknowledgedOnTheNewLink() throws Exception {
        broker.start();
        CuttableLink link = toClose(new CuttableLink(broker.port()));
        StoringLedger ledger = toClose(new StoringLedger(queue, false));
        MqttSource source = started(settings("tcp://127.0.0.1:" + link.port()));
        send(0, 10);
        await().atMost(SOON).until(() -> ledger.texts().size() == 10);
        link.cut();
        await().atMost(SOON).until(() -> !source.status().connected());
        link.mend();
        await().atMost(SOON).until(() -> source.status().connected());
        ledger.store();
        send(10, 20);
        await().atMost(SOON).until(() -> ledger.texts().contains("m19"));

        assertThat(ledger.texts()).isEqualTo(texts(0, 20));
        awaitAcknowledged(20);
        source.close();
        StoringLedger nothing = toClose(new StoringLedger(queue, true));
        started(settings(broker.uri()));
        send(20, 21);
        await().atMost(SOON)
                .until(() -> nothing.texts().contains("m20") || ledger.texts().contains("m20"));
        assertThat(new LinkedHashSet<>(concat(ledger.texts(), nothing.texts())))
                .hasSize(concat(ledger.texts(), nothing.texts()).size());
    }

    @Test
    void theRetainedStatusIsOnlineThenTheLastWillWhenTheLinkIsCutAndOfflineAfterClosing() throws Exception {
        broker.start();
        CuttableLink link = toClose(new CuttableLink(broker.port()));
        List<String> seen = watch(STATUS);
        MqttSource source = started(settings("tcp://127.0.0.1:" + link.port()));
        await().atMost(SOON).untilAsserted(() -> assertThat(seen).containsExactly("online"));

        link.cut();
        await().atMost(SOON).untilAsserted(() -> assertThat(seen).containsExactly("online", "offline"));
        link.mend();
        await().atMost(SOON).untilAsserted(() -> assertThat(seen).containsExactly("online", "offline", "online"));
        source.close();
        await().atMost(SOON)
                .untilAsserted(() -> assertThat(seen).containsExactly("online", "offline", "online", "offline"));
        assertThat(watchUntilFirst(STATUS)).as("retained").isEqualTo("offline");
    }

    @Test
    void aMessageThatIsTooLargeOrRetainedOrUncoveredIsCountedAndDoesNotComeAgain() throws Exception {
        broker.start();
        Sender sender = toClose(new Sender(broker.uri(), "sensor"));
        sender.send(TOPIC, "old".getBytes(StandardCharsets.UTF_8), 1, true);
        StoringLedger ledger = toClose(new StoringLedger(queue, true));
        MqttSource source = started(settings(broker.uri()));
        sender.send(TOPIC, new byte[MqttSource.LIMIT_BYTES + 1], 1, false);
        sender.send(TOPIC, "x".repeat(MqttSource.LIMIT_BYTES));
        await().atMost(SOON).until(() -> ledger.texts().size() == 1);
        assertThat(source.status().discarded()).isEqualTo(2);
        awaitAcknowledged(3);
        source.close();

        MqttSource other = started(settings(broker.uri(), "forge/other", null, null, null));
        send(0, 1);
        await().atMost(SOON).until(() -> other.status().discarded() == 1);
        assertThat(ledger.texts()).hasSize(1);
        assertThat(other.status().connected()).isTrue();
    }

    @Test
    void aWrongPasswordIsRefusedInWordsAndAMendedFileServesWithoutARestart() throws Exception {
        broker.withUser("shed", "correct horse").start();
        Path password = Files.writeString(folder.resolve("password"), "wrong\n");
        MqttSource source = new MqttSource(
                settings(broker.uri(), TOPIC, "shed", password, null), format -> STUB, clock, new Random(1));
        toClose(source).start(queue);
        await().atMost(SOON).until(() -> source.status().detail().contains("as user shed: wrong user or password"));
        assertThat(source.status().detail()).doesNotContain("horse").doesNotContain(": wrong\n");
        assertThat(source.status().connected()).isFalse();

        Files.writeString(password, "correct horse\nsecond line\n");
        await().atMost(SOON).until(() -> source.status().connected());
    }

    @Test
    void tlsWorksWithTheBrokersOwnAuthorityAndIsRefusedWithAnother() throws Exception {
        Certificates ours = Certificates.authority(folder, "ours");
        Certificates theirs = Certificates.authority(folder, "theirs");
        Certificates.Server server = ours.server("IP:127.0.0.1,DNS:localhost");
        broker.withTls(server.certificate(), server.key()).start();

        StoringLedger ledger = toClose(new StoringLedger(queue, true));
        started(settings(broker.uri(), STATUS, null, null, ours.caFile()));
        await().atMost(SOON).untilAsserted(() -> assertThat(ledger.texts()).containsExactly("online"));

        for (Path refused : new Path[] {theirs.caFile(), null}) {
            MqttSource source = new MqttSource(
                    settings(broker.uri(), TOPIC, null, null, refused), format -> STUB, clock, new Random(1));
            toClose(source).start(queue);
            await().atMost(SOON).until(() -> source.status().detail().contains("certificate"));
            assertThat(source.status().connected()).isFalse();
            source.close();
        }
    }

    @Test
    void aCertificateForAnotherHostIsRefused() throws Exception {
        Certificates ours = Certificates.authority(folder, "ours");
        Certificates.Server server = ours.server("DNS:elsewhere.example");
        broker.withTls(server.certificate(), server.key()).start();
        MqttSource source = new MqttSource(
                settings(broker.uri(), TOPIC, null, null, ours.caFile()), format -> STUB, clock, new Random(1));
        toClose(source).start(queue);

        await().atMost(SOON).until(() -> source.status().detail().contains("its certificate is not accepted"));
        assertThat(source.status().connected()).isFalse();
    }

    @Test
    void aBrokerThatIsNotThereIsNamedAndServesAsSoonAsItComes() throws Exception {
        MqttSource source = new MqttSource(settings(broker.uri()), format -> STUB, clock, new Random(1));
        toClose(source).start(queue);
        await().atMost(SOON).until(() -> source.status().detail().contains("is the broker running?"));

        broker.start();
        await().atMost(SOON).until(() -> source.status().connected());
        assertThat(source.status().reconnects()).isZero();
    }

    @Test
    void closingTakesNoMoreThanTwoSecondsEvenWithAStoreThatNeverStores() throws Exception {
        broker.start();
        StoringLedger ledger = toClose(new StoringLedger(queue, false));
        MqttSource first = started(settings(broker.uri()));
        send(0, 3);
        await().atMost(SOON).until(() -> ledger.texts().size() == 3);
        long quickestNanos = nanosToClose(first);
        // What is not stored comes again to each. A busy machine delays one or the other, and not what they do.
        for (int i = 1; i <= CLOSINGS && quickestNanos > CLOSED.toNanos(); i++) {
            int all = 3 + 3 * i;
            MqttSource next = started(settings(broker.uri()));
            await().atMost(SOON).until(() -> ledger.texts().size() == all);
            quickestNanos = Math.min(quickestNanos, nanosToClose(next));
        }
        assertThat(Duration.ofNanos(quickestNanos)).isLessThan(CLOSED);
    }

    private static long nanosToClose(MqttSource source) throws Exception {
        long begin = System.nanoTime();
        CompletableFuture.runAsync(source::close).get(SOON.toSeconds(), TimeUnit.SECONDS);
        long took = System.nanoTime() - begin;
        await().atMost(SOON).until(() -> source.status().detail().equals("closed"));
        return took;
    }

    private MqttSettings settings(String uri) {
        return settings(uri, TOPIC, null, null, null);
    }

    private static MqttSettings settings(
            String uri, String topic, @Nullable String user, @Nullable Path password, @Nullable Path caFile) {
        FrameFormat format = new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null);
        return new MqttSettings(
                uri, "bankfire-test", List.of(new MqttSettings.Topic(topic, format)), user, password, caFile, STATUS);
    }

    private MqttSource started(MqttSettings settings) {
        MqttSource source = toClose(new MqttSource(settings, format -> STUB, clock, new Random(1)));
        source.start(queue);
        await().atMost(SOON).until(() -> source.status().connected());
        return source;
    }

    /** What the broker does not know to be acknowledged when a connection ends comes again with the next. */
    private void awaitAcknowledged(int count) {
        await().atMost(SOON).until(() -> broker.acknowledgedBy("bankfire-test") >= count);
    }

    private void send(int from, int to) {
        try (Sender sender = new Sender(broker.uri(), "sensor-" + from)) {
            for (int i = from; i < to; i++) {
                sender.send(TOPIC, "m" + i);
            }
        } catch (Exception e) {
            throw new IllegalStateException(e);
        }
    }

    private List<String> watch(String topic) throws Exception {
        List<String> seen = new CopyOnWriteArrayList<>();
        MqttClient client = new MqttClient(broker.uri(), "watcher-" + opened.size(), new MemoryPersistence());
        toClose((AutoCloseable) () -> {
            client.disconnectForcibly(0, 0, false);
            client.close(true);
        });
        client.connect();
        client.subscribe(topic, 1, (at, message) -> seen.add(new String(message.getPayload(), StandardCharsets.UTF_8)));
        return seen;
    }

    private String watchUntilFirst(String topic) throws Exception {
        List<String> seen = watch(topic);
        await().atMost(SOON).until(() -> !seen.isEmpty());
        return seen.get(0);
    }

    private static List<String> texts(int from, int to) {
        return IntStream.range(from, to).mapToObj(i -> "m" + i).toList();
    }

    private static List<String> concat(List<String> a, List<String> b) {
        List<String> both = new ArrayList<>(a);
        both.addAll(b);
        return both;
    }

    private <T extends AutoCloseable> T toClose(T closeable) {
        opened.add(closeable);
        return closeable;
    }
}
