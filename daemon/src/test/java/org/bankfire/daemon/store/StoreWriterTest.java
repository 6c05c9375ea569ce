package org.bankfire.daemon.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;
import static org.bankfire.daemon.store.StoreSamples.burn;
import static org.bankfire.daemon.store.StoreSamples.note;
import static org.bankfire.daemon.store.StoreSamples.reading;
import static org.bankfire.daemon.store.StoreSamples.transition;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.concurrent.Semaphore;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.IntStream;
import org.bankfire.analysis.reading.Reading;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

class StoreWriterTest {
    private static final Duration LONG = Duration.ofSeconds(60);
    /** No pause of a test is as long. */
    private static final Duration FOR_EVER = Duration.ofDays(1);

    private final StoreException full = new StoreException("store x.db: the disk is full");

    private final RecordingStore store = new RecordingStore();
    private final AtomicLong nanos = new AtomicLong();
    private StoreWriter writer = new StoreWriter(store, "test");

    @AfterEach
    void close() {
        writer.close(Duration.ofMillis(1));
    }

    @Test
    void everythingAddedIsStoredInOrder() throws Exception {
        List<Reading> given =
                IntStream.range(0, 52_345).mapToObj(StoreSamples::reading).toList();
        given.forEach(writer::add);
        writer.add(note(1));
        writer.add(transition(1));
        writer.add(burn("a", 1));
        assertThat(writer.flush(LONG)).isTrue();

        assertThat(store.readings()).isEqualTo(given);
        assertThat(store.batches())
                .allSatisfy(batch -> assertThat(batch.readings()).hasSizeLessThanOrEqualTo(20_000));
        assertThat(store.batches().stream().flatMap(batch -> batch.notes().stream()))
                .containsExactly(note(1));
        assertThat(store.batches().stream().flatMap(batch -> batch.burns().stream()))
                .containsExactly(burn("a", 1));
        StoreWriter.Health health = writer.health();
        assertThat(health.ok()).isTrue();
        assertThat(health.message()).isEmpty();
        assertThat(health.backlog()).isZero();
        assertThat(health.stored()).isEqualTo(52_348);
    }

    @Test
    void aReadingIsStoredSoonWithoutBeingAskedFor() {
        writer.add(reading(1));
        await().atMost(LONG).until(() -> store.readings().size() == 1);
        writer.add(reading(2));
        await().atMost(LONG).until(() -> store.readings().size() == 2);
    }

    @Test
    void readingsThatTrickleInShareACommit() throws Exception {
        AtomicLong nanos = new AtomicLong();
        useClock(nanos);
        writer.add(reading(0));
        await().atMost(LONG).until(() -> writer.health().stored() == 1);
        // The clock stands, so the second is never over and nothing but the flush makes it commit.
        for (int i = 1; i < 100; i++) {
            writer.add(reading(i));
        }
        assertThat(writer.flush(LONG)).isTrue();
        assertThat(store.batches()).hasSize(2);
        assertThat(store.batches().get(1).readings()).hasSize(99);
    }

    @Test
    void anAlarmTransitionIsStoredAtOnceWithWhatCameBefore() {
        useClock(new AtomicLong());
        writer.add(reading(0));
        await().atMost(LONG).until(() -> writer.health().stored() == 1);
        writer.add(reading(1));
        writer.add(transition(1));
        await().atMost(LONG).until(() -> store.batches().size() == 2);
        assertThat(store.batches().get(1).readings()).containsExactly(reading(1));
        assertThat(store.batches().get(1).transitions()).containsExactly(transition(1));
    }

    @Test
    void wordIsGivenOnlyAfterTheCommit() {
        vouchForNothing(StoreWriter.Limits.STANDARD);
        Semaphore gate = store.hang();
        List<Integer> storedWhenCalled = Collections.synchronizedList(new ArrayList<>());
        writer.add(reading(0));
        writer.add(reading(1));
        writer.whenStored(() -> storedWhenCalled.add(store.readings().size()), StoreWriterTest::ignore);
        await().atMost(LONG).until(() -> store.attempts() == 1);
        assertThat(storedWhenCalled).isEmpty();
        gate.release(100);
        await().atMost(LONG).until(() -> !storedWhenCalled.isEmpty());
        assertThat(storedWhenCalled.get(0)).isEqualTo(2);
    }

