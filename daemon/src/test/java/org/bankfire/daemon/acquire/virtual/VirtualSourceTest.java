package org.bankfire.daemon.acquire.virtual;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.acquire.frame.Pack;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(120)
class VirtualSourceTest {
    private static final Duration SOON = Duration.ofSeconds(60);
    private static final Instant NOW = Instant.parse("2026-03-01T10:00:00Z");
    private static final FrameDecoder NO_DECODER = (bytes, time) -> new Pack(List.of(), List.of(), List.of());
    private static final ObjectMapper JSON = new ObjectMapper();

    private final SteppedPace pace = new SteppedPace();
    private final DeliveryQueue queue = new DeliveryQueue();
    private final List<VirtualSource> open = new ArrayList<>();

    @AfterEach
    void close() {
        open.forEach(VirtualSource::close);
    }

    @Test
    void deliversEveryChannelWithItsUnitAndNoTimeAtSpeedOne() throws Exception {
        start(1, 10);
        pace.allow(2);
        List<Delivery.Raw> raw = take(3);
        JsonNode first = JSON.readTree(raw.get(0).bytes());
        assertThat(first.get(0).get("bn").asText()).isEqualTo("demo:");
        assertThat(first.get(0).has("bt")).isFalse();
        Map<String, String> units = new HashMap<>();
        first.forEach(
                record -> units.put(record.get("n").asText(), record.path("u").asText()));
        assertThat(units)
                .isEqualTo(Map.of(
                        "seq", "", "chamber", "Cel", "gas", "Pa", "shell", "Cel", "ambient", "Cel", "cylinder", "kg"));
        assertThat(value(first, "chamber")).isCloseTo(20, within(2.0));
        assertThat(value(first, "cylinder")).isCloseTo(20.2, within(0.02));
        for (int i = 0; i < raw.size(); i++) {
            assertThat(value(JSON.readTree(raw.get(i).bytes()), "seq")).isEqualTo(i);
            assertThat(raw.get(i).decoder()).isSameAs(NO_DECODER);
            assertThat(raw.get(i).receiptTime()).isEqualTo(WallTime.of(NOW));
        }
    }

    @Test
    void datesItsPacksWhenItRunsFast() throws Exception {
        start(60, 2);
        pace.allow(240);
        List<Delivery.Raw> raw = take(241);
        assertThat(baseTime(raw.get(0))).isEqualTo((double) NOW.getEpochSecond());
        assertThat(baseTime(raw.get(240))).isEqualTo(NOW.getEpochSecond() + 120.0);
    }

    @Test
    void keepsItsRateTimesItsSpeed() throws Exception {
        long before = pace.nanoTime();
        start(4, 10);
        pace.allow(40);
        take(41);
        assertThat(pace.nanoTime() - before).isEqualTo(Duration.ofSeconds(1).toNanos());
    }

    @Test
    void makesUpForNothingAfterAStandstill() throws Exception {
        start(1, 10);
        pace.allow(1);
        take(2);
        pace.stall(Duration.ofMinutes(10).toNanos());
        long resumed = pace.nanoTime();
        pace.allow(11);
        take(11);
        // The first wait was due before the standstill; the ten after it are a tenth of a second each.
        await().atMost(SOON)
                .untilAsserted(() -> assertThat(pace.nanoTime() - resumed)
                        .isBetween(
                                Duration.ofMillis(900).toNanos(),
                                Duration.ofMillis(1_100).toNanos()));
    }

    @Test
    void putsOutTheFlameWhenTold() throws Exception {
        VirtualForge forge = new VirtualForge(3);
        forge.startAt(1_100);
        VirtualSource source = start(forge, 1, 10);
        pace.allow(600);
        JsonNode working = JSON.readTree(take(601).get(600).bytes());
        assertThat(value(working, "chamber")).isGreaterThan(1_000);
        source.trigger("put-out-the-flame");
        pace.allow(100);
        JsonNode out = JSON.readTree(take(100).get(99).bytes());
        assertThat(value(out, "chamber")).isLessThan(value(working, "chamber") - 60);
        assertThat(value(out, "gas")).as("gas keeps flowing").isGreaterThan(20_000);
    }

    @Test
    void reportsABrokenThermocoupleAsAFaultInPlaceOfAValue() throws Exception {
        VirtualSource source = start(1, 10);
        take(1);
        source.trigger("break-the-thermocouple");
        pace.allow(1);
        JsonNode pack = JSON.readTree(take(1).get(0).bytes());
        assertThat(named(pack, "chamber")).isEmpty();
        assertThat(pack.toString()).contains("{\"n\":\"chamber-fault\",\"vs\":\"open\"}");
    }

