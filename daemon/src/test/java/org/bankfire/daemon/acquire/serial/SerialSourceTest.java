package org.bankfire.daemon.acquire.serial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SerialSourceTest {
    private static final Duration SOON = Duration.ofSeconds(60);

    private static final long BEGIN_NANOS = System.nanoTime();

    /** Both go on together: a wall clock that stands while a test is held up would be one that was set back. */
    private final ReceiptClock clock = new ReceiptClock(
            () -> new WallTime((System.nanoTime() - BEGIN_NANOS) / 1_000), () -> new MonotonicTime(System.nanoTime()));

    private final DeliveryQueue queue = new DeliveryQueue();
    private final FakeLine line = new FakeLine();
    private final SerialSource source = new SerialSource(settings("/dev/fake"), new CountedLines(), clock, line::open);

    @AfterEach
    void close() {
        source.close();
    }

    @Test
    void linesOfOneReadAreStampedApartAndInOrder() throws Exception {
        source.start(queue);
        line.reads.add(bytes("<1>\n<2>\n<3>\n"));

        List<Delivery.Raw> got = take(3);
        assertThat(got).extracting(SerialSourceTest::text).containsExactly("<1>", "<2>", "<3>");
        assertThat(got.get(0).receiptTime()).isLessThan(got.get(1).receiptTime());
        assertThat(got.get(1).receiptTime()).isLessThan(got.get(2).receiptTime());
        await().atMost(SOON).until(() -> source.status().frames() == 3);
    }

    @Test
    void aMissingPortIsTriedAgainAndItsStatusSaysWhy() throws Exception {
        line.fault = SerialFaultException.of("/dev/fake", 13, false);
        source.start(queue);
        await().atMost(SOON).until(() -> source.status().detail().contains("group dialout"));
        assertThat(source.status().connected()).isFalse();

        line.fault = null;
        line.reads.add(bytes("<1>\n"));
        assertThat(take(1)).hasSize(1);
        assertThat(source.status().connected()).isTrue();
        assertThat(source.status().reconnects()).isZero();
    }

    @Test
    void afterALossThePortIsOpenedAnewAndTheHalfLineForgotten() throws Exception {
        source.start(queue);
        line.reads.add(bytes("<1>\n<2"));
        line.reads.add(FakeLine.GONE);
        line.reads.add(bytes("<3>\n"));

        assertThat(take(2)).extracting(SerialSourceTest::text).containsExactly("<1>", "<3>");
        assertThat(line.opened).hasValue(2);
        assertThat(line.closed).hasValue(1);
        assertThat(source.status().reconnects()).isEqualTo(1);
        assertThat(source.status().discarded()).isEqualTo(1);
    }

    @Test
    void anErrorInsideTheDriverIsNotFatal() throws Exception {
        line.broken = new UnsatisfiedLinkError("no native library");
        source.start(queue);
        await().atMost(SOON).until(() -> source.status().detail().contains("no native library"));

        line.broken = null;
        line.reads.add(bytes("<1>\n"));
        assertThat(take(1)).hasSize(1);
    }

    @Test
    void aWrongBaudRateIsNamedInTheStatus() throws Exception {
        source.start(queue);
        byte[] noise = new byte[3_000];
        Arrays.fill(noise, (byte) 0xE0);
        line.reads.add(noise);

        await().atMost(SOON).until(() -> source.status().detail().contains("is the baud rate right?"));
        assertThat(source.status().detail())
                .contains("nothing readable in 3000 bytes")
                .contains("115200 baud now");
    }

    @Test
    void aSourceThatWaitsForRoomInTheQueueClosesAtOnce() throws Exception {
        for (int i = 0; i < DeliveryQueue.CAPACITY; i++) {
            queue.put(new Delivery.Raw(
                    source, new CountedLines(), new byte[0], new WallTime(0), Delivery.NO_ACKNOWLEDGEMENT));
        }
        source.start(queue);
        line.reads.add(bytes("<1>\n"));
        await().atMost(SOON).until(line.reads::isEmpty);
        source.close();

        await().atMost(SOON).until(() -> source.status().detail().equals("closed"));
        await().atMost(SOON).until(() -> line.closed.get() == line.opened.get());
    }

    @Test
    void aSourceStartsOnce() {
        source.start(queue);

        assertThatThrownBy(() -> source.start(queue)).isInstanceOf(IllegalStateException.class);
    }

    @Test
    void aPathThatIsNotThereIsNotLookedForElsewhere(@TempDir Path folder) {
        // jSerialComm alone would go on to /dev/null, which exists.
        assertThatThrownBy(
                        () -> JSerialLine.open(settings(folder.resolve("null").toString())))
                .isInstanceOf(SerialFaultException.class)
                .hasMessageEndingWith("no such port; is it plugged in?");
    }

    @Test
    void aFileThatIsNoSerialPortIsRefusedInWords(@TempDir Path folder) throws Exception {
        Path file = Files.createFile(folder.resolve("file"));

        assertThatThrownBy(() -> JSerialLine.open(settings(file.toString())))
                .isInstanceOf(SerialFaultException.class)
                .hasMessageStartingWith(file.toString());
    }

    @Test
    void stableLinksAreFoundByTheDeviceThatTheyLeadTo(@TempDir Path folder) throws Exception {
        Path device = Files.createFile(folder.resolve("ttyUSB7"));
        Path links = Files.createDirectory(folder.resolve("by-id"));
        Path link = Files.createSymbolicLink(links.resolve("usb-board-if00"), device);
        Files.createSymbolicLink(links.resolve("usb-gone"), folder.resolve("ttyUSB8"));

        assertThat(SerialPorts.stableLinks(links))
                .containsOnlyKeys(device.toRealPath())
                .containsValue(link);
        assertThat(SerialPorts.stableLinks(folder.resolve("none"))).isEmpty();
    }

    @Test
    void thePortsOfThisMachineCanBeListed() {
        assertThat(SerialPorts.list())
                .allSatisfy(port -> assertThat(port.path()).endsWith(port.name()));
    }

    private List<Delivery.Raw> take(int count) throws InterruptedException {
        List<Delivery.Raw> got = new ArrayList<>();
        while (got.size() < count) {
            Delivery delivery = queue.poll(SOON.toMillis());
            assertThat(delivery).as("delivery %d", got.size() + 1).isInstanceOf(Delivery.Raw.class);
            if (delivery instanceof Delivery.Raw raw) {
                got.add(raw);
            }
        }
        return got;
    }

    private static String text(Delivery.Raw raw) {
        return new String(raw.bytes(), StandardCharsets.UTF_8);
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static SerialSettings settings(String port) {
        return new SerialSettings(port, 115_200, new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null));
    }

    /** A line whose reads the test writes down. */
    private static final class FakeLine implements SerialLine {
        private static final byte[] GONE = new byte[0];

        private final BlockingQueue<byte[]> reads = new LinkedBlockingQueue<>();
        private volatile @Nullable SerialFaultException fault;
        private volatile @Nullable Error broken;
        private final AtomicInteger opened = new AtomicInteger();
        private final AtomicInteger closed = new AtomicInteger();

        SerialLine open() throws SerialFaultException {
            SerialFaultException faultNow = fault;
            if (faultNow != null) {
                throw faultNow;
            }
            Error brokenNow = broken;
            if (brokenNow != null) {
                throw brokenNow;
            }
            opened.incrementAndGet();
            return this;
        }

        @Override
        public int read(byte[] buffer) {
            byte[] next;
            try {
                next = reads.poll(20, TimeUnit.MILLISECONDS);
            } catch (InterruptedException e) {
                return LOST;
            }
            if (next == null) {
                return 0;
            }
            System.arraycopy(next, 0, buffer, 0, next.length);
            return next == GONE ? LOST : next.length;
        }

        @Override
        public void close() {
            closed.incrementAndGet();
        }
    }
}
