package org.bankfire.daemon.fitting;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.hamcrest.Matchers.greaterThanOrEqualTo;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Semaphore;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.Delivery;
import org.bankfire.daemon.acquire.DeliveryQueue;
import org.bankfire.daemon.acquire.Intake;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.SourceStatus;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.config.ConfigReader;
import org.bankfire.daemon.fitting.GatheredBurn.Stage;
import org.bankfire.daemon.ledger.EventWriter;
import org.bankfire.daemon.ledger.Ledger;
import org.bankfire.daemon.ledger.Pipeline;
import org.bankfire.daemon.ledger.StoreOutput;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class BurnWorkerTest {
    private static final Duration PATIENCE = Duration.ofSeconds(60);

    private final HangingWork work = new HangingWork();
    private final BurnWorker worker = new BurnWorker("fits", 60, work);

    @TempDir
    Path folder;

    /** Fits that take until they are let go. */
    private static final class HangingWork implements BurnWorker.Work {
        final ConcurrentLinkedQueue<GatheredBurn> begunFits = new ConcurrentLinkedQueue<>();
        final CountDownLatch letGo = new CountDownLatch(1);
        final ConcurrentLinkedQueue<String> retold = new ConcurrentLinkedQueue<>();
        final AtomicInteger turns = new AtomicInteger();

        @Override
        public void first() {
            throw new IllegalStateException("the store cannot be read");
        }

        @Override
        public void begun(String forge, String burnId) {}

        @Override
        public void retold(String forge, Retold what) {
            retold.add(forge);
        }

        @Override
        public boolean catchUp() {
            int turn = turns.incrementAndGet();
            if (turn == 2) {
                throw new IllegalStateException("the second burn cannot be read");
            }
            return retold.poll() != null;
        }

        @Override
        public void work(GatheredBurn burn) {
            begunFits.add(burn);
            try {
                letGo.await();
            } catch (InterruptedException stopped) {
                Thread.currentThread().interrupt();
            }
            throw new IllegalStateException("no fit of " + burn.burnId());
        }
    }

    @AfterEach
    void stop() {
        work.letGo.countDown();
        worker.close();
    }

    @Test
    void whileAFitHangsTheLedgerStoresWatchesAndAnswers() throws Exception {
        AtomicReference<ForgeSnapshot> latest = new AtomicReference<>();
        try (ReadingStore store = SqliteStore.open(folder.resolve("shed.db"));
                StoreWriter writer = new StoreWriter(store, "test")) {
            StoreOutput output = new StoreOutput(writer, new EventWriter(new StringBuilder()));
            FitOutput gathering = new FitOutput(output, List.of(Burns.shed().description()), 1_200, List.of(worker));
            Pipeline pipeline = new Pipeline(List.of(Burns.shed()), gathering);
            DeliveryQueue queue = new DeliveryQueue();
            Ledger ledger = new Ledger(pipeline, queue, writer, output, new NoUpkeep(), latest::set, System::nanoTime);
            worker.start();
            ledger.start();
            try {
                deliver(queue, 0, 120);
                await().atMost(PATIENCE).until(() -> !work.begunFits.isEmpty());

                // An hour of the burn, one reading after the other, each seen before the next one is sent.
                for (int s = 120; s < 3_720; s += 20) {
                    deliver(queue, s, s + 20);
                    WallTime last = Burns.T0.plusSeconds(s + 19);
                    await().pollDelay(Duration.ZERO)
                            .pollInterval(Duration.ofMillis(1))
                            .atMost(PATIENCE)
                            .until(() -> isSeen(latest, last));
                }
                assertThat(ledger.request(p -> p.lanes().size()).get()).isEqualTo(1);
                assertThat(writer.flush(PATIENCE)).isTrue();
                int[] stored = new int[1];
                store.readings(new Channel("shed", "gas"), TimeRange.ALL, reading -> stored[0]++);
                assertThat(stored[0]).isEqualTo(3_720);
                assertThat(work.begunFits).as("still at the first").hasSize(1);
                assertThat(worker.wants("shed", "any", Stage.BURNING))
                        .as("one state of the burn waits, and no more are made")
                        .isFalse();
            } finally {
                work.letGo.countDown();
                ledger.close();
            }
        }
    }

    private static boolean isSeen(AtomicReference<ForgeSnapshot> latest, WallTime last) {
        ForgeSnapshot snapshot = latest.get();
        Reading chamber = snapshot == null ? null : snapshot.chamber();
        return chamber != null && chamber.sourceTime().equals(last);
    }

    private static void deliver(DeliveryQueue queue, int fromS, int toS) throws InterruptedException {
        for (int s = fromS; s < toS; s++) {
            Pack pack = new Pack(Burns.at(s, 1e6), List.of(), List.of());
            queue.put(new Delivery.Decoded(new NoSource(), pack, Delivery.NO_ACKNOWLEDGEMENT));
        }
    }

    @Test
    void oneBurnAForgeWaitsAndItsLatestStateIsFitted() throws Exception {
        worker.start();
        worker.take(Burns.gathered(0, Stage.BURNING));
        await().atMost(PATIENCE).until(() -> work.begunFits.size() == 1);
        assertThat(worker.wants("shed", "any", Stage.BURNING)).isTrue();
        worker.take(Burns.gathered(0, Stage.BURNING));
        assertThat(worker.wants("shed", "any", Stage.BURNING)).isFalse();
        assertThat(worker.wants("yard", "any", Stage.BURNING)).isTrue();
        assertThat(worker.wants("shed", "any", Stage.ENDED)).isTrue();
        worker.take(Burns.gathered(0, Stage.ENDED));
        worker.take(Burns.gathered(0, Stage.COOLED));
        work.letGo.countDown();
        // The first failed, which the log tells and nothing else heeds.
        await().atMost(PATIENCE).until(() -> work.begunFits.size() == 2);
        assertThat(work.begunFits).extracting(GatheredBurn::stage).containsExactly(Stage.BURNING, Stage.COOLED);
        assertThat(worker.wants("shed", "any", Stage.BURNING)).isTrue();
    }

    @Test
    void whatWasToldOfThePastIsCaughtUpWithTurnByTurn() {
        worker.start();
        await().atMost(PATIENCE).untilAtomic(work.turns, greaterThanOrEqualTo(1));
        Retold stock = Retold.justNow(new EntryKey(Burns.T0, "stock"), null);
        worker.retold("shed", stock);
        worker.retold("yard", stock);
        // The second turn fails, which ends it; what is left waits for the next occasion.
        await().atMost(PATIENCE).untilAtomic(work.turns, greaterThanOrEqualTo(2));
        worker.retold("loft", stock);
        await().atMost(PATIENCE).until(work.retold::isEmpty);
    }

    @Test
    void burnsThatGoOnDoNotHoldUpWhatWasToldOfThePast() throws Exception {
        AtomicInteger offered = new AtomicInteger();
        CountDownLatch done = new CountDownLatch(1);
        AtomicReference<BurnWorker> busy = new AtomicReference<>();
        BurnWorker.Work endless = new BurnWorker.Work() {
            @Override
            public void begun(String forge, String burnId) {}

            @Override
            public void work(GatheredBurn burn) {
                offered.incrementAndGet();
                requireNonNull(busy.get()).take(burn);
            }

            @Override
            public boolean catchUp() {
                done.countDown();
                return false;
            }
        };
        try (BurnWorker never = new BurnWorker("never idle", 60, endless)) {
            busy.set(never);
            never.take(Burns.gathered(0, Stage.BURNING));
            never.start();
            await().atMost(PATIENCE).until(() -> done.getCount() == 0);
            int before = offered.get();
            await().atMost(PATIENCE).until(() -> offered.get() > before);
        }
    }

    @Test
    void stoppingDoesNotWaitForAFit() throws Exception {
        worker.start();
        worker.take(Burns.gathered(0, Stage.COOLED));
        await().atMost(PATIENCE).until(() -> work.begunFits.size() == 1);
        worker.close();
        assertThat(work.letGo.getCount()).isOne();
    }

    @Test
    void forgesThatSomebodyLooksAtComeFirstAndTheOthersNeverWaitForEver() throws Exception {
        Semaphore permits = new Semaphore(0);
        List<String> order = new CopyOnWriteArrayList<>();
        BurnWorker.Work stepped = new BurnWorker.Work() {
            @Override
            public void begun(String forge, String burnId) {}

            @Override
            public void work(GatheredBurn burn) {
                order.add(burn.burnId());
                permits.acquireUninterruptibly();
            }
        };
        try (BurnWorker outlooks = new BurnWorker("outlook", 5, stepped)) {
            outlooks.prefer("loft"::equals);
            outlooks.start();
            outlooks.take(burning("shed", "first"));
            await().atMost(PATIENCE).until(() -> order.size() == 1);
            outlooks.take(burning("quarry", "q"));
            outlooks.take(burning("cellar", "c"));
            outlooks.take(burning("shed", "s"));
            outlooks.take(burning("loft", "old"));
            assertThat(outlooks.wants("cellar", "any", Stage.BURNING)).isFalse();
            assertThat(outlooks.wants("loft", "any", Stage.BURNING))
                    .as("what is looked at is of now when its turn comes")
                    .isTrue();
            outlooks.take(burning("loft", "l1"));
            permits.release();
            await().atMost(PATIENCE).until(() -> order.size() == 2);
            for (int i = 2; i <= 4; i++) {
                // The page stays open: there is always something of that forge.
                outlooks.take(burning("loft", "l" + i));
                permits.release();
                int done = 2 * i - 1;
                await().atMost(PATIENCE).until(() -> order.size() == done);
                permits.release();
                await().atMost(PATIENCE).until(() -> order.size() == done + 1);
            }
            assertThat(order).containsExactly("first", "l1", "q", "l2", "c", "l3", "s", "l4");
            permits.release();
        }
    }

    @Test
    void aBurnThatHasEndedIsNotPassedOverForWhatSomebodyLooksAt() throws Exception {
        worker.prefer(forge -> true);
        worker.start();
        worker.take(Burns.gathered(0, Stage.BURNING));
        await().atMost(PATIENCE).until(() -> work.begunFits.size() == 1);
        worker.take(Burns.gathered(0, Stage.COOLED));
        assertThat(worker.wants("shed", "another", Stage.BURNING)).isFalse();
    }

    private GatheredBurn burning(String forge, String burnId) throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        String file = Files.readString(example).replace("id = \"shed\"", "id = \"" + forge + "\"");
        GatheredBurn shed = Burns.gathered(0, Stage.BURNING);
        return new GatheredBurn(
                ConfigReader.read(file, "forge.toml", folder)
                        .config()
                        .forges()
                        .get(0)
                        .description(),
                burnId,
                shed.start(),
                shed.end(),
                Stage.BURNING,
                shed.record());
    }

    private static final class NoUpkeep implements Ledger.Upkeep {
        @Override
        public void followClock() {}

        @Override
        public void tick() {}
    }

    private static final class NoSource implements Source {
        @Override
        public String name() {
            return "by hand";
        }

        @Override
        public void start(Intake queue) {}

        @Override
        public SourceStatus status() {
            return new SourceStatus(true, "", 0, 0, 0);
        }

        @Override
        public void close() {}
    }
}
