package org.bankfire.daemon.acquire.replay;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ReplaySourceTest {
    private static final Duration LONGEST_WAIT = Duration.ofSeconds(60);

    @TempDir
    private Path folder;

    /** A clock that stands still but for what is slept. */
    private static final class SleptTime implements Pacer {
        private final List<Long> slept = new ArrayList<>();
        private long now = 77;

        @Override
        public synchronized long nanoTime() {
            return now;
        }

        @Override
        public synchronized void sleep(long nanos) {
            slept.add(nanos);
            now += nanos;
        }

        synchronized List<Long> slept() {
            return List.copyOf(slept);
        }
    }

    @Test
    void deliversInEventTimeAtTheChosenSpeed() throws Exception {
        SleptTime pacer = new SleptTime();
        DeliveryQueue queue = new DeliveryQueue();
        try (ReplaySource source = new ReplaySource(new ReplaySettings(List.of(burn(0, 1, 1, 4)), 2), pacer)) {
            assertThat(source.name()).isEqualTo("replay burn.csv");
            assertThat(source.status().connected()).isFalse();
            source.start(queue);
            awaitEnd(source);

            assertThat(pacer.slept()).containsExactly(500_000_000L, 1_500_000_000L);
            assertThat(source.status().frames()).isEqualTo(3);
            assertThat(source.status().detail()).startsWith("finished");
        }
        Delivery first = queue.poll(0);
        assertThat(first).isInstanceOfSatisfying(Delivery.Decoded.class, decoded -> {
            assertThat(decoded.source().name()).isEqualTo("replay burn.csv");
            assertThat(decoded.pack().readings()).hasSize(1);
        });
        assertThat(queue.size()).isEqualTo(2);
    }

    @Test
    void doesNotWaitAtFullSpeed() throws Exception {
        SleptTime pacer = new SleptTime();
        DeliveryQueue queue = new DeliveryQueue();
        try (ReplaySource source =
                new ReplaySource(new ReplaySettings(List.of(burn(0, 100, 5_000)), Double.POSITIVE_INFINITY), pacer)) {
            source.start(queue);
            awaitEnd(source);
        }
        assertThat(pacer.slept()).isEmpty();
        assertThat(queue.size()).isEqualTo(3);
    }

    @Test
    void closesInTheMiddleOfALongWait() throws Exception {
        CountDownLatch sleeping = new CountDownLatch(1);
        Pacer endless = new Pacer() {
            @Override
            public long nanoTime() {
                return 0;
            }

            @Override
            public void sleep(long nanos) throws InterruptedException {
                sleeping.countDown();
                new CountDownLatch(1).await();
            }
        };
        ReplaySource source = new ReplaySource(new ReplaySettings(List.of(burn(0, 86_400)), 1), endless);
        source.start(new DeliveryQueue());
        sleeping.await();

        source.close();

        await().atMost(LONGEST_WAIT).until(() -> source.status().detail().equals("stopped"));
        await().atMost(LONGEST_WAIT).until(() -> !source.status().connected());
        assertThat(source.status().frames()).isEqualTo(1);
    }

    @Test
    void closesWhileTheQueueIsFull() throws Exception {
        int[] seconds = new int[DeliveryQueue.CAPACITY + 50];
        for (int i = 0; i < seconds.length; i++) {
            seconds[i] = i;
        }
        DeliveryQueue queue = new DeliveryQueue();
        ReplaySource source = new ReplaySource(new ReplaySettings(List.of(burn(seconds)), Double.POSITIVE_INFINITY));
        source.start(queue);
        await().atMost(LONGEST_WAIT).until(() -> queue.size() == DeliveryQueue.CAPACITY);

        source.close();

        await().atMost(LONGEST_WAIT).until(() -> source.status().detail().equals("stopped"));
        assertThat(source.status().frames()).isEqualTo(DeliveryQueue.CAPACITY);
    }

    @Test
    void countsBadLinesAndGoesOn() throws Exception {
        Path file = burn(0, 1);
        Files.writeString(file, Files.readString(file) + "nonsense\n1772359299,shed,a,1,V,good\n");
        DeliveryQueue queue = new DeliveryQueue();
        try (ReplaySource source = new ReplaySource(new ReplaySettings(List.of(file), 1), new SleptTime())) {
            source.start(queue);
            awaitEnd(source);
            assertThat(source.status().discarded()).isEqualTo(1);
            assertThat(source.status().frames()).isEqualTo(3);
        }
    }

    @Test
    void saysWhyItCannotDeliver() {
        try (ReplaySource source =
                new ReplaySource(new ReplaySettings(List.of(folder.resolve("missing.csv")), 1), new SleptTime())) {
            source.start(new DeliveryQueue());
            await().atMost(LONGEST_WAIT).until(() -> source.status().detail().contains("missing.csv"));
            assertThat(source.status().connected()).isFalse();
        }
    }

    @Test
    void refusesSettingsThatCannotWork() {
        assertThatThrownBy(() -> new ReplaySettings(List.of(), 1)).hasMessageContaining("files");
        assertThatThrownBy(() -> new ReplaySettings(List.of(folder), 0)).hasMessageContaining("speed 0.0");
        assertThatThrownBy(() -> new ReplaySettings(List.of(folder), Double.NaN))
                .hasMessageContaining("speed NaN");
    }

    private static void awaitEnd(ReplaySource source) {
        await().atMost(LONGEST_WAIT).until(() -> source.status().detail().startsWith("finished"));
    }

    private Path burn(int... seconds) throws IOException {
        StringBuilder rows = new StringBuilder("time,forge,channel,value,unit,quality\n");
        for (int i = 0; i < seconds.length; i++) {
            rows.append(1_772_359_212L + seconds[i]).append(",shed,a").append(i).append(',');
            rows.append(i).append(",V,good\n");
        }
        return Files.writeString(folder.resolve("burn.csv"), rows.toString());
    }
}