    @Test
    void goesThroughTheDecodingOfAnyOtherLine() throws Exception {
        FrameDecoder decoder = FrameDecoders.of(new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null));
        VirtualSource source = new VirtualSource(
                new VirtualSettings("demo", 60, 1, 3), decoder, () -> WallTime.of(NOW), new VirtualForge(3), pace);
        open.add(source);
        source.start(queue);
        Delivery.Raw whole = take(1).get(0);
        source.trigger("break-the-thermocouple");
        pace.allow(1);
        Delivery.Raw broken = take(1).get(0);
        List<Reading> readings =
                whole.decoder().decode(whole.bytes(), whole.receiptTime()).readings();
        assertThat(readings)
                .extracting(reading -> reading.channel().name())
                .containsExactly("seq", "chamber", "gas", "shell", "ambient", "cylinder");
        assertThat(readings).allSatisfy(reading -> {
            assertThat(reading.channel().forge()).isEqualTo("demo");
            assertThat(reading.quality()).isEqualTo(Quality.GOOD);
            assertThat(reading.sourceTime()).isEqualTo(WallTime.of(NOW));
        });
        List<Reading> later =
                broken.decoder().decode(broken.bytes(), broken.receiptTime()).readings();
        assertThat(later.get(1).channel().name()).isEqualTo("chamber");
        assertThat(later.get(1).quality()).isEqualTo(Quality.OPEN);
        assertThat(later.get(1).sourceTime()).isEqualTo(WallTime.of(NOW).plusSeconds(1));
    }

    @Test
    void offersItsActionsAndRefusesOthers() {
        VirtualSource source = start(1, 10);
        assertThat(source.actions()).contains("put-out-the-flame", "relight");
        assertThatThrownBy(() -> source.trigger("explode"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("explode")
                .hasMessageContaining("put-out-the-flame");
    }

    @Test
    void refusesMoreActionsThanAUserHasHands() {
        VirtualSource source = new VirtualSource(
                new VirtualSettings("demo", 1, 10, 3), NO_DECODER, () -> WallTime.of(NOW), new VirtualForge(3), pace);
        for (int i = 0; i < 16; i++) {
            source.trigger("stock-in");
        }
        assertThatThrownBy(() -> source.trigger("stock-in")).isInstanceOf(IllegalStateException.class);
    }

    @Test
    void closesWhileTheQueueIsFull() throws Exception {
        VirtualSource source = start(1_000, 50);
        pace.allow(DeliveryQueue.CAPACITY + 10);
        await().atMost(SOON).until(() -> queue.size() == DeliveryQueue.CAPACITY);
        source.close();
        await().atMost(SOON).until(() -> !source.status().connected());
        assertThat(source.status().detail()).isEqualTo("closed");
    }

    @Test
    void tellsHowItIs() throws Exception {
        VirtualSource source = start(1, 10);
        take(1);
        await().atMost(SOON).until(() -> source.status().frames() == 1);
        assertThat(source.status().connected()).isTrue();
        assertThat(source.status().detail()).contains("speed 1");
        assertThat(source.name()).isEqualTo("virtual demo");
        source.close();
        source.close();
        assertThatThrownBy(() -> source.start(queue)).isInstanceOf(IllegalStateException.class);
    }

    @Test
    void refusesSpeedsAndRatesOutsideItsRange() {
        assertThatThrownBy(() -> new VirtualSettings("demo", 1_001, 10, 1)).hasMessageContaining("0.1 to 1000");
        assertThatThrownBy(() -> new VirtualSettings("demo", 1, 51, 1)).hasMessageContaining("0.1 to 50");
    }

    private VirtualSource start(double speed, double rateHz) {
        return start(new VirtualForge(3), speed, rateHz);
    }

    private VirtualSource start(VirtualForge forge, double speed, double rateHz) {
        VirtualSource source = new VirtualSource(
                new VirtualSettings("demo", speed, rateHz, 3), NO_DECODER, () -> WallTime.of(NOW), forge, pace);
        open.add(source);
        source.start(queue);
        return source;
    }

    private List<Delivery.Raw> take(int count) throws InterruptedException {
        List<Delivery.Raw> taken = new ArrayList<>();
        while (taken.size() < count) {
            Delivery delivery = queue.poll(SOON.toMillis());
            assertThat(delivery).isInstanceOf(Delivery.Raw.class);
            taken.add((Delivery.Raw) delivery);
        }
        return taken;
    }

    private static double baseTime(Delivery.Raw raw) throws IOException {
        return JSON.readTree(raw.bytes()).get(0).get("bt").asDouble();
    }

    private static double value(JsonNode pack, String name) {
        return named(pack, name).orElseThrow().get("v").asDouble();
    }

    private static Optional<JsonNode> named(JsonNode pack, String name) {
        for (JsonNode record : pack) {
            if (record.get("n").asText().equals(name)) {
                return Optional.of(record);
            }
        }
        return Optional.empty();
    }
}
