package org.bankfire.daemon.acquire.serial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Random;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.testbed.Programs;
import org.bankfire.daemon.testbed.PtyPair;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** On a real pair of pseudo-terminals, through the real driver. */
class SerialSourceIT {
    private static final Duration SOON = Duration.ofSeconds(60);

    /** Logging goes on within this after the port's return: promised, of a machine that does not stand still meanwhile. */
    private static final Duration RETURN = Duration.ofSeconds(2);

    private static final int TIMES = 3;

    @TempDir
    Path folder;

    private final ReceiptClock clock =
            new ReceiptClock(() -> WallTime.of(Instant.now()), () -> new MonotonicTime(System.nanoTime()));
    private final DeliveryQueue queue = new DeliveryQueue();
    private final List<Delivery.Raw> got = new CopyOnWriteArrayList<>();
    private final ScheduledExecutorService background = Executors.newScheduledThreadPool(2);
    private PtyPair pair;
    private SerialSource source;

    @BeforeEach
    void plugIn() throws Exception {
        pair = new PtyPair(folder);
        source = source();
        var unused = background.scheduleWithFixedDelay(this::collect, 0, 5, TimeUnit.MILLISECONDS);
    }

    @AfterEach
    void close() throws Exception {
        source.close();
        background.shutdownNow();
        pair.close();
    }

    @Test
    void linesOfTenHertzComeWholeInOrderAndStampedApart() throws Exception {
        start();
        AtomicInteger next = new AtomicInteger();
        var unused = background.scheduleAtFixedRate(
                () -> sendQuietly("<" + next.getAndIncrement() + ">\r\n"), 0, 100, TimeUnit.MILLISECONDS);

        await().atMost(SOON).until(() -> got.size() >= 30);
        List<Delivery.Raw> lines = List.copyOf(got);
        for (int i = 0; i < lines.size(); i++) {
            assertThat(text(lines.get(i))).isEqualTo("<" + i + ">");
            if (i > 0) {
                assertThat(lines.get(i).receiptTime())
                        .isGreaterThan(lines.get(i - 1).receiptTime());
            }
        }
        assertThat(source.status().connected()).isTrue();
    }

    @Test
    void longHalfAndSpoiledLinesHarmNoOtherLine() throws Exception {
        start();
        String full = CountedLines.padded(2, 4_096);
        pair.send("<1>\n");
        pair.send(full + "\n");
        pair.send(CountedLines.padded(3, 5_000) + "\n");
        pair.send("<4");
        await().atMost(SOON).until(() -> source.status().discarded() == 1);
        pair.send(">\n");
        byte[] garbage = new byte[1_000];
        new Random(9).nextBytes(garbage);
        pair.send(garbage);
        pair.send("\n<5>\n");

        await().atMost(SOON)
                .until(() -> !got.isEmpty() && text(got.get(got.size() - 1)).equals("<5>"));
        assertThat(got.stream().map(SerialSourceIT::text)).contains("<1>", full, "<4>", "<5>");
        assertThat(got.stream().map(SerialSourceIT::text)).noneMatch(line -> line.startsWith("<3"));
        assertThat(source.status().connected()).isTrue();
    }

    @Test
    void whatOnlyHasNoiseSaysThatTheBaudRateMayBeWrong() throws Exception {
        start();
        byte[] noise = new byte[4_000];
        new Random(8).nextBytes(noise);
        pair.send(noise);

        await().atMost(SOON)
                .until(() -> source.status()
                        .detail()
                        .matches("nothing readable in \\d+ bytes: is the baud rate right\\?.*"));
        pair.send("\n<1>\n");
        await().atMost(SOON).until(() -> source.status().detail().equals("115200 baud"));
    }

    @Test
    void loggingGoesOnWithinTwoSecondsOfAReplugAgainAndAgain() throws Exception {
        start();
        Duration quickest = SOON;
        for (int round = 1; round <= TIMES; round++) {
            pair.send("<" + round + "0>\n<" + round + "1");
            awaitLine("<" + round + "0>");
            pair.unplug();
            await().atMost(SOON).until(() -> !source.status().connected());
            assertThat(source.status().detail()).containsAnyOf("lost", "is it plugged in?");

            pair.replug();
            Duration took = timeOf("<" + round + "2>");
            quickest = took.compareTo(quickest) < 0 ? took : quickest;
        }
        assertThat(quickest).isLessThanOrEqualTo(RETURN);
        assertThat(source.status().reconnects()).isEqualTo(TIMES);
        assertThat(got.stream().map(SerialSourceIT::text))
                .containsExactly("<10>", "<12>", "<20>", "<22>", "<30>", "<32>");
    }

    @Test
    void aPortThatIsMissingAtTheStartIsReadWithinTwoSecondsOfItsComing() throws Exception {
        Duration quickest = SOON;
        for (int time = 1; time <= TIMES && quickest.compareTo(RETURN) > 0; time++) {
            pair.unplug();
            source.close();
            source = source();
            source.start(queue);
            await().atMost(SOON).until(() -> source.status().detail().endsWith("no such port; is it plugged in?"));

            pair.replug();
            Duration took = timeOf("<" + time + ">");
            quickest = took.compareTo(quickest) < 0 ? took : quickest;
        }
        assertThat(quickest).isLessThanOrEqualTo(RETURN);
    }

    @Test
    void aPortThatAnotherProgramHoldsIsNamedAsSuch() throws Exception {
        Process holder = new ProcessBuilder(
                        Programs.find("flock", "util-linux").toString(),
                        "-x",
                        pair.device().toRealPath().toString(),
                        "-c",
                        "echo held; cat")
                .start(); // cat waits for input that never comes
        try (BufferedReader said = holder.inputReader()) {
            assertThat(said.readLine()).isEqualTo("held");
            source.start(queue);
            await().atMost(SOON).until(() -> source.status().detail().endsWith("in use by another program"));
        } finally {
            holder.descendants().forEach(ProcessHandle::destroy);
            holder.destroy();
            holder.waitFor();
        }
    }

    @Test
    void aPortThatIsNamedTwiceIsReadByTheFirstAndTheSecondSaysSo() throws Exception {
        start();
        try (SerialSource second = source()) {
            second.start(queue);
            await().atMost(SOON).until(() -> second.status().detail().endsWith("is the port named twice?"));
            pair.send("<1>\n");
            awaitLine("<1>");
        }
    }

    private void start() {
        source.start(queue);
        await().atMost(SOON).until(() -> source.status().connected());
    }

    private SerialSource source() {
        return new SerialSource(
                new SerialSettings(
                        pair.device().toString(), 115_200, new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null)),
                new CountedLines(),
                clock);
    }

    private void awaitLine(String line) {
        await().atMost(SOON).until(() -> got.stream().anyMatch(raw -> text(raw).equals(line)));
    }

    /** From its sending until it is there. */
    private Duration timeOf(String line) throws IOException {
        long begin = System.nanoTime();
        pair.send(line + "\n");
        awaitLine(line);
        return Duration.ofNanos(System.nanoTime() - begin);
    }

    private void collect() {
        try {
            Delivery delivery = queue.poll(100);
            while (delivery != null) {
                got.add((Delivery.Raw) delivery);
                delivery = queue.poll(0);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void sendQuietly(String text) {
        try {
            pair.send(text);
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    private static String text(Delivery.Raw raw) {
        return new String(raw.bytes(), StandardCharsets.UTF_8);
    }
}