    @Test
    void wordIsGivenFromMemoryWhenTheCommitDoesNotComeAndFromTheStoreAgainAfterwards() throws Exception {
        useClock(nanos);
        Semaphore gate = store.hang();
        AtomicInteger words = new AtomicInteger();
        writer.add(reading(0));
        writer.whenStored(words::incrementAndGet, StoreWriterTest::ignore);
        await().atMost(LONG).until(() -> store.attempts() == 1);
        writer.add(reading(1));
        writer.whenStored(words::incrementAndGet, StoreWriterTest::ignore);
        assertThat(words).as("the store may still answer").hasValue(0);
        nanos.addAndGet(StoreWriter.PATIENCE.toNanos());
        await().atMost(LONG).until(() -> words.get() == 2);
        // From now on at once.
        writer.add(reading(2));
        writer.whenStored(words::incrementAndGet, StoreWriterTest::ignore);
        await().atMost(LONG).until(() -> words.get() == 3);
        assertThat(writer.health().vouchedFor()).isEqualTo(3);
        assertThat(store.readings()).isEmpty();

        gate.release(1_000);
        assertThat(writer.flush(LONG)).isTrue();
        assertThat(store.readings()).containsExactly(reading(0), reading(1), reading(2));
        store.hang();
        writer.add(reading(3));
        writer.whenStored(words::incrementAndGet, StoreWriterTest::ignore);
        assertThat(words).as("once each, and only after the commit again").hasValue(3);
        assertThat(writer.health().vouchedFor()).isEqualTo(3);
    }

    @Test
    void noWordIsGivenFromMemoryForWhatWasDropped() throws Exception {
        writer.close(LONG);
        writer = new StoreWriter(store, "bounded", new StoreWriter.Limits(2, 100, 100), nanos::get);
        Semaphore gate = store.hang();
        List<Integer> words = Collections.synchronizedList(new ArrayList<>());
        List<Integer> dropped = Collections.synchronizedList(new ArrayList<>());
        writer.add(reading(0));
        await().atMost(LONG).until(() -> store.attempts() == 1);
        for (int i = 1; i <= 3; i++) {
            int number = i;
            writer.add(reading(i));
            writer.whenStored(() -> words.add(number), () -> dropped.add(number));
        }
        nanos.addAndGet(StoreWriter.PATIENCE.toNanos());
        await().atMost(LONG).until(() -> words.size() == 2);
        assertThat(words).containsExactly(2, 3);
        gate.release(1_000);
        await().atMost(LONG).until(() -> !dropped.isEmpty());
        assertThat(dropped).containsExactly(1);
        assertThat(words).containsExactly(2, 3);
    }

    @Test
    void aCallbackThatThrowsHurtsNobody() throws Exception {
        vouchForNothing(StoreWriter.Limits.STANDARD);
        writer.add(reading(0));
        writer.whenStored(
                () -> {
                    throw new IllegalStateException("connection lost");
                },
                StoreWriterTest::ignore);
        AtomicInteger calls = new AtomicInteger();
        writer.whenStored(calls::incrementAndGet, StoreWriterTest::ignore);
        assertThat(writer.flush(LONG)).isTrue();
        assertThat(calls).hasValue(1);
        assertThat(writer.health().ok()).isTrue();
    }

    @Test
    void addingDoesNotWaitForAStoreThatHangsAndHealthSaysSo() throws Exception {
        AtomicLong nanos = new AtomicLong();
        useClock(nanos);
        Semaphore gate = store.hang();
        writer.add(reading(0));
        await().atMost(LONG).until(() -> store.attempts() == 1);
        for (int i = 1; i < 20_000; i++) {
            writer.add(reading(i));
        }
        writer.add(transition(1));
        assertThat(writer.health().ok()).isTrue();
        nanos.addAndGet(Duration.ofSeconds(7).toNanos());
        assertThat(writer.health().failingFor()).contains(Duration.ofSeconds(7));
        assertThat(writer.health().message()).contains("has not answered for 7 s");
        assertThat(writer.health().backlog()).isEqualTo(20_001);
        assertThat(writer.flush(Duration.ofMillis(1))).isFalse();

        gate.release(1_000);
        assertThat(writer.flush(LONG)).isTrue();
        assertThat(writer.health().ok()).isTrue();
        assertThat(store.readings()).hasSize(20_000);
    }

    @Test
    void aFailingStoreIsTriedAgainAndNothingIsLost() throws Exception {
        vouchForNothing(StoreWriter.Limits.STANDARD);
        AtomicInteger calls = new AtomicInteger();
        store.failWith(full);
        for (int i = 0; i < 7_000; i++) {
            writer.add(reading(i));
            if (i % 100 == 99) {
                writer.whenStored(calls::incrementAndGet, StoreWriterTest::ignore);
            }
        }
        writer.add(note(1));
        await().atMost(LONG).until(() -> store.attempts() >= 3);
        StoreWriter.Health failing = writer.health();
        assertThat(failing.ok()).isFalse();
        assertThat(failing.failingFor())
                .hasValueSatisfying(since -> assertThat(since).isPositive());
        assertThat(failing.message()).isEqualTo("store x.db: the disk is full");
        assertThat(failing.backlog()).isEqualTo(7_001);
        assertThat(failing.stored()).isZero();
        assertThat(calls).hasValue(0);

        store.failWith(null);
        assertThat(writer.flush(LONG)).isTrue();
        assertThat(store.readings())
                .isEqualTo(IntStream.range(0, 7_000)
                        .mapToObj(StoreSamples::reading)
                        .toList());
        assertThat(store.batches().stream().flatMap(batch -> batch.notes().stream()))
                .containsExactly(note(1));
        assertThat(calls).hasValue(70);
        assertThat(writer.health().ok()).isTrue();
        assertThat(writer.health().droppedReadings()).isZero();
    }

