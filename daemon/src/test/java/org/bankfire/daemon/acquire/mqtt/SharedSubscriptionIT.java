package org.bankfire.daemon.acquire.mqtt;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.testbed.CuttableLink;
import org.bankfire.daemon.testbed.MosquittoProcess;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Two sources share a subscription at a real Mosquitto. */
class SharedSubscriptionIT {
    private static final Duration SOON = Duration.ofSeconds(60);

    @TempDir
    Path folder;

    private final ReceiptClock clock =
            new ReceiptClock(() -> WallTime.of(Instant.now()), () -> new MonotonicTime(System.nanoTime()));

    @Test
    void eachOfAThousandMessagesIsStoredByOneOfTwoAndNothingIsLostWhenOneGoes() throws Exception {
        DeliveryQueue ofOne = new DeliveryQueue();
        DeliveryQueue ofOther = new DeliveryQueue();
        try (MosquittoProcess broker = new MosquittoProcess(folder).with("max_queued_messages 0")) {
            broker.start();
            try (CuttableLink link = new CuttableLink(broker.port());
                    StoringLedger one = new StoringLedger(ofOne, true);
                    StoringLedger other = new StoringLedger(ofOther, true);
                    MqttSource first = source("tcp://127.0.0.1:" + link.port(), "one");
                    MqttSource second = source(broker.uri(), "other")) {
                first.start(ofOne);
                second.start(ofOther);
                await().atMost(SOON)
                        .until(() ->
                                first.status().connected() && second.status().connected());
                send(broker.uri(), 0, 1_000);
                await().atMost(SOON)
                        .until(() -> one.texts().size() + other.texts().size() >= 1_000);
                assertThat(all(one, other)).containsExactlyInAnyOrderElementsOf(texts(1_000));
                assertThat(one.texts()).isNotEmpty();
                assertThat(other.texts()).isNotEmpty();

                // What the broker does not know to be acknowledged comes again, and would be there twice.
                await().atMost(SOON)
                        .until(() -> broker.acknowledgedBy("one") + broker.acknowledgedBy("other") >= 1_000);
                link.cut();
                await().atMost(SOON).until(() -> !first.status().connected());
                int before = other.texts().size();
                send(broker.uri(), 1_000, 1_500);
                await().atMost(SOON).until(() -> other.texts().size() > before);
                // What the broker had dealt to the one that is away, it keeps for it.
                link.mend();
                await().atMost(SOON)
                        .until(() -> one.texts().size() + other.texts().size() >= 1_500);
                assertThat(all(one, other)).containsExactlyInAnyOrderElementsOf(texts(1_500));
            }
        }
    }

    private MqttSource source(String uri, String clientId) {
        MqttSettings settings = new MqttSettings(
                uri,
                clientId,
                List.of(new MqttSettings.Topic("club/+", new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null))),
                null,
                null,
                null,
                "status/" + clientId,
                new MqttSettings.Share("smiths", MqttSettings.By.MESSAGE));
        return new MqttSource(
                settings,
                format -> (bytes, received) -> new Pack(List.of(), List.of(), List.of()),
                clock,
                new Random(1));
    }

    private static List<String> all(StoringLedger one, StoringLedger other) {
        return Stream.concat(one.texts().stream(), other.texts().stream()).toList();
    }

    private static List<String> texts(int count) {
        return IntStream.range(0, count).mapToObj(i -> "m" + i).toList();
    }

    private static void send(String uri, int from, int to) throws Exception {
        try (Sender sender = new Sender(uri, "sender" + from)) {
            for (int i = from; i < to; i++) {
                sender.send("club/shed", "m" + i);
            }
        }
    }
}
