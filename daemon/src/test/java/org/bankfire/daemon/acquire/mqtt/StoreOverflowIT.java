package org.bankfire.daemon.acquire.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.Writer;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.LongStream;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.ledger.EventWriter;
import org.bankfire.daemon.ledger.Ledger;
import org.bankfire.daemon.ledger.Pipeline;
import org.bankfire.daemon.ledger.StoreOutput;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.bankfire.daemon.testbed.MosquittoProcess;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A real Mosquitto, and a log book that another program keeps locked until more has come than may wait for it. */
class StoreOverflowIT {
    private static final Duration SOON = Duration.ofSeconds(60);
    private static final String TOPIC = "forge/shed";
    private static final int READINGS_PER_MESSAGE = 3;
    private static final int MAY_WAIT = 240;
    /** Longer than these tests: they are about messages that wait for the commit to the end. */
    private static final Duration PATIENT = Duration.ofMinutes(10);

    @TempDir
    Path folder;

    private final ReceiptClock clock =
            new ReceiptClock(() -> WallTime.of(Instant.now()), () -> new MonotonicTime(System.nanoTime()));
    private final List<AutoCloseable> opened = new ArrayList<>();
    private MosquittoProcess broker;
    private SqliteStore store;
    private StoreWriter writer;

    @BeforeEach
    void openStore() throws Exception {
        broker = toClose(new MosquittoProcess(folder));
        store = toClose(SqliteStore.open(folder.resolve("book.db")));
        StoreWriter.Limits limits = new StoreWriter.Limits(MAY_WAIT, 100, 10_000);
        writer = toClose(new StoreWriter(store, "small", limits, PATIENT, System::nanoTime));
    }

    @AfterEach
    void closeAll() throws Exception {
        for (int i = opened.size() - 1; i >= 0; i--) {
            opened.get(i).close();
        }
    }

    @Test
    void whatTheStoreHadToDropComesAgainWhenItWorksAgain() throws Exception {
        // The broker sends far ahead, so that the messages alone make more than may wait.
        broker.with("max_inflight_messages 1000").start();
        MqttSource source = connected();
        int messages = MAY_WAIT / READINGS_PER_MESSAGE + 40;
        try (Connection other = lock()) {
            somethingUnderWay();
            send(0, messages);
            await().atMost(SOON).until(() -> source.status().frames() == messages);
            await().atMost(SOON).until(() -> writer.health().forgottenCallbacks() > 0);
            assertThat(source.status().reconnects())
                    .as("connecting again while nothing can be stored would only drop more")
                    .isZero();
            other.rollback();
        }
        await().atMost(SOON).untilAsserted(() -> assertThat(storedNumbers()).isEqualTo(numbers(messages)));
        // What the broker kept comes before it has answered the subscription, which is what counts.
        await().atMost(SOON)
                .untilAsserted(() -> assertThat(source.status().reconnects()).isBetween(1L, 3L));

        send(messages, messages + 50);
        await().atMost(SOON).untilAsserted(() -> assertThat(storedNumbers()).isEqualTo(numbers(messages + 50)));
    }

    @Test
    void theBrokersWindowDoesNotStayFullOfMessagesThatOthersPushedOut() throws Exception {
        broker.with("max_inflight_messages 20").start();
        MqttSource source = connected();
        try (Connection other = lock()) {
            somethingUnderWay();
            send(0, 60);
            await().atMost(SOON).until(() -> source.status().frames() == 20);
            await().atMost(SOON).until(() -> writer.health().backlog() == 1 + 20 * READINGS_PER_MESSAGE);
            for (int i = 0; i < 2 * MAY_WAIT; i++) {
                writer.add(ofAnotherSource(i));
            }
            assertThat(writer.health().forgottenCallbacks()).isPositive();
            other.rollback();
        }
        await().atMost(SOON).untilAsserted(() -> assertThat(storedNumbers()).isEqualTo(numbers(60)));
        await().atMost(SOON)
                .untilAsserted(() -> assertThat(source.status().reconnects()).isBetween(1L, 2L));
    }

    /** So that all that follows waits, and can be pushed out: what is handed to the store already can't. */
    private void somethingUnderWay() {
        writer.add(ofAnotherSource(-1));
        await().atMost(SOON).until(() -> !writer.health().ok());
    }

    private MqttSource connected() throws Exception {
        FrameFormat format = new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null);
        DeliveryQueue queue = new DeliveryQueue();
        StoreOutput output = new StoreOutput(writer, new EventWriter(Writer.nullWriter()));
        Pipeline pipeline = new Pipeline(List.of(), output);
        Ledger ledger = new Ledger(pipeline, queue, writer, output, new NoUpkeep(), snapshot -> {}, System::nanoTime);
        ledger.start();
        toClose(ledger);
        MqttSource source = toClose(new MqttSource(
                new MqttSettings(
                        broker.uri(),
                        "bankfire-test",
                        List.of(new MqttSettings.Topic(TOPIC, format)),
                        null,
                        null,
                        null,
                        "bankfire/status"),
                FrameDecoders::of,
                clock,
                new Random(1)));
        source.start(queue);
        await().atMost(SOON).until(() -> source.status().connected());
        return source;
    }

    /** Lets nobody else write to the log book until it is rolled back. */
    private Connection lock() throws SQLException {
        Connection other = DriverManager.getConnection("jdbc:sqlite:" + folder.resolve("book.db"));
        other.setAutoCommit(false);
        try (Statement statement = other.createStatement()) {
            statement.execute("UPDATE forge SET name = name");
        }
        return other;
    }

    private void send(int from, int to) throws MqttException {
        try (Sender sender = new Sender(broker.uri(), "sensor-" + from)) {
            for (int i = from; i < to; i++) {
                sender.send(
                        TOPIC,
                        "[{\"bn\":\"shed:\",\"bt\":" + (1_780_000_000L + i)
                                + ",\"n\":\"chamber\",\"u\":\"Cel\",\"v\":" + (900 + i)
                                + "},{\"n\":\"gas\",\"u\":\"kPa\",\"v\":80},{\"n\":\"seq\",\"v\":" + i + "}]");
            }
        }
    }

    private static Reading ofAnotherSource(int number) {
        WallTime time = WallTime.ofEpochSeconds(1_770_000_000.0 + number);
        return Reading.good(new Channel("loft", "chamber"), number, Unit.CELSIUS, time, time);
    }

    /** The numbers of the messages in the store, in order of time; what is there twice twice. */
    private List<Long> storedNumbers() throws StoreException {
        List<Long> numbers = new ArrayList<>();
        store.readings(new Channel("shed", "seq"), TimeRange.ALL, reading -> numbers.add(Math.round(reading.value())));
        return numbers;
    }

    private static List<Long> numbers(int count) {
        return LongStream.range(0, count).boxed().toList();
    }

    private <T extends AutoCloseable> T toClose(T closeable) {
        opened.add(closeable);
        return closeable;
    }

    private static final class NoUpkeep implements Ledger.Upkeep {
        @Override
        public void followClock() {}

        @Override
        public void tick() {}
    }
}