    @Test
    void aStoreThatThrowsWhatItShouldNotIsTreatedAsFailing() throws Exception {
        store.failWith(new IllegalStateException("slip"));
        writer.add(reading(0));
        await().atMost(LONG).until(() -> !writer.health().ok());
        assertThat(writer.health().message()).contains("slip");
        store.failWith(null);
        assertThat(writer.flush(LONG)).isTrue();
        assertThat(store.readings()).containsExactly(reading(0));
    }

    @Test
    void readingsBeyondTheBoundAreDroppedOldestFirstAndThatIsToldWhenTheStoreWorksAgain() throws Exception {
        vouchForNothing(new StoreWriter.Limits(100, 100, 100));
        Semaphore gate = store.hang();
        writer.add(reading(0));
        await().atMost(LONG).until(() -> store.attempts() == 1);
        List<String> called = Collections.synchronizedList(new ArrayList<>());
        writer.add(reading(1));
        writer.whenStored(() -> called.add("early"), () -> called.add("early dropped"));
        for (int i = 2; i < 301; i++) {
            writer.add(reading(i));
        }
        writer.whenStored(() -> called.add("half gone"), () -> called.add("half gone dropped"));
        writer.add(note(1));
        writer.whenStored(() -> called.add("note"), () -> called.add("note dropped"));

        assertThat(writer.health().droppedReadings()).isEqualTo(200);
        assertThat(writer.health().forgottenCallbacks()).isEqualTo(1);
        assertThat(called).as("while the store hangs").isEmpty();
        gate.release(1_000);
        assertThat(writer.flush(LONG)).isTrue();
        assertThat(store.readings())
                .isEqualTo(IntStream.concat(IntStream.of(0), IntStream.range(201, 301))
                        .mapToObj(StoreSamples::reading)
                        .toList());
        await().atMost(LONG)
                .untilAsserted(
                        () -> assertThat(called).containsExactlyInAnyOrder("early dropped", "half gone", "note"));
    }

    @Test
    void manyThreadsMayAddWhileTheStoreFailsNowAndThen() throws Exception {
        int threads = 4;
        int each = 3_000;
        List<Thread> adding = new ArrayList<>();
        for (int t = 0; t < threads; t++) {
            int first = t * each;
            Thread thread =
                    new Thread(() -> IntStream.range(first, first + each).forEach(i -> {
                        writer.add(reading(i));
                        if (i % 500 == 0) {
                            writer.add(transition(i));
                        }
                    }));
            adding.add(thread);
            thread.start();
        }
        Random random = new Random(42);
        while (adding.stream().anyMatch(Thread::isAlive)) {
            store.failWith(random.nextBoolean() ? full : null);
            Thread.onSpinWait();
        }
        store.failWith(null);
        assertThat(writer.flush(LONG)).isTrue();
        assertThat(store.readings())
                .containsExactlyInAnyOrderElementsOf(IntStream.range(0, threads * each)
                        .mapToObj(StoreSamples::reading)
                        .toList());
        assertThat(store.batches().stream()
                        .mapToInt(batch -> batch.transitions().size())
                        .sum())
                .isEqualTo(threads * each / 500);
    }

    @Test
    void closingStoresWhatWaits() {
        useClock(new AtomicLong());
        for (int i = 0; i < 100; i++) {
            writer.add(reading(i));
        }
        assertThat(writer.close(LONG)).isTrue();
        assertThat(store.readings()).hasSize(100);
        assertThatThrownBy(() -> writer.add(reading(1))).isInstanceOf(IllegalStateException.class);
    }

    @Test
    void closingGivesUpAtTheDeadline() {
        Semaphore gate = store.hang();
        writer.add(reading(0));
        assertThat(writer.close(Duration.ofMillis(50))).isFalse();
        gate.release(10);
    }

    @Test
    void closingTriesAFailingStoreAgainUntilTheDeadline() {
        store.failWith(full);
        writer.add(reading(0));
        await().atMost(LONG).until(() -> store.attempts() >= 3);
        assertThat(writer.close(Duration.ofMillis(1))).isFalse();

        writer = new StoreWriter(store, "again");
        writer.add(reading(1));
        await().atMost(LONG).until(() -> !writer.health().ok());
        store.failWith(null);
        assertThat(writer.close(LONG)).isTrue();
        assertThat(store.readings()).contains(reading(1));
    }

    private void useClock(AtomicLong nanos) {
        writer.close(Duration.ofSeconds(1));
        writer = new StoreWriter(store, "clock", StoreWriter.Limits.STANDARD, nanos::get);
    }

    /** However long the store or the test takes, word of what is to be stored comes from the store alone. */
    private void vouchForNothing(StoreWriter.Limits limits) {
        writer.close(Duration.ofSeconds(1));
        writer = new StoreWriter(store, "patient", limits, FOR_EVER, System::nanoTime);
    }

    private static void ignore() {}
}
