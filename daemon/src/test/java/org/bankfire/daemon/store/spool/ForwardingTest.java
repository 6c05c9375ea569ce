package org.bankfire.daemon.store.spool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.ServerAwayException;
import org.bankfire.daemon.store.ServerLag;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreQueries;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** From the file to a server that is away, refuses, forgets or comes back. */
class ForwardingTest {
    /** 2026-03-01T10:00:00Z, the start of a 5 min bucket. */
    private static final WallTime T0 = new WallTime(1_772_359_200_000_000L);

    private static final Channel CHAMBER = new Channel("shed", "chamber");
    private static final long FIVE_MINUTES_US = Rollup.Width.FIVE_MINUTES.micros();
    private static final long ROOMY = 1L << 30;
    private static final Duration SOON = Duration.ofMinutes(2);
    private static final TimeRange NOTHING = new TimeRange(TimeRange.ALL.from(), TimeRange.ALL.from());

    @TempDir
    Path folder;

    private final Closer closer = new Closer();
    private volatile WallTime now = T0.plusSeconds(-600);
    private String name = "shed.db";
    private ScriptedServer server;
    private SpooledStore store;

    @BeforeEach
    void open() throws Exception {
        server = new ScriptedServer(closer.add(SqliteStore.open(folder.resolve("server.db"))));
        store = opened(ROOMY);
    }

    @AfterEach
    void close() throws Exception {
        store.close();
        closer.closeAll();
    }

    @Test
    void everythingComesToTheServerWithItsRollups() throws Exception {
        StoreBatch batch = new StoreBatch(
                List.of(at(0, 800), at(1_000_000, 820)),
                List.of(new Note("shed", T0, Note.REMARK, "lit")),
                List.of(new Setting("shed", T0, "setting-jet", "0.8", "mm")),
                List.of(),
                List.of(new Burn("shed-1", "shed", T0, null, 0.1, 900)),
                List.of(new StoredFit("shed-1", "shed", T0, T0, null, "{}")));
        store.append(batch);
        store.append(StoreBatch.ofReadings(List.of(at(2_000_000, 840))));
        caughtUp();

        assertThat(readings(server)).containsExactly(at(0, 800), at(1_000_000, 820), at(2_000_000, 840));
        for (Rollup.Width width : Rollup.Width.values()) {
            assertThat(server.rollups(CHAMBER, TimeRange.ALL, width)).containsExactly(new Rollup(T0, 800, 820, 840, 3));
        }
        assertThat(server.notes("shed", TimeRange.ALL)).isEqualTo(batch.notes());
        assertThat(server.settings("shed", TimeRange.ALL)).isEqualTo(batch.settings());
        assertThat(server.burns("shed", 10)).isEqualTo(batch.burns());
        assertThat(server.fit("shed-1")).contains(batch.fits().get(0));
    }

    @Test
    void whileTheServerIsAwayAllWaitsAndThenGoesOnce() throws Exception {
        server.away(true);
        List<Reading> many = numbered(12_000);
        for (int from = 0; from < many.size(); from += 100) {
            store.append(StoreBatch.ofReadings(many.subList(from, from + 100)));
        }
        await().atMost(SOON).until(() -> !lag().reachable());
        now = now.plusSeconds(90);
        assertThat(lag().rows()).isEqualTo(12_000);
        assertThat(lag().behindS()).isGreaterThanOrEqualTo(90);
        assertThat(lag().message()).contains("out for a walk");
        assertThat(readings(store)).isEqualTo(many); // the file answers

        server.away(false);
        caughtUp();
        assertThat(lag().reachable()).isTrue();
        assertThat(lag().message()).isEmpty();
        assertThat(lag().behindS()).isZero();
        assertThat(readings(server)).isEqualTo(many);
        assertThat(server.readingsTaken()).isEqualTo(12_000);
        assertThat(server.posts()).as("what waits is joined").isLessThan(20);
    }

    @Test
    void whatWaitsAtTheEndOfTheProcessGoesAfterItsStart() throws Exception {
        server.away(true);
        store.append(StoreBatch.ofReadings(List.of(at(0, 1), at(1, 2))));
        store.close();
        server.away(false);
        store = opened(ROOMY);
        store.append(StoreBatch.ofReadings(List.of(at(2, 3))));
        caughtUp();
        assertThat(readings(server)).containsExactly(at(0, 1), at(1, 2), at(2, 3));
    }

