package org.bankfire.daemon.store.sqlite;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ChannelRollup;
import org.bankfire.daemon.store.NewsEncoder;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreNews;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SpoolTableTest {
    /** 2026-03-01T10:00:00Z, the start of a 5 min bucket. */
    private static final WallTime T0 = new WallTime(1_772_359_200_000_000L);

    private static final long FIVE_MINUTES_US = Rollup.Width.FIVE_MINUTES.micros();
    private static final Channel CHAMBER = new Channel("shed", "chamber");
    private static final Channel GAS = new Channel("shed", "gas");
    private static final long ROOMY = 1L << 30;

    @TempDir
    Path folder;

    private final List<StoreNews> told = new ArrayList<>();
    private WallTime now = T0.plusSeconds(-600);
    private String name = "shed.db";
    private SqliteStore store;

    @BeforeEach
    void begin() throws Exception {
        open(ROOMY);
    }

    @AfterEach
    void close() throws Exception {
        store.close();
    }

    @Test
    void whatIsNewIsToldOnceWithTheRollupsAsTheyStand() throws Exception {
        append(at(0, 800), at(1_000_000, 820));
        append(at(1_000_000, 999), at(2_000_000, 840)); // the first is there already

        assertThat(told).hasSize(2);
        assertThat(told.get(1).fresh().readings()).containsExactly(at(2_000_000, 840));
        assertThat(told.get(1).rollups())
                .containsExactlyInAnyOrder(
                        new ChannelRollup(CHAMBER, Rollup.Width.TEN_SECONDS, new Rollup(T0, 800, 820, 840, 3)),
                        new ChannelRollup(CHAMBER, Rollup.Width.FIVE_MINUTES, new Rollup(T0, 800, 820, 840, 3)));
        assertThat(texts()).containsExactly("2 readings\n", "1 readings\n");
        assertThat(store.spool().counts().rows()).isEqualTo(3);
    }

    @Test
    void aBatchThatBringsNothingNewLeavesNothingWaiting() throws Exception {
        StoreBatch batch = entries("first");
        store.append(batch);
        int before = told.size();
        store.append(
                new StoreBatch(List.of(), batch.notes(), batch.settings(), batch.transitions(), List.of(), List.of()));
        assertThat(told).hasSize(before);
    }

    @Test
    void ofEntriesOnlyNewOnesAreToldButBurnsAndFitsAsTheyStand() throws Exception {
        StoreBatch first = entries("first");
        store.append(first);
        assertThat(toldEntries()).isEqualTo(first);
        told.clear();

        Note other = new Note("shed", T0.plusSeconds(1), Note.REMARK, "second");
        store.append(new StoreBatch(
                List.of(),
                List.of(first.notes().get(0), other),
                first.settings(),
                first.transitions(),
                first.burns(),
                first.fits()));
        assertThat(toldEntries())
                .isEqualTo(
                        new StoreBatch(List.of(), List.of(other), List.of(), List.of(), first.burns(), first.fits()));
    }

    @Test
    void readingsWithoutARollupAreToldToo() throws Exception {
        Reading fault = Reading.fault(CHAMBER, Unit.CELSIUS, Quality.OPEN, T0, T0);
        append(fault);
        assertThat(told).containsExactly(new StoreNews(StoreBatch.ofReadings(List.of(fault)), List.of()));
    }

    @Test
    void aLargeBatchIsToldInRowsOfBoundedSize() throws Exception {
        List<Reading> many =
                IntStream.range(0, 12_000).mapToObj(i -> at(i * 100_000L, i)).toList();
        store.append(StoreBatch.ofReadings(many));
        assertThat(told).allMatch(news -> news.fresh().readings().size() <= SpoolWriter.MOST_IN_A_ROW);
        assertThat(told.stream().flatMap(news -> news.fresh().readings().stream()))
                .isEqualTo(many);
        assertThat(store.spool().counts().rows()).isEqualTo(12_000);
    }

    @Test
    void aBatchThatCannotBeSpooledIsNotStoredEither() throws Exception {
        another();
        store = SqliteStore.open(
                file(),
                new Spooling(
                        words(news -> {
                            throw new IllegalStateException("no words for it");
                        }),
                        () -> now,
                        ROOMY));
        assertThatThrownBy(() -> append(at(0, 800))).hasMessageContaining("no words for it");
        assertThat(store.latest(CHAMBER)).isEmpty();
        assertThat(store.spool().counts().nothingWaits()).isTrue();
    }

    @Test
    void whatWaitsOutlivesARestartAndIsTakenInOrder() throws Exception {
        append(at(0, 1));
        append(at(1, 2), at(2, 3));
        SpoolCounts before = store.spool().counts();
        store.close();
        open(ROOMY);
        assertThat(store.spool().counts()).isEqualTo(before);
        append(at(3, 4));

        List<SpoolRow> rows = store.spool().oldest(10, ROOMY);
        assertThat(rows).extracting(SpoolRow::rows).containsExactly(1, 2, 1);
        assertThat(rows).extracting(SpoolRow::id).isSorted();
        assertThat(rows.get(0).made()).isEqualTo(now);
        store.spool().remove(List.of(rows.get(0).id()), List.of());
        assertThat(store.spool().counts().rows()).isEqualTo(3);
        assertThat(store.spool().oldest(1, ROOMY)).extracting(SpoolRow::rows).containsExactly(2);
        store.spool().remove(List.of(rows.get(1).id(), rows.get(2).id()), List.of());
        assertThat(store.spool().counts().nothingWaits()).isTrue();
    }

    @Test
    void rowsAreTakenUpToALengthButOneAtLeast() throws Exception {
        append(at(0, 1));
        append(at(1, 2));
        int length = "1 readings\n".length();
        assertThat(store.spool().oldest(10, 1)).hasSize(1);
        assertThat(store.spool().oldest(10, 2L * length)).hasSize(2);
        assertThat(store.spool().oldest(10, 2L * length - 1)).hasSize(1);
    }

    @Test
    void beyondItsLimitTheOldestReadingsAreDroppedAndCountedButNoEntry() throws Exception {
        another();
        open(400);
        store.append(entries("kept"));
        long entryRows = store.spool().counts().rows();
        for (int i = 0; i < 100; i++) {
            append(at(i, i));
        }
        SpoolCounts counts = store.spool().counts();
        assertThat(counts.bytes()).isLessThanOrEqualTo(400);
        assertThat(counts.dropped()).isPositive();
        assertThat(counts.rows() + counts.dropped()).isEqualTo(100 + entryRows);
        List<SpoolRow> rows = store.spool().oldest(200, ROOMY);
        assertThat(rows.stream().mapToInt(SpoolRow::rows).sum()).isEqualTo((int) counts.rows());
        assertThat(new String(rows.get(0).lines(), UTF_8)).contains("entries");
        assertThat(counts.late()).as("to come from the file").isEqualTo(counts.dropped());
        // The newest readings are the ones that wait, and the file itself has them all.
        assertThat(rows.get(rows.size() - 1).id()).isEqualTo(102);
        List<Reading> kept = new ArrayList<>();
        store.readings(CHAMBER, TimeRange.ALL, kept::add);
        assertThat(kept).hasSize(100);

        store.close();
        open(400);
        assertThat(store.spool().counts()).isEqualTo(counts);
    }

    /** Else it would drop readings for the room that those took which the server has. */
    @Test
    void anAppendLooksForRoomOnlyWhenWhatIsGoneWasCounted() throws Exception {
        Thread appending = new Thread(() -> {
            try {
                append(at(0, 1));
            } catch (StoreException failed) {
                throw new AssertionError(failed);
            }
        });
        AtomicReference<Thread.State> meanwhile = new AtomicReference<>();
        store.write("count", connection -> 0, counted -> {
            appending.start();
            Set<Thread.State> settled = EnumSet.of(Thread.State.WAITING, Thread.State.TERMINATED);
            await().atMost(Duration.ofMinutes(1)).until(() -> settled.contains(appending.getState()));
            meanwhile.set(appending.getState());
        });
        appending.join();
        assertThat(meanwhile).hasValue(Thread.State.WAITING);
        assertThat(store.spool().counts().rows()).isEqualTo(1);
    }

    @Test
    void rowsOfAnOlderVersionTellNoStretchWhenTheyAreDropped() throws Exception {
        append(at(0, 1));
        append(at(1, 2));
        store.close();
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
                Statement statement = connection.createStatement()) {
            statement.execute("UPDATE spool SET buckets = NULL");
        }
        open(1);
        append(at(2, 3));
        assertThat(store.spool().counts()).isEqualTo(new SpoolCounts(0, 0, 1, 3, 0));
        store.close();
        open(1);
        assertThat(store.spool().counts()).isEqualTo(new SpoolCounts(0, 0, 1, 3, 0));
    }

    @Test
    void anEmptyFileIsWholeFromNowOn() throws Exception {
        another();
        now = T0.plusSeconds(100);
        open(ROOMY);
        assertThat(store.spool().zones())
                .isEqualTo(new SpoolZones(new WallTime(Long.MIN_VALUE), T0, T0.plusMicros(FIVE_MINUTES_US)));
        store.close();
        now = T0.plusSeconds(9_000);
        open(ROOMY);
        assertThat(store.spool().zones().localFrom()).isEqualTo(T0);
    }

    @Test
    void aFileThatHeldReadingsAnswersForThemItself() throws Exception {
        another();
        store = SqliteStore.open(file());
        append(at(0, 1));
        store.close();
        now = T0.plusSeconds(100);
        open(ROOMY);
        assertThat(store.spool().zones()).isEqualTo(new SpoolZones(now, now, now));
        append(at(0, 7), at(1, 2)); // older than the spool, but all that there is of them is here
        assertThat(told).hasSize(1);
        assertThat(told.get(0).rollups()).allMatch(rollup -> rollup.rollup().count() == 2);
    }

    @Test
    void readingsOfAStretchThatIsNoLongerWholeWaitToBeJoined() throws Exception {
        now = T0.plusSeconds(100_000);
        append(at(0, 1), at(FIVE_MINUTES_US, 2));
        store.spool().remove(List.of(1L), List.of());
        store.spool().advance(T0.plusMicros(FIVE_MINUTES_US + 7));
        assertThat(store.spool().zones().localFrom()).isEqualTo(T0.plusMicros(FIVE_MINUTES_US));
        told.clear();

        append(at(10, 3), at(20, 4), at(FIVE_MINUTES_US + 10, 5));
        assertThat(told).hasSize(1);
        assertThat(told.get(0).fresh().readings()).containsExactly(at(FIVE_MINUTES_US + 10, 5));
        assertThat(told.get(0).rollups())
                .allMatch(rollup -> !rollup.rollup().start().isBefore(T0.plusMicros(1)));
        assertThat(store.spool().counts().late()).isEqualTo(2);

        LateStretch late = store.spool().late(SpoolTable.NO_CHANNEL, 10).orElseThrow();
        assertThat(late.channel()).isEqualTo(CHAMBER);
        assertThat(late.range()).isEqualTo(new TimeRange(T0, T0.plusMicros(FIVE_MINUTES_US)));
        append(at(30, 6)); // while it is being joined
        store.spool().lateDone(late);
        assertThat(store.spool().counts().late()).isEqualTo(1);
        LateStretch rest = store.spool().late(SpoolTable.NO_CHANNEL, 10).orElseThrow();
        store.spool().lateDone(rest);
        assertThat(store.spool().counts().late()).isZero();
        assertThat(store.spool().late(SpoolTable.NO_CHANNEL, 10)).isEmpty();
    }

    @Test
    void lateStretchesJoinNeighboursOfOneChannel() throws Exception {
        another();
        now = T0.plusSeconds(100_000);
        open(ROOMY);
        append(at(0, 1), at(FIVE_MINUTES_US, 1), at(3 * FIVE_MINUTES_US, 1));
        append(Reading.good(GAS, 1, Unit.PASCAL, T0, T0));
        LateStretch first = store.spool().late(SpoolTable.NO_CHANNEL, 10).orElseThrow();
        assertThat(first.range()).isEqualTo(new TimeRange(T0, T0.plusMicros(2 * FIVE_MINUTES_US)));
        assertThat(store.spool().late(SpoolTable.NO_CHANNEL, 1).orElseThrow().buckets())
                .hasSize(1);
        store.spool().lateDone(first);
        store.spool().lateDone(store.spool().late(SpoolTable.NO_CHANNEL, 10).orElseThrow());
        assertThat(store.spool().late(SpoolTable.NO_CHANNEL, 10).orElseThrow().channel())
                .isEqualTo(GAS);
    }

    @Test
    void channelsWithLateStretchesTakeTurns() throws Exception {
        another();
        now = T0.plusSeconds(100_000);
        open(ROOMY);
        append(at(0, 1), at(3 * FIVE_MINUTES_US, 1));
        append(Reading.good(GAS, 1, Unit.PASCAL, T0, T0));
        LateStretch first = store.spool().late(SpoolTable.NO_CHANNEL, 10).orElseThrow();
        assertThat(first.channel()).isEqualTo(CHAMBER);
        store.spool().lateDone(first);
        LateStretch second = store.spool().late(first.channelId(), 10).orElseThrow();
        assertThat(second.channel()).isEqualTo(GAS);
        assertThat(store.spool().late(second.channelId(), 10).orElseThrow().channel())
                .isEqualTo(CHAMBER);
    }

    @Test
    void aLateStretchIsNotJoinedBeforeWhatWaitsOfIt() throws Exception {
        append(at(0, 1));
        append(at(FIVE_MINUTES_US, 2));
        store.close();
        store = SqliteStore.open(file());
        append(at(1_000_000, 3), at(2 * FIVE_MINUTES_US, 4)); // which the server is not told as lines
        store.close();
        open(ROOMY);
        assertThat(store.spool().late(SpoolTable.NO_CHANNEL, 10)).isEmpty();
        List<SpoolRow> rows = store.spool().oldest(10, ROOMY);
        store.spool().remove(List.of(rows.get(0).id()), List.of());
        assertThat(store.spool().late(SpoolTable.NO_CHANNEL, 10).orElseThrow().range())
                .isEqualTo(new TimeRange(T0, T0.plusMicros(FIVE_MINUTES_US)));
        store.spool().lateDone(store.spool().late(SpoolTable.NO_CHANNEL, 10).orElseThrow());
        assertThat(store.spool().late(SpoolTable.NO_CHANNEL, 10)).isEmpty();
        store.spool().remove(List.of(rows.get(1).id()), List.of());
        assertThat(store.spool().late(SpoolTable.NO_CHANNEL, 10)).isPresent();
    }

    @Test
    void nothingThatWaitsIsEverOlderThanWhatTheFileIsWholeFrom() throws Exception {
        now = T0.plusSeconds(100_000);
        append(at(2 * FIVE_MINUTES_US, 1));
        store.spool().advance(T0.plusMicros(20 * FIVE_MINUTES_US));
        assertThat(store.spool().zones().localFrom()).isEqualTo(T0.plusMicros(2 * FIVE_MINUTES_US));
        store.spool().remove(List.of(1L), List.of());
        store.spool().advance(T0.plusMicros(20 * FIVE_MINUTES_US));
        assertThat(store.spool().zones().localFrom()).isEqualTo(T0.plusMicros(20 * FIVE_MINUTES_US));
        assertThat(store.forget(new TimeRange(T0, T0.plusMicros(20 * FIVE_MINUTES_US))))
                .isEqualTo(3);
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.FIVE_MINUTES))
                .isEmpty();
    }

    @Test
    void whatWasTakenForThePastByAClockAheadIsTakenBack() throws Exception {
        now = T0.plusSeconds(100_000);
        store.spool().advance(T0.plusSeconds(90_000));
        assertThat(store.spool().zones().localFrom()).isEqualTo(T0.plusSeconds(90_000));
        now = T0.plusSeconds(100);
        store.spool().advance(T0.plusSeconds(-500));
        assertThat(store.spool().zones().localFrom()).isEqualTo(T0.plusMicros(FIVE_MINUTES_US));

        now = T0.plusSeconds(100_000);
        store.spool().advance(T0.plusSeconds(90_000));
        store.close();
        now = T0.plusSeconds(100);
        open(ROOMY);
        assertThat(store.spool().zones().localFrom()).isEqualTo(T0.plusMicros(FIVE_MINUTES_US));
    }

    @Test
    void refusedLinesAreKeptUpToABoundAndCountedForEver() throws Exception {
        for (int i = 0; i < 3; i++) {
            int from = i * 500;
            store.spool()
                    .remove(
                            List.of(),
                            IntStream.range(from, from + 500)
                                    .mapToObj(k -> new RefusedLine(T0, "line " + k, "not that"))
                                    .toList());
        }
        store.close();
        open(ROOMY);
        assertThat(store.spool().counts().refused()).isEqualTo(1_500);
        assertThat(store.spool().refused(1)).containsExactly(new RefusedLine(T0, "line 1499", "not that"));
        assertThat(store.spool().refused(5_000)).hasSize(SpoolTable.MOST_REFUSED);
    }

    @Test
    void whatTheServerToldOfIsNotToldBack() throws Exception {
        StoreBatch entries = entries("from the server");
        store.takeUp(entries, List.of(GAS));
        assertThat(told).isEmpty();
        assertThat(store.channels("shed")).containsExactly(GAS);
        assertThat(store.notes("shed", TimeRange.ALL)).isEqualTo(entries.notes());
    }

    @Test
    void aFileThatNeverSpooledHasNoZones() throws Exception {
        another();
        store = SqliteStore.open(file());
        assertThat(store.zones()).isEmpty();
        assertThatThrownBy(store::spool).hasMessageContaining("keeps nothing for a server");
        store.close();
        open(ROOMY);
        try (SqliteStore beside = SqliteStore.openReadOnly(file())) {
            assertThat(beside.zones()).contains(store.spool().zones());
        }
    }

    private void open(long limitBytes) throws StoreException {
        store = SqliteStore.open(
                file(),
                new Spooling(
                        words(news -> {
                            told.add(news);
                            int readings = news.fresh().readings().size();
                            long entries = news.fresh().size() - readings;
                            return (readings > 0 ? readings + " readings\n" : entries + " entries\n").getBytes(UTF_8);
                        }),
                        () -> now,
                        limitBytes));
    }

    /** Leaves the store that every test begins with for a file that is not there yet. */
    private void another() throws StoreException {
        store.close();
        name = "another.db";
    }

    private Path file() {
        return folder.resolve(name);
    }

    private List<String> texts() throws StoreException {
        return store.spool().oldest(100, ROOMY).stream()
                .map(row -> new String(row.lines(), UTF_8))
                .toList();
    }

    private void append(Reading... readings) throws StoreException {
        store.append(StoreBatch.ofReadings(List.of(readings)));
    }

    private static Reading at(long micros, double value) {
        return Reading.good(CHAMBER, value, Unit.CELSIUS, T0.plusMicros(micros), T0.plusMicros(micros + 250));
    }

    private StoreBatch toldEntries() {
        List<Note> notes = new ArrayList<>();
        List<Setting> settings = new ArrayList<>();
        List<AlarmTransition> transitions = new ArrayList<>();
        List<Burn> burns = new ArrayList<>();
        List<StoredFit> fits = new ArrayList<>();
        for (StoreNews news : told) {
            notes.addAll(news.fresh().notes());
            settings.addAll(news.fresh().settings());
            transitions.addAll(news.fresh().transitions());
            burns.addAll(news.fresh().burns());
            fits.addAll(news.fresh().fits());
        }
        return new StoreBatch(List.of(), notes, settings, transitions, burns, fits);
    }

    private static StoreBatch entries(String text) {
        return new StoreBatch(
                List.of(),
                List.of(new Note("shed", T0, Note.REMARK, text)),
                List.of(new Setting("shed", T0, "setting-jet", "0.8", "mm")),
                List.of(new AlarmTransition(
                        "shed", T0, AlarmId.CHAMBER_HIGH, AlarmState.UNACKNOWLEDGED, Priority.HIGH, 1_200, "hot")),
                List.of(new Burn("shed-1", "shed", T0, null, 0.25, 900)),
                List.of(new StoredFit("shed-1", "shed", T0, T0.plusSeconds(60), null, "{}")));
    }

    private static NewsEncoder words(Function<StoreNews, byte[]> words) {
        return new NewsEncoder() {
            @Override
            public byte[] encode(StoreNews news) {
                return words.apply(news);
            }

            @Override
            public List<String> lines(byte[] block) {
                return new String(block, UTF_8).lines().toList();
            }
        };
    }
}
