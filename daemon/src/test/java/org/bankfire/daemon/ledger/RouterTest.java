package org.bankfire.daemon.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.Intake;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.SourceStatus;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

class RouterTest {
    private static final Duration SOON = Duration.ofSeconds(60);
    private static final WallTime NOW = WallTime.ofEpochSeconds(1_780_000_000);
    private static final int HUNG_LOOKS = 25;
    private static final LedgerSupervisor.Pace BY_HAND =
            new LedgerSupervisor.Pace(20, HUNG_LOOKS, HUNG_LOOKS, 3, 100_000);
    private static final int SHARE = 8;
    private static final FrameDecoder SENML = FrameDecoders.of(new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null));

    private final ForgeRoutes routes =
            new ForgeRoutes(List.of("shed", "quarry", "loft"), 2, new ForgeQueue.Limits(32, SHARE));
    private final SourceCounts counts = new SourceCounts();
    private final CountDownLatch antidote = new CountDownLatch(1);
    private final List<Router> routers = new ArrayList<>();

    @AfterEach
    void close() {
        antidote.countDown();
        routers.forEach(Router::close);
    }

    @Test
    void eachForgesPartGoesToItsOwnLedgerAndTheWordIsGivenOnceAllPartsAreStored() throws Exception {
        Line line = new Line(true);
        Router router = router(line);
        AtomicInteger stored = new AtomicInteger();
        AtomicInteger dropped = new AtomicInteger();
        String pack = "[{\"n\":\"shed:a\",\"v\":1},{\"n\":\"quarry:a\",\"v\":2},{\"n\":\"barn:a\",\"v\":3},"
                + "{\"n\":\"shed:b\",\"v\":4}]";
        router.put(raw(line, pack, stored::incrementAndGet, dropped::incrementAndGet));

        assertThat(routes.ledgerOf("shed")).isZero();
        assertThat(routes.ledgerOf("quarry")).isOne();
        Delivery.Decoded shed = next(0);
        Delivery.Decoded barn = next(0);
        Delivery.Decoded quarry = next(1);
        assertThat(channels(shed)).containsExactly("shed:a", "shed:b");
        assertThat(channels(barn)).as("not configured: kept by the first").containsExactly("barn:a");
        assertThat(channels(quarry)).containsExactly("quarry:a");
        assertThat(shed.frames() + barn.frames() + quarry.frames()).isOne();
        shed.stored().run();
        quarry.stored().run();
        assertThat(stored).hasValue(0);
        barn.stored().run();
        assertThat(stored).hasValue(1);

        router.put(raw(line, pack, stored::incrementAndGet, dropped::incrementAndGet));
        next(0).dropped().run();
        next(0).stored().run();
        assertThat(dropped).hasValue(0);
        next(1).stored().run();
        assertThat(dropped).as("one part was dropped").hasValue(1);
        assertThat(stored).hasValue(1);
    }

    @Test
    void aFloodOfOneForgeIsPassedOverAndAcknowledgedAndTheOthersOfTheSameLineGoOn() throws Exception {
        Line line = new Line(true);
        Router router = router(line);
        AtomicInteger words = new AtomicInteger();
        for (int i = 0; i < 100; i++) {
            router.put(
                    raw(line, "[{\"n\":\"shed:a\",\"v\":" + i + "}]", words::incrementAndGet, words::incrementAndGet));
        }
        for (int i = 0; i < SHARE; i++) {
            router.put(raw(line, "[{\"n\":\"loft:a\",\"v\":" + i + "}]", () -> {}, () -> {}));
        }
        await().atMost(SOON).until(() -> routes.queue(0).size() == waitingOfShed() + SHARE);
        FrameCounts seen = counts.of(line);
        int taken = waitingOfShed();
        assertThat(taken).isBetween(1, 12);
        assertThat(seen.passedOver()).isEqualTo(100 - taken);
        assertThat(words).as("what is passed over is acknowledged").hasValue(100 - taken);
        assertThat(routes.queue(0).takePassedOver("shed")).isEqualTo(100 - taken);
        assertThat(routes.queue(0).takePassedOver("loft")).isZero();
        List<String> order = new ArrayList<>();
        for (int i = 0; i < 6; i++) {
            order.addAll(channels(next(0)));
        }
        assertThat(order).as("in turns").containsExactly("shed:a", "loft:a", "shed:a", "loft:a", "shed:a", "loft:a");
    }

    /** What the shed's row can hold: its share, or what it is assured of. */
    private int waitingOfShed() {
        return Math.max(SHARE, 32 / 3);
    }

    @Test
    void aLineOfItsOwnWaitsForRoomAndLosesNothing() throws Exception {
        Line line = new Line(false);
        Router router = router(line);
        for (int i = 0; i < 100; i++) {
            router.put(raw(line, "[{\"n\":\"shed:a\",\"v\":" + i + "}]", () -> {}, () -> {}));
        }
        List<Double> values = new ArrayList<>();
        for (int i = 0; i < 100; i++) {
            values.add(next(0).pack().readings().get(0).value());
        }
        assertThat(values).hasSize(100).isSorted();
        assertThat(counts.of(line).passedOver()).isZero();
    }

    @Test
    void aFrameThatHangsTheDecoderIsSkippedAndTheNextOnesCome() throws Exception {
        Line line = new Line(true);
        Router router = router(line);
        List<String> gaveUp = new CopyOnWriteArrayList<>();
        AtomicInteger skipped = new AtomicInteger();
        CountDownLatch hangs = new CountDownLatch(1);
        try (LedgerSupervisor supervisor = new LedgerSupervisor(List.of(), List.of(router), BY_HAND, gaveUp::add)) {
            FrameDecoder hanging = (bytes, received) -> {
                hangs.countDown();
                await().forever().until(() -> antidote.getCount() == 0);
                return SENML.decode(bytes, received);
            };
            byte[] poison = "[{\"n\":\"shed:poison\",\"v\":1}]".getBytes(StandardCharsets.UTF_8);
            router.put(new Delivery.Raw(line, hanging, poison, NOW, skipped::incrementAndGet));
            router.put(raw(line, "[{\"n\":\"shed:a\",\"v\":1}]", () -> {}, () -> {}));
            assertThat(hangs.await(SOON.toSeconds(), TimeUnit.SECONDS)).isTrue();
            // By hand: by itself it might take a thread for hanging that a busy machine holds up.
            for (int i = 0; i <= HUNG_LOOKS && router.restarts() == 0; i++) {
                assertThat(supervisor.look()).isTrue();
            }
            assertThat(channels(next(0))).containsExactly("shed:a");
            assertThat(router.restarts()).isOne();
            assertThat(skipped).as("or it would come again").hasValue(1);
            assertThat(counts.of(line).lastProblem()).contains("hung");

            // The thread that was given up wakes: what it holds is not handed on.
            antidote.countDown();
            router.put(raw(line, "[{\"n\":\"shed:b\",\"v\":1}]", () -> {}, () -> {}));
            assertThat(channels(next(0))).containsExactly("shed:b");
            assertThat(gaveUp).isEmpty();
        }
    }

    @Test
    void aBadFrameIsCountedAndAcknowledged() throws Exception {
        Line line = new Line(true);
        Router router = router(line);
        AtomicInteger words = new AtomicInteger();
        router.put(raw(line, "no pack", words::incrementAndGet, () -> {}));
        router.put(raw(line, "[{\"n\":\"shed:a\",\"v\":1}]", () -> {}, () -> {}));
        assertThat(channels(next(0))).containsExactly("shed:a");
        assertThat(words).hasValue(1);
        assertThat(counts.of(line).bad()).isOne();
    }

    private Router router(Line line) {
        Router router = new Router(line, routes, counts, System::nanoTime);
        routers.add(router);
        router.start();
        return router;
    }

    private Delivery.Decoded next(int ledger) throws InterruptedException {
        return (Delivery.Decoded)
                Objects.requireNonNull(routes.queue(ledger).poll(SOON.toMillis()), "nothing came to ledger " + ledger);
    }

    private static List<String> channels(Delivery.Decoded delivery) {
        return delivery.pack().readings().stream()
                .map(reading ->
                        reading.channel().forge() + ":" + reading.channel().name())
                .toList();
    }

    private static Delivery.Raw raw(Line line, String text, Runnable stored, Runnable dropped) {
        return new Delivery.Raw(line, SENML, text.getBytes(StandardCharsets.UTF_8), NOW, stored, dropped);
    }

    private record Line(boolean isShared) implements Source {
        @Override
        public String name() {
            return "line";
        }

        @Override
        public void start(Intake any) {}

        @Override
        public SourceStatus status() {
            return new SourceStatus(true, "", 0, 0, 0);
        }

        @Override
        public void close() {}
    }
}