    @Test
    void ofARefusedPostOnlyTheLinesAreLeftOutThatTheServerDoesNotWant() throws Exception {
        server.refuse(thing -> thing instanceof Reading reading && reading.value() % 1_000 == 7);
        List<Reading> many = numbered(5_000);
        store.append(StoreBatch.ofReadings(many));
        caughtUp();
        assertThat(readings(server))
                .isEqualTo(many.stream()
                        .filter(reading -> reading.value() % 1_000 != 7)
                        .toList());
        assertThat(lag().refused()).isEqualTo(5);
        assertThat(lag().lastRefusal()).isEqualTo("400 not that");
        assertThat(lag().lastRefused()).contains(now);
        assertThat(readings(store)).as("the file has them").isEqualTo(many);
    }

    @Test
    void aServerThatGoesAwayWhileAPostIsTakenApartGetsItAgain() throws Exception {
        server.refuse(thing -> {
            if (server.tries() == 4) {
                server.away(true);
            }
            return thing instanceof Reading reading && reading.value() == 7;
        });
        store.append(StoreBatch.ofReadings(numbered(500)));
        await().atMost(SOON).until(() -> !lag().reachable());
        assertThat(lag().refused()).isZero();
        server.away(false);
        caughtUp();
        assertThat(readings(server)).hasSize(499);
        assertThat(lag().refused()).isEqualTo(1);
    }

    @Test
    void whatWasFoundOfARefusedPostIsKeptWhateverComesInBetween() throws Exception {
        server.refuse(thing -> thing instanceof Reading);
        server.beforePosts(() -> {
            if (server.tries() % 150 == 0) {
                server.away(true);
            }
        });
        List<Reading> many = numbered(1_000);
        store.append(StoreBatch.ofReadings(many));
        await().atMost(SOON).until(() -> !lag().reachable());
        int outages = 0;
        while (lag().rows() > 0) {
            outages++;
            assertThat(outages).as("it goes on").isLessThan(100);
            store.close();
            server.away(false);
            store = opened(ROOMY);
            await().atMost(SOON).until(() -> lag().rows() == 0 || !lag().reachable());
        }
        assertThat(outages).isGreaterThan(10);
        assertThat(server.refusedAlone()).as("each line once").isEqualTo(many);
        assertThat(lag().refused()).isEqualTo(1_000);
    }

    @Test
    void aRefusedPostIsNotedWhileItIsTakenApart() throws Exception {
        CountDownLatch amidst = new CountDownLatch(1);
        CountDownLatch goOn = new CountDownLatch(1);
        server.refuse(thing -> thing instanceof Reading);
        server.beforePosts(() -> {
            if (server.tries() == 3 * LinePost.MOST_TRIES) {
                amidst.countDown();
                patiently(goOn);
            }
        });
        store.append(StoreBatch.ofReadings(numbered(1_000)));
        patiently(amidst);
        assertThat(lag().refused()).isBetween(50L, 999L);
        assertThat(lag().rows()).isEqualTo(1_000);
        goOn.countDown();
        caughtUp();
        assertThat(lag().refused()).isEqualTo(1_000);
    }

    @Test
    void aPostThatIsTooLargeGoesInPieces() throws Exception {
        server.takeAtMost(1_000);
        List<Reading> many = numbered(5_000);
        store.append(StoreBatch.ofReadings(many));
        caughtUp();
        assertThat(readings(server)).isEqualTo(many);
        assertThat(lag().refused()).isZero();
    }

    @Test
    void theServerIsMadeReadyAgainAfterItWasAway() throws Exception {
        store.append(StoreBatch.ofReadings(List.of(at(0, 1))));
        caughtUp();
        assertThat(server.setUps()).isEqualTo(1);
        server.away(true);
        store.append(StoreBatch.ofReadings(List.of(at(1, 1))));
        await().atMost(SOON).until(() -> !lag().reachable());
        server.away(false);
        caughtUp();
        assertThat(server.setUps()).isEqualTo(2);
    }

