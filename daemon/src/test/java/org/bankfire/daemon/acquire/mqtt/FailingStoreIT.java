package org.bankfire.daemon.acquire.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.atomic.AtomicReference;
import java.util.stream.LongStream;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.ledger.EventWriter;
import org.bankfire.daemon.ledger.Ledger;
import org.bankfire.daemon.ledger.Pipeline;
import org.bankfire.daemon.ledger.StoreOutput;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.bankfire.daemon.testbed.MosquittoProcess;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A real Mosquitto that sends twenty ahead, and a log book that another program keeps locked. */
class FailingStoreIT {
    private static final Duration SOON = Duration.ofSeconds(60);
    private static final String TOPIC = "forge/shed";
    private static final int MESSAGES = 150;
    private static final int FURTHER = 10;

    @TempDir
    Path folder;

    private final ReceiptClock clock =
            new ReceiptClock(() -> WallTime.of(Instant.now()), () -> new MonotonicTime(System.nanoTime()));
    private final AtomicReference<ForgeSnapshot> shown = new AtomicReference<>();
    private final List<AutoCloseable> opened = new ArrayList<>();

    @AfterEach
    void closeAll() throws Exception {
        for (int i = opened.size() - 1; i >= 0; i--) {
            opened.get(i).close();
        }
    }

    @Test
    void readingsGoOnReachingTheMonitorAndAllAreStoredOnceWhenTheStoreReturns() throws Exception {
        MosquittoProcess broker = toClose(new MosquittoProcess(folder));
        broker.with("max_inflight_messages 20").start();
        SqliteStore store = toClose(SqliteStore.open(folder.resolve("book.db")));
        StoreWriter writer = toClose(new StoreWriter(store, "test"));
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        List<ForgeConfig> forges = ConfigReader.read(Files.readString(example), "shed.toml", folder)
                .config()
                .forges();
        StoreOutput output = new StoreOutput(writer, new EventWriter(Writer.nullWriter()));
        DeliveryQueue queue = new DeliveryQueue();
        Ledger ledger = toClose(new Ledger(
                new Pipeline(forges, output), queue, writer, output, new NoUpkeep(), shown::set, System::nanoTime));
        ledger.start();
        MqttSource source = toClose(new MqttSource(
                new MqttSettings(
                        broker.uri(),
                        "bankfire-test",
                        List.of(new MqttSettings.Topic(TOPIC, new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null))),
                        null,
                        null,
                        null,
                        "bankfire/status"),
                FrameDecoders::of,
                clock,
                new Random(1)));
        source.start(queue);
        await().atMost(SOON).until(() -> source.status().connected());

        try (Sender sender = new Sender(broker.uri(), "sensor");
                Connection other = DriverManager.getConnection("jdbc:sqlite:" + folder.resolve("book.db"))) {
            other.setAutoCommit(false);
            try (Statement statement = other.createStatement()) {
                statement.execute("UPDATE forge SET name = name");
            }
            for (int i = 0; i < MESSAGES; i++) {
                sender.send(TOPIC, message(i));
            }
            await().atMost(SOON).until(() -> shownC() == 900 + MESSAGES - 1);
            assertThat(numbers(store)).as("nothing could be stored").isEmpty();
            await().atMost(SOON).until(() -> !writer.health().ok());
            assertThat(writer.health().message()).contains("acknowledged from memory");
            await().atMost(SOON).until(() -> writer.health().vouchedFor() == MESSAGES);
            other.rollback();
        }
        await().atMost(SOON)
                .untilAsserted(() -> assertThat(numbers(store))
                        .isEqualTo(LongStream.range(0, MESSAGES).boxed().toList()));
        assertThat(writer.flush(SOON)).isTrue();
        assertThat(writer.health().ok()).isTrue();

        try (Sender sender = new Sender(broker.uri(), "sensor")) {
            int sent = MESSAGES;
            long vouchedForBefore;
            do {
                // A disk that pauses for as long as is waited may ask for another from memory, and no more than that.
                assertThat(sent).as("acknowledged after the commit again").isLessThan(MESSAGES + FURTHER);
                vouchedForBefore = writer.health().vouchedFor();
                sender.send(TOPIC, message(sent++));
                int all = sent;
                await().atMost(SOON).until(() -> numbers(store).size() == all);
                await().atMost(SOON).until(() -> broker.acknowledgedBy("bankfire-test") >= all);
            } while (writer.health().vouchedFor() != vouchedForBefore);
        }
        assertThat(source.status().reconnects()).isZero();
    }

    private static String message(int number) {
        return "[{\"bn\":\"shed:\",\"bt\":" + (1_780_000_000L + number) + ",\"n\":\"chamber\",\"u\":\"Cel\",\"v\":"
                + (900 + number) + "},{\"n\":\"seq\",\"v\":" + number + "}]";
    }

    private double shownC() {
        ForgeSnapshot snapshot = shown.get();
        Reading chamber = snapshot == null ? null : snapshot.chamber();
        return chamber == null ? Double.NaN : chamber.value();
    }

    /** The numbers of the messages in the store, in order of time; what is there twice twice. */
    private static List<Long> numbers(SqliteStore store) throws StoreException {
        List<Long> numbers = new ArrayList<>();
        store.readings(new Channel("shed", "seq"), TimeRange.ALL, reading -> numbers.add(Math.round(reading.value())));
        return numbers;
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