    @Test
    void readingsPastTheirTimeHereAreAskedOfTheServer() throws Exception {
        List<Reading> many =
                IntStream.range(0, 200).mapToObj(i -> at(i * 10_000_000L, i)).toList();
        store.append(StoreBatch.ofReadings(many));
        caughtUp();
        now = T0.plusMicros(3 * FIVE_MINUTES_US + 5).plusSeconds(7 * 86_400);
        store.prune(NOTHING);
        assertThat(readings(store)).isEqualTo(many);
        assertThat(store.prune(NOTHING)).isEqualTo(90 + 90 + 3); // readings, roll-ups of 10 s and of 5 min
        assertThat(readings(store)).isEqualTo(many);
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.FIVE_MINUTES))
                .hasSize(7);
        try (ReadingStore beside = SpooledStore.openReadOnly(
                folder.resolve(name),
                new ScriptedServer(closer.add(SqliteStore.open(folder.resolve("none.db")))),
                new SpooledStore.Bounds(Duration.ofDays(730), Duration.ofDays(7), ROOMY))) {
            assertThat(readings(beside)).isEqualTo(many.subList(90, 200));
        }

        server.away(true);
        assertThatThrownBy(() -> readings(store)).isInstanceOf(ServerAwayException.class);
        List<Reading> recent = new ArrayList<>();
        store.readings(CHAMBER, new TimeRange(T0.plusMicros(3 * FIVE_MINUTES_US), TimeRange.ALL.to()), recent::add);
        assertThat(recent).isEqualTo(many.subList(90, 200));
        assertThat(store.latest(CHAMBER)).contains(many.get(199));
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 1, 700, 1_500, 5_999})
    void aQueryMissesNothingThatIsDeletedHereMeanwhile(int after) throws Exception {
        List<Reading> many = twoChannels();
        store.append(StoreBatch.ofReadings(many));
        caughtUp();
        now = T0.plusMicros(2 * FIVE_MINUTES_US).plusSeconds(7 * 86_400);
        deleteWhatIsOld();

        List<Reading> ofForge = new ArrayList<>();
        store.readings("shed", new TimeRange(T0, TimeRange.ALL.to()), reading -> {
            if (ofForge.size() == after) {
                now = T0.plusSeconds(20 * 86_400);
                deleteWhatIsOld();
            }
            ofForge.add(reading);
        });
        assertThat(ofForge).isEqualTo(many);
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 300, 1_800})
    void aQueryBesideTheDaemonMissesNothingThatItDeletesMeanwhile(int after) throws Exception {
        List<Reading> many = twoChannels();
        store.append(StoreBatch.ofReadings(many));
        caughtUp();
        now = T0.plusMicros(2 * FIVE_MINUTES_US).plusSeconds(7 * 86_400);
        deleteWhatIsOld();
        List<Reading> ofChannel = new ArrayList<>();
        try (ReadingStore beside = SpooledStore.openReadOnly(
                folder.resolve(name),
                server,
                new SpooledStore.Bounds(Duration.ofDays(730), Duration.ofDays(7), ROOMY))) {
            beside.readings(CHAMBER, new TimeRange(T0, TimeRange.ALL.to()), reading -> {
                if (ofChannel.size() == after) {
                    now = T0.plusMicros(7 * FIVE_MINUTES_US).plusSeconds(7 * 86_400);
                    deleteWhatIsOld();
                }
                ofChannel.add(reading);
            });
        }
        assertThat(ofChannel)
                .isEqualTo(many.stream()
                        .filter(reading -> reading.channel().equals(CHAMBER))
                        .toList());
    }

    @Test
    void rollupsAreWholeThoughTheServerIsSlowToTellItsPart() throws Exception {
        List<Reading> many = twoChannels();
        store.append(StoreBatch.ofReadings(many));
        caughtUp();
        List<Rollup> all = store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.TEN_SECONDS);
        now = T0.plusMicros(2 * FIVE_MINUTES_US).plusSeconds(7 * 86_400);
        deleteWhatIsOld();
        server.beforeRollups(() -> {
            now = T0.plusSeconds(20 * 86_400);
            deleteWhatIsOld();
        });
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.TEN_SECONDS))
                .isEqualTo(all);
        assertThat(all).hasSize(300);
    }

    @Test
    void nothingIsDeletedHereThatTheServerDoesNotHaveYet() throws Exception {
        server.away(true);
        store.append(StoreBatch.ofReadings(List.of(at(0, 1))));
        now = T0.plusSeconds(30 * 86_400);
        store.prune(NOTHING);
        store.prune(NOTHING);
        assertThat(readings(store)).containsExactly(at(0, 1));
    }

    @Test
    void lateReadingsAreJoinedWithWhatTheServerHas() throws Exception {
        forgetTheFirstMinutes();
        // One comes again with another value, one is new; the file knows neither any more.
        store.append(StoreBatch.ofReadings(List.of(at(0, 99), at(1_000_000, 20))));
        caughtUp();
        assertThat(readings(store)).containsExactly(at(0, 10), at(1_000_000, 20), at(2_000_000, 30));
        for (Rollup.Width width : Rollup.Width.values()) {
            assertThat(store.rollups(CHAMBER, TimeRange.ALL, width)).containsExactly(new Rollup(T0, 10, 20, 30, 3));
        }
    }

    @Test
    void lateReadingsWaitHereWhileTheServerIsAway() throws Exception {
        forgetTheFirstMinutes();
        server.away(true);
        store.append(StoreBatch.ofReadings(List.of(at(1_000_000, 20))));
        store.prune(NOTHING);
        store.prune(NOTHING);
        server.away(false);
        caughtUp();
        assertThat(readings(store)).containsExactly(at(0, 10), at(1_000_000, 20), at(2_000_000, 30));
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.FIVE_MINUTES))
                .containsExactly(new Rollup(T0, 10, 20, 30, 3));
    }

    @Test
    void lateReadingsHaveTheirTurnThoughWhatWaitsNeverEnds() throws Exception {
        forgetTheFirstMinutes();
        AtomicInteger flowing = new AtomicInteger();
        server.beforePosts(() -> {
            boolean joined = server.count(CHAMBER, new TimeRange(T0, T0.plusSeconds(300))) == 3;
            if (!joined && flowing.get() < 200) {
                store.append(StoreBatch.ofReadings(List.of(recent(flowing.incrementAndGet()))));
            }
        });
        store.append(StoreBatch.ofReadings(List.of(at(1_000_000, 20), recent(0))));
        caughtUp();
        assertThat(readings(server)).startsWith(at(0, 10), at(1_000_000, 20), at(2_000_000, 30));
        assertThat(flowing).as("joined while more came").hasValueLessThan(2 * Forwarder.POSTS_BEFORE_LATE);
    }

    @Test
    void ofRefusedLateReadingsTheRestIsTaken() throws Exception {
        forgetTheFirstMinutes();
        server.refuse(thing -> thing instanceof Reading reading && reading.value() == 20);
        store.append(StoreBatch.ofReadings(List.of(at(1_000_000, 20), at(1_500_000, 25))));
        caughtUp();
        assertThat(readings(server)).containsExactly(at(0, 10), at(1_500_000, 25), at(2_000_000, 30));
        assertThat(lag().refused()).isEqualTo(1);
        assertThat(server.refusedAlone()).containsExactly(at(1_000_000, 20));
    }

    @Test
    void lateReadingsThatCannotBeJoinedHoldUpNothing() throws Exception {
        forgetTheFirstMinutes();
        server.mute(true);
        AtomicInteger flowing = new AtomicInteger();
        int most = 3 * Forwarder.POSTS_BEFORE_LATE;
        server.beforePosts(() -> {
            if (flowing.get() < most) {
                store.append(StoreBatch.ofReadings(List.of(recent(flowing.incrementAndGet()))));
            }
        });
        store.append(StoreBatch.ofReadings(List.of(at(1_000_000, 20), recent(0))));
        await().atMost(SOON).until(() -> lag().rows() == 1 && lag().bytes() == 0);
        server.mute(false);
        caughtUp();
        assertThat(readings(server)).hasSize(3 + most + 1);
    }

    @Test
    void aClockThatWasAheadOnceLeavesWhatComesHere() throws Exception {
        store.append(StoreBatch.ofReadings(List.of(at(0, 10))));
        caughtUp();
        now = T0.plusSeconds(365 * 86_400);
        store.prune(NOTHING);
        store.prune(NOTHING);
        now = T0.plusSeconds(600);
        store.prune(NOTHING);
        server.away(true);
        Reading later = at(1_000_000_000, 20);
        store.append(StoreBatch.ofReadings(List.of(later)));
        store.prune(NOTHING);
        store.prune(NOTHING);
        List<Reading> recent = new ArrayList<>();
        store.readings(CHAMBER, new TimeRange(T0.plusSeconds(900), TimeRange.ALL.to()), recent::add);
        assertThat(recent).containsExactly(later);
        server.away(false);
        caughtUp();
        assertThat(readings(store)).containsExactly(at(0, 10), later);
        assertThat(readings(server)).containsExactly(at(0, 10), later);
    }

    @Test
    void lateReadingsDoNotSpoilARollupWhoseReadingsThePruningTook() throws Exception {
        store.append(StoreBatch.ofReadings(List.of(at(0, 10), at(2_000_000, 30))));
        caughtUp();
        now = T0.plusSeconds(30 * 86_400);
        store.prune(NOTHING);
        store.prune(new TimeRange(TimeRange.ALL.from(), T0.plusSeconds(3_600)));
        assertThat(readings(store)).isEmpty();
        store.append(StoreBatch.ofReadings(List.of(at(1_000_000, 20))));
        caughtUp();
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.FIVE_MINUTES))
                .containsExactly(new Rollup(T0, 10, 20, 30, 2));
    }

    @Test
    void aNewMachineTakesUpTheLogBook() throws Exception {
        Note note = new Note("shed", T0, Note.REMARK, "lit");
        Setting setting = new Setting("shed", T0, "setting-jet", "0.8", "mm");
        Burn burn = new Burn("shed-1", "shed", T0, null, 0.1, 900);
        StoredFit fit = new StoredFit("shed-1", "shed", T0, T0, null, "{}");
        store.append(new StoreBatch(
                List.of(at(0, 1)), List.of(note), List.of(setting), List.of(), List.of(burn), List.of(fit)));
        caughtUp();
        store.close();

        now = T0.plusSeconds(86_400);
        name = "new.db";
        server.away(true);
        store = opened(ROOMY);
        assertThat(store.notes("shed", TimeRange.ALL)).isEmpty();
        store.close();
        server.away(false);
        store = opened(ROOMY);
        // The start waits for it, but not for ever.
        await().atMost(SOON).until(() -> !store.notes("shed", TimeRange.ALL).isEmpty());
        assertThat(store.notes("shed", TimeRange.ALL)).containsExactly(note);
        assertThat(store.settings("shed", TimeRange.ALL)).containsExactly(setting);
        assertThat(store.burns("shed", 5)).containsExactly(burn);
        assertThat(store.fit("shed-1")).contains(fit);
        assertThat(store.channels("shed")).containsExactly(CHAMBER);
        assertThat(readings(store)).containsExactly(at(0, 1));
        assertThat(lag().rows()).isZero();
    }

    @Test
    void aFileThatHeldReadingsBeforeAnswersForThemAndTellsItsLogBook() throws Exception {
        store.close();
        name = "old.db";
        Note note = new Note("shed", T0, Note.REMARK, "lit");
        try (SqliteStore alone = SqliteStore.open(folder.resolve(name))) {
            alone.append(new StoreBatch(List.of(at(0, 1)), List.of(note), List.of(), List.of(), List.of()));
        }
        now = T0.plusSeconds(86_400);
        store = opened(ROOMY);
        caughtUp();
        assertThat(server.notes("shed", TimeRange.ALL)).containsExactly(note);
        assertThat(readings(server)).isEmpty();
        now = T0.plusSeconds(300 * 86_400);
        store.prune(NOTHING);
        store.prune(NOTHING);
        assertThat(readings(store)).containsExactly(at(0, 1));
        store.prune(new TimeRange(TimeRange.ALL.from(), T0.plusSeconds(1)));
        assertThat(readings(store)).isEmpty();
    }

    @Test
    void whatAFileTookWithoutItsServerGetsThereWhenItHasOneAgain() throws Exception {
        store.append(StoreBatch.ofReadings(List.of(at(0, 10), at(2_000_000, 30))));
        caughtUp();
        store.close();
        Note note = new Note("shed", T0, Note.REMARK, "without the server");
        try (SqliteStore alone = SqliteStore.open(folder.resolve(name))) {
            alone.append(new StoreBatch(
                    List.of(at(1_000_000, 20), at(FIVE_MINUTES_US, 40)),
                    List.of(note),
                    List.of(),
                    List.of(),
                    List.of()));
        }
        store = opened(ROOMY);
        caughtUp();
        assertThat(readings(server))
                .containsExactly(at(0, 10), at(1_000_000, 20), at(2_000_000, 30), at(FIVE_MINUTES_US, 40));
        assertThat(server.notes("shed", TimeRange.ALL)).containsExactly(note);
        for (Rollup.Width width : Rollup.Width.values()) {
            assertThat(server.rollups(CHAMBER, TimeRange.ALL, width))
                    .containsExactly(
                            new Rollup(T0, 10, 20, 30, 3), new Rollup(T0.plusMicros(FIVE_MINUTES_US), 40, 40, 40, 1));
        }
        assertThat(lag().rows()).isZero();
    }

    @Test
    void readingsThatHadToBeDroppedAreToldAndComeFromTheFileLater() throws Exception {
        store.close();
        name = "small.db";
        store = opened(2_000);
        server.away(true);
        List<Reading> many = twoChannels();
        for (int from = 0; from < many.size(); from += 500) {
            store.append(StoreBatch.ofReadings(many.subList(from, from + 500)));
        }
        ServerLag lag = lag();
        assertThat(lag.dropped()).isBetween(1L, (long) many.size());
        assertThat(lag.rows()).as("all is still to come").isEqualTo(many.size());
        assertThat(lag.bytes()).isLessThanOrEqualTo(2_000);
        assertThat(lag.lastDropped()).isPresent();
        // Much later, and by a restart: the file keeps them.
        now = T0.plusSeconds(30 * 86_400);
        deleteWhatIsOld();
        store.close();
        store = opened(2_000);
        deleteWhatIsOld();
        assertThat(lag().rows()).isEqualTo(many.size());
        assertThat(lag().dropped()).isEqualTo(lag.dropped());

        server.away(false);
        caughtUp();
        assertThat(ofForge(server)).isEqualTo(many);
        deleteWhatIsOld();
        assertThat(ofForge(store)).isEqualTo(many);
        for (Rollup.Width width : Rollup.Width.values()) {
            List<Rollup> rollups = server.rollups(CHAMBER, TimeRange.ALL, width);
            assertThat(rollups.stream().mapToLong(Rollup::count).sum()).isEqualTo(3_000);
            assertThat(rollups).hasSize((int) (3_000_000_000L / width.micros()));
        }
    }

    private static void patiently(CountDownLatch latch) {
        try {
            assertThat(latch.await(SOON.toSeconds(), TimeUnit.SECONDS)).isTrue();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** 50 min of two channels, a reading a second each. */
    private static List<Reading> twoChannels() {
        List<Reading> many = new ArrayList<>();
        for (int second = 0; second < 3_000; second++) {
            many.add(at(second * 1_000_000L, second));
            WallTime time = T0.plusSeconds(second);
            many.add(Reading.good(new Channel("shed", "gas"), second, Unit.PASCAL, time, time));
        }
        return many;
    }

    /** As housekeeping does within minutes. */
    private void deleteWhatIsOld() {
        try {
            store.prune(NOTHING);
            while (store.prune(NOTHING) > 0) {
                // a bounded number each time
            }
        } catch (StoreException e) {
            throw new AssertionError(e);
        }
    }

    /** The server has readings of 0 and 2 s, and the file has them no more. */
    private void forgetTheFirstMinutes() throws Exception {
        store.append(StoreBatch.ofReadings(List.of(at(0, 10), at(2_000_000, 30))));
        caughtUp();
        now = T0.plusSeconds(30 * 86_400);
        store.prune(NOTHING);
        store.prune(NOTHING);
    }

    /** A reading of the time after {@link #forgetTheFirstMinutes}. */
    private static Reading recent(int number) {
        return at((30 * 86_400L + number) * 1_000_000, number);
    }

    private SpooledStore opened(long limitBytes) throws StoreException {
        return SpooledStore.open(
                folder.resolve(name),
                server,
                server,
                new SpooledStore.Bounds(Duration.ofDays(730), Duration.ofDays(7), limitBytes),
                List.of("shed"),
                () -> now);
    }

    private ServerLag lag() {
        return store.lag().orElseThrow();
    }

    /** The server has everything, and whoever brought it there has said how that went. */
    private void caughtUp() {
        await().atMost(SOON).until(() -> {
            ServerLag lag = lag();
            boolean told = lag.refused() == 0 || !lag.lastRefusal().isEmpty();
            return lag.rows() == 0 && lag.bytes() == 0 && lag.reachable() && told;
        });
    }

    private static List<Reading> readings(StoreQueries from) throws StoreException {
        List<Reading> found = new ArrayList<>();
        from.readings(CHAMBER, new TimeRange(T0, TimeRange.ALL.to()), found::add);
        return found;
    }

    private static List<Reading> ofForge(StoreQueries from) throws StoreException {
        List<Reading> found = new ArrayList<>();
        from.readings("shed", new TimeRange(T0, TimeRange.ALL.to()), found::add);
        return found;
    }

    private static List<Reading> numbered(int count) {
        return IntStream.range(0, count).mapToObj(i -> at(i * 1_000L, i)).toList();
    }

    private static Reading at(long micros, double value) {
        return Reading.good(CHAMBER, value, Unit.CELSIUS, T0.plusMicros(micros), T0.plusMicros(micros + 250));
    }
}
