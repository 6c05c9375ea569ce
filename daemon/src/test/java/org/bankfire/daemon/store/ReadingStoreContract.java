package org.bankfire.daemon.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowable;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What every store must do; a subclass for each implementation. */
public abstract class ReadingStoreContract {
    /** 2026-03-01T10:00:00Z, the start of a 5 min bucket. */
    protected static final WallTime T0 = new WallTime(1_772_359_200_000_000L);

    protected static final Channel CHAMBER = new Channel("shed", "chamber");
    protected static final Channel GAS = new Channel("shed", "gas");
    protected static final Channel OTHER = new Channel("yard", "chamber");

    private ReadingStore store;

    /** An empty store. */
    protected abstract ReadingStore create() throws Exception;

    /** The same store after a restart of the process. */
    protected abstract ReadingStore reopen(ReadingStore store) throws Exception;

    @BeforeEach
    void openStore() throws Exception {
        store = create();
    }

    @AfterEach
    void closeStore() throws Exception {
        store.close();
    }

    @Test
    void aReadingComesBackBitByBit() throws Exception {
        double[] values = {
            0.0,
            -0.0,
            0.1,
            -273.15,
            1e-300,
            Double.MIN_VALUE,
            Double.MAX_VALUE,
            -Double.MAX_VALUE,
            1e15,
            9007199254740992.0
        };
        List<Reading> given = new ArrayList<>();
        for (int i = 0; i < values.length; i++) {
            given.add(new Reading(
                    CHAMBER,
                    values[i],
                    Unit.CELSIUS,
                    Math.abs(values[i]),
                    Quality.GOOD,
                    T0.plusMicros(i),
                    T0.plusMicros(7L * i + 3)));
        }
        given.add(at(CHAMBER, -1_000_001, 5)); // before
        given.add(Reading.good(CHAMBER, 1, Unit.CELSIUS, new WallTime(-1), new WallTime(-2))); // before 1970
        append(given);

        List<Reading> expected = given.stream()
                .sorted((a, b) -> a.sourceTime().compareTo(b.sourceTime()))
                .toList();
        assertThat(readings(CHAMBER, TimeRange.ALL)).isEqualTo(expected);
        // Record equality of doubles is that of Double.equals, which tells -0.0 from 0.0.
        assertThat(readings(CHAMBER, TimeRange.ALL)).contains(given.get(1));
    }

    @Test
    void everyQualityAndAnyUnitComesBack() throws Exception {
        List<Reading> given = new ArrayList<>();
        for (Quality quality : Quality.values()) {
            given.add(new Reading(
                    CHAMBER, 20.5, Unit.ofSymbol("furlong"), 0.5, quality, T0.plusMicros(given.size()), T0));
        }
        given.add(Reading.fault(CHAMBER, Unit.CELSIUS, Quality.OPEN, T0.plusMicros(given.size()), T0));
        given.add(Reading.good(CHAMBER, 3, Unit.NONE, T0.plusMicros(given.size()), T0));
        append(given);
        assertThat(readings(CHAMBER, TimeRange.ALL)).isEqualTo(given);
    }

    @Test
    void everythingIsThereAfterARestart() throws Exception {
        StoreBatch batch = new StoreBatch(
                List.of(at(CHAMBER, 0, 812.25)),
                List.of(new Note("shed", T0, Note.REMARK, "jet 0.8 \uD83D\uDD25\nsecond line, \"quoted\", Łódź")),
                List.of(new Setting("shed", T0, "setting-jet", "0.8", "mm")),
                List.of(transition(0, AlarmId.CHAMBER_HIGH, AlarmState.UNACKNOWLEDGED)),
                List.of(new Burn("shed-1", "shed", T0, null, 0.25, Double.NaN)));
        store.append(batch);
        store = reopen(store);

        assertThat(readings(CHAMBER, TimeRange.ALL)).isEqualTo(batch.readings());
        assertThat(store.notes("shed", TimeRange.ALL)).isEqualTo(batch.notes());
        assertThat(store.settings("shed", TimeRange.ALL)).isEqualTo(batch.settings());
        assertThat(store.alarmTransitions("shed", TimeRange.ALL)).isEqualTo(batch.transitions());
        assertThat(store.burns("shed", 10)).isEqualTo(batch.burns());
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.TEN_SECONDS))
                .containsExactly(new Rollup(T0, 812.25, 812.25, 812.25, 1));

        append(List.of(at(CHAMBER, 1_000_000, 813.25)));
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.TEN_SECONDS))
                .containsExactly(new Rollup(T0, 812.25, 812.75, 813.25, 2));
    }

    @Test
    void aReadingStoredTwiceIsStoredOnceAlsoInRollups() throws Exception {
        Reading first = at(CHAMBER, 0, 100);
        append(List.of(first, at(CHAMBER, 0, 900), at(CHAMBER, 1, 200)));
        append(List.of(at(CHAMBER, 0, 700), first, at(CHAMBER, 1, 200)));

        assertThat(readings(CHAMBER, TimeRange.ALL)).containsExactly(first, at(CHAMBER, 1, 200));
        for (Rollup.Width width : Rollup.Width.values()) {
            assertThat(store.rollups(CHAMBER, TimeRange.ALL, width)).containsExactly(new Rollup(T0, 100, 150, 200, 2));
        }
    }

    @Test
    void theSameTimeInAnotherChannelOrForgeIsAnotherReading() throws Exception {
        append(List.of(at(CHAMBER, 0, 1), at(GAS, 0, 2), at(OTHER, 0, 3)));
        assertThat(readings(CHAMBER, TimeRange.ALL)).containsExactly(at(CHAMBER, 0, 1));
        assertThat(readings(GAS, TimeRange.ALL)).containsExactly(at(GAS, 0, 2));
        assertThat(readings(OTHER, TimeRange.ALL)).containsExactly(at(OTHER, 0, 3));
    }

    @Test
    void theFirstNoteSettingAndTransitionOfAKeyStay() throws Exception {
        Note note = new Note("shed", T0, Note.REMARK, "first");
        Setting setting = new Setting("shed", T0, Setting.PLUG, "in", "");
        AlarmTransition transition = transition(0, AlarmId.FLAME_OUT, AlarmState.UNACKNOWLEDGED);
        store.append(new StoreBatch(List.of(), List.of(note), List.of(setting), List.of(transition), List.of()));
        store.append(new StoreBatch(
                List.of(),
                List.of(
                        new Note("shed", T0, Note.REMARK, "second"),
                        new Note("shed", T0, Note.STOCK, "other name"),
                        new Note("yard", T0, Note.REMARK, "other forge")),
                List.of(new Setting("shed", T0, Setting.PLUG, "out", "")),
                List.of(
                        new AlarmTransition(
                                "shed",
                                T0,
                                AlarmId.FLAME_OUT,
                                AlarmState.UNACKNOWLEDGED,
                                Priority.LOW,
                                Double.NaN,
                                "again"),
                        transition(0, AlarmId.FLAME_OUT, AlarmState.ACKNOWLEDGED)),
                List.of()));

        assertThat(store.notes("shed", TimeRange.ALL))
                .containsExactly(note, new Note("shed", T0, Note.STOCK, "other name"));
        assertThat(store.settings("shed", TimeRange.ALL)).containsExactly(setting);
        assertThat(store.alarmTransitions("shed", TimeRange.ALL))
                .containsExactly(transition, transition(0, AlarmId.FLAME_OUT, AlarmState.ACKNOWLEDGED));
    }

    @Test
    void aBurnIsReplacedByItsLaterState() throws Exception {
        Burn burning = new Burn("shed-1", "shed", T0, null, 0.1, 640);
        Burn over = new Burn("shed-1", "shed", T0, T0.plusSeconds(3600), 1.4, 1210);
        Burn another = new Burn("shed-0", "shed", T0.plusSeconds(-9000), T0.plusSeconds(-8000), 0.7, 900);
        store.append(burns(burning, another));
        assertThat(store.burn("shed-1")).contains(burning);
        store.append(burns(burning, over));
        assertThat(store.burn("shed-1")).contains(over);
        assertThat(store.burns("shed", 10)).containsExactly(over, another);
        assertThat(store.burns("shed", 1)).containsExactly(over);
        assertThat(store.burn("shed-7")).isEmpty();
        assertThat(store.burns("yard", 10)).isEmpty();
    }

    @Test
    void aRangeHoldsItsBeginningButNotItsEnd() throws Exception {
        append(List.of(at(CHAMBER, 0, 0), at(CHAMBER, 1, 1), at(CHAMBER, 2, 2), at(CHAMBER, 3, 3)));
        TimeRange range = new TimeRange(T0.plusMicros(1), T0.plusMicros(3));
        assertThat(readings(CHAMBER, range)).containsExactly(at(CHAMBER, 1, 1), at(CHAMBER, 2, 2));
        assertThat(readings("shed", range)).containsExactly(at(CHAMBER, 1, 1), at(CHAMBER, 2, 2));
        assertThat(readings(CHAMBER, new TimeRange(T0, T0))).isEmpty();

        List<Note> notes = IntStream.range(0, 4)
                .mapToObj(i -> new Note("shed", T0.plusMicros(i), Note.REMARK, "n" + i))
                .toList();
        List<Setting> settings = IntStream.range(0, 4)
                .mapToObj(i -> new Setting("shed", T0.plusMicros(i), Setting.PLUG, "v" + i, ""))
                .toList();
        List<AlarmTransition> transitions = IntStream.range(0, 4)
                .mapToObj(i -> transition(i, AlarmId.NO_DATA, AlarmState.NORMAL))
                .toList();
        store.append(new StoreBatch(List.of(), notes, settings, transitions, List.of()));
        assertThat(store.notes("shed", range)).isEqualTo(notes.subList(1, 3));
        assertThat(store.notes("shed", Note.REMARK, range)).isEqualTo(notes.subList(1, 3));
        assertThat(store.notes("shed", Note.STOCK, range)).isEmpty();
        assertThat(store.notes("loft", Note.REMARK, range)).isEmpty();
        assertThat(store.settings("shed", range)).isEqualTo(settings.subList(1, 3));
        assertThat(store.alarmTransitions("shed", range)).isEqualTo(transitions.subList(1, 3));
    }

    @Test
    void readingsOfAForgeComeInOrderOfTimeThenChannelName() throws Exception {
        // Longer than any page that an implementation may fetch at once, and of very unequal density.
        List<Reading> given = new ArrayList<>();
        for (int i = 0; i < 5_000; i++) {
            given.add(at(CHAMBER, 100L * i, i));
            if (i % 3 == 0) {
                given.add(at(GAS, 100L * i, -i));
            }
            if (i % 1_000 == 0) {
                given.add(at(new Channel("shed", "ambient"), 100L * i + 50, i));
            }
        }
        List<Reading> shuffled = new ArrayList<>(given);
        Collections.shuffle(shuffled, new Random(20260301));
        append(shuffled);
        append(List.of(at(OTHER, 0, 1)));

        List<Reading> expected = given.stream()
                .sorted((a, b) -> a.sourceTime().equals(b.sourceTime())
                        ? a.channel().name().compareTo(b.channel().name())
                        : a.sourceTime().compareTo(b.sourceTime()))
                .toList();
        assertThat(readings("shed", TimeRange.ALL)).isEqualTo(expected);
        assertThat(readings(CHAMBER, TimeRange.ALL))
                .isEqualTo(expected.stream()
                        .filter(reading -> reading.channel().equals(CHAMBER))
                        .toList());
    }

    @Test
    void rollupsHoldMinMeanMaxAndCountOfEachBucket() throws Exception {
        Random random = new Random(7);
        List<Reading> given = new ArrayList<>();
        for (int i = 0; i < 3_000; i++) {
            given.add(at(CHAMBER, i * 317_001L, 900 + 50 * random.nextGaussian()));
        }
        Collections.shuffle(given, random);
        for (int from = 0; from < given.size(); from += 170) {
            append(given.subList(from, Math.min(given.size(), from + 170)));
        }
        for (Rollup.Width width : Rollup.Width.values()) {
            assertRollups(width, given);
        }
    }

    private void assertRollups(Rollup.Width width, List<Reading> given) throws StoreException {
        var byBucket = given.stream()
                .collect(Collectors.groupingBy(
                        reading -> width.bucketOf(reading.sourceTime()), Collectors.summarizingDouble(Reading::value)));
        List<Rollup> found = store.rollups(CHAMBER, TimeRange.ALL, width);
        assertThat(found).extracting(Rollup::start).isSorted().containsExactlyInAnyOrderElementsOf(byBucket.keySet());
        for (Rollup rollup : found) {
            var expected = Objects.requireNonNull(byBucket.get(rollup.start()));
            assertThat(rollup.min()).isEqualTo(expected.getMin());
            assertThat(rollup.max()).isEqualTo(expected.getMax());
            assertThat(rollup.count()).isEqualTo(expected.getCount());
            assertThat(rollup.mean()).isCloseTo(expected.getAverage(), within(1e-9));
        }
    }

    @Test
    void rollupsLeaveOutBadReadingsAndTakeUncertainOnes() throws Exception {
        append(List.of(
                at(CHAMBER, 0, 100),
                new Reading(CHAMBER, 200, Unit.CELSIUS, 3, Quality.UNCERTAIN, T0.plusMicros(1), T0),
                new Reading(CHAMBER, 9_999, Unit.CELSIUS, 3, Quality.SPIKE, T0.plusMicros(2), T0),
                Reading.fault(CHAMBER, Unit.CELSIUS, Quality.OPEN, T0.plusMicros(3), T0),
                Reading.fault(GAS, Unit.PASCAL, Quality.OPEN, T0, T0)));
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.TEN_SECONDS))
                .containsExactly(new Rollup(T0, 100, 150, 200, 2));
        assertThat(store.rollups(GAS, TimeRange.ALL, Rollup.Width.TEN_SECONDS)).isEmpty();
    }

    @Test
    void rollupsAreThoseWhoseBucketsBeginInTheRange() throws Exception {
        append(List.of(at(CHAMBER, 0, 1), at(CHAMBER, 9_999_999, 2), at(CHAMBER, 10_000_000, 3), at(CHAMBER, -1, 4)));
        assertThat(store.rollups(CHAMBER, new TimeRange(T0, T0.plusMicros(10_000_000)), Rollup.Width.TEN_SECONDS))
                .containsExactly(new Rollup(T0, 1, 1.5, 2, 2));
        assertThat(store.rollups(
                        CHAMBER, new TimeRange(T0.plusMicros(1), T0.plusMicros(10_000_001)), Rollup.Width.TEN_SECONDS))
                .containsExactly(new Rollup(T0.plusMicros(10_000_000), 3, 3, 3, 1));
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.FIVE_MINUTES))
                .containsExactly(new Rollup(T0.plusMicros(-300_000_000), 4, 4, 4, 1), new Rollup(T0, 1, 2, 3, 3));
    }

    @Test
    void aRollupOfTheLargestDoublesStaysBetweenThem() throws Exception {
        append(List.of(at(CHAMBER, 0, Double.MAX_VALUE), at(CHAMBER, 1, Double.MAX_VALUE)));
        append(List.of(at(CHAMBER, 2, -Double.MAX_VALUE), at(CHAMBER, 3, -Double.MAX_VALUE)));
        append(List.of(at(CHAMBER, 4, -Double.MAX_VALUE), at(CHAMBER, 5, -Double.MAX_VALUE)));
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.TEN_SECONDS))
                .singleElement()
                .satisfies(rollup -> {
                    assertThat(rollup.count()).isEqualTo(6);
                    assertThat(rollup.min()).isEqualTo(-Double.MAX_VALUE);
                    assertThat(rollup.max()).isEqualTo(Double.MAX_VALUE);
                    assertThat(rollup.mean()).isBetween(-Double.MAX_VALUE, Double.MAX_VALUE);
                });
    }

    @Test
    void theLatestReadingIsTheOneWithTheLatestSourceTime() throws Exception {
        assertThat(store.latest(CHAMBER)).isEmpty();
        append(List.of(at(CHAMBER, 5, 5)));
        append(List.of(at(CHAMBER, 3, 3), at(GAS, 9, 9)));
        assertThat(store.latest(CHAMBER)).contains(at(CHAMBER, 5, 5));
        assertThat(store.latest(new Channel("shed", "unheard"))).isEmpty();
    }

    @Test
    void forgesAndChannelsAreListedInOrder() throws Exception {
        assertThat(store.forges()).isEmpty();
        append(List.of(at(OTHER, 0, 1), at(GAS, 0, 1), at(CHAMBER, 0, 1)));
        store.append(new StoreBatch(
                List.of(),
                List.of(new Note("attic", T0, Note.REMARK, "only a note")),
                List.of(),
                List.of(),
                List.of()));
        store.append(new StoreBatch(
                List.of(), List.of(), List.of(new Setting("barn", T0, Setting.PLUG, "in", "")), List.of(), List.of()));
        assertThat(store.forges()).containsExactly("attic", "barn", "shed", "yard");
        assertThat(store.channels("shed")).containsExactly(CHAMBER, GAS);
        assertThat(store.channels("attic")).isEmpty();
        assertThat(store.channels("nowhere")).isEmpty();
    }

    @Test
    void theLatestSettingOfANameIsFound() throws Exception {
        Setting early = new Setting("shed", T0, "setting-jet", "0.8", "mm");
        Setting late = new Setting("shed", T0.plusSeconds(60), "setting-jet", "1.0", "mm");
        Setting plug = new Setting("shed", T0.plusSeconds(90), Setting.PLUG, "out", "");
        store.append(new StoreBatch(List.of(), List.of(), List.of(late, early, plug), List.of(), List.of()));
        assertThat(store.latestSetting("shed", "setting-jet")).contains(late);
        assertThat(store.latestSetting("shed", Setting.PLUG)).contains(plug);
        assertThat(store.latestSetting("shed", "setting-choke")).isEmpty();
        assertThat(store.latestSetting("yard", Setting.PLUG)).isEmpty();
        assertThat(store.settings("shed", TimeRange.ALL)).containsExactly(early, late, plug);
    }

    @Test
    void alarmTransitionsComeInOrderAndTheLatestNewestFirst() throws Exception {
        List<AlarmTransition> given = List.of(
                transition(0, AlarmId.FLAME_OUT, AlarmState.UNACKNOWLEDGED),
                transition(4, AlarmId.FLAME_OUT, AlarmState.ACKNOWLEDGED),
                transition(9, AlarmId.FLAME_OUT, AlarmState.NORMAL));
        store.append(transitions(given.get(2), given.get(0)));
        store.append(transitions(given.get(1)));
        assertThat(store.alarmTransitions("shed", TimeRange.ALL)).isEqualTo(given);
        assertThat(store.latestAlarmTransitions("shed", 2)).containsExactly(given.get(2), given.get(1));
        assertThat(store.latestAlarmTransitions("shed", 0)).isEmpty();
        assertThat(store.latestAlarmTransitions("yard", 5)).isEmpty();
    }

    @Test
    void everyAlarmStateAndPriorityComesBack() throws Exception {
        List<AlarmTransition> given = new ArrayList<>();
        for (AlarmId alarm : AlarmId.values()) {
            for (AlarmState state : AlarmState.values()) {
                for (Priority priority : Priority.values()) {
                    double value = given.size() % 2 == 0 ? Double.NaN : 1103.2;
                    given.add(new AlarmTransition(
                            "shed", T0.plusMicros(given.size()), alarm, state, priority, value, "why " + given.size()));
                }
            }
        }
        store.append(new StoreBatch(List.of(), List.of(), List.of(), given, List.of()));
        assertThat(store.alarmTransitions("shed", TimeRange.ALL)).isEqualTo(given);
    }

    @Test
    void theNewestStepsOfOneAlarmAreFoundBehindAnyNumberOfOthers() throws Exception {
        List<AlarmTransition> given = new ArrayList<>();
        given.add(transition(0, AlarmId.SHELL_HIGH, AlarmState.UNACKNOWLEDGED));
        // Two steps of one moment keep their order.
        given.add(transition(1, AlarmId.SHELL_HIGH, AlarmState.NORMAL));
        given.add(transition(1, AlarmId.SHELL_HIGH, AlarmState.OUT_OF_SERVICE));
        for (int i = 2; i < 2_000; i++) {
            given.add(transition(i, AlarmId.CHAMBER_HIGH, AlarmState.UNACKNOWLEDGED));
        }
        store.append(new StoreBatch(List.of(), List.of(), List.of(), given, List.of()));
        assertThat(store.latestAlarmTransitions("shed", AlarmId.SHELL_HIGH, 2))
                .containsExactly(given.get(2), given.get(1));
        assertThat(store.latestAlarmTransitions("shed", AlarmId.SHELL_HIGH, 10)).hasSize(3);
        assertThat(store.latestAlarmTransitions("shed", AlarmId.FLAME_OUT, 10)).isEmpty();
        assertThat(store.latestAlarmTransitions("yard", AlarmId.SHELL_HIGH, 10)).isEmpty();
        assertThat(store.latestAlarmTransitions("shed", AlarmId.SHELL_HIGH, 0)).isEmpty();
    }

    @Test
    void pruningLeavesFiveMinuteRollupsNotesAndWhatLiesOutsideTheRange() throws Exception {
        List<Reading> given = new ArrayList<>();
        for (int i = 0; i < 30_000; i++) {
            given.add(at(i % 2 == 0 ? CHAMBER : GAS, i * 20_000L, i)); // 600 s
        }
        append(given);
        Note note = new Note("shed", T0, Note.REMARK, "stays");
        store.append(new StoreBatch(List.of(), List.of(note), List.of(), List.of(), List.of()));
        List<Rollup> fiveMinutes = store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.FIVE_MINUTES);
        List<Rollup> tenSeconds = store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.TEN_SECONDS);
        WallTime end = T0.plusSeconds(500);

        TimeRange old = new TimeRange(TimeRange.ALL.from(), end);
        long deleted = 0;
        long step = store.prune(old);
        while (step > 0) {
            deleted += step;
            step = store.prune(old);
        }

        assertThat(deleted).isEqualTo(25_000 + 2 * 50);
        assertThat(readings("shed", TimeRange.ALL)).isEqualTo(given.subList(25_000, 30_000));
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.FIVE_MINUTES))
                .isEqualTo(fiveMinutes);
        assertThat(store.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.TEN_SECONDS))
                .isEqualTo(tenSeconds.subList(50, 60));
        assertThat(store.notes("shed", TimeRange.ALL)).containsExactly(note);
    }

    @Test
    void aFitIsKeptWithItsBurnAndReplacedByALaterOne() throws Exception {
        StoredFit first = fit("shed-1", 0, null, "{\"converged\":false}");
        StoredFit later = fit("shed-1", 1_200_000_000L, loss("shed-1", 0, 1.71), "{\"name\":\"Łódź \uD83D\uDD25\"}");
        StoredFit another = fit("shed-2", 0, loss("shed-2", 9_000_000, 1.8), "{}");
        store.append(fits(first));
        assertThat(store.fit("shed-1")).contains(first);
        store.append(fits(another, later));
        store = reopen(store);
        assertThat(store.fit("shed-1")).contains(later);
        assertThat(store.fit("shed-2")).contains(another);
        assertThat(store.fit("shed-3")).isEmpty();
    }

    @Test
    void lossesAreThoseOfTheNewestBurnsThatToldOneOldestFirst() throws Exception {
        List<BurnLoss> expected = new ArrayList<>();
        for (int i = 0; i < 5; i++) {
            expected.add(loss("shed-" + i, i * 86_400_000_000L, 1.7 + 0.01 * i));
        }
        // Burns are fitted in another order than they burned when old records are taken in.
        for (int i : new int[] {3, 0, 4, 1, 2}) {
            store.append(fits(fit("shed-" + i, 0, expected.get(i), "{}")));
        }
        // Two burns of one forge do not begin at one moment.
        store.append(fits(new StoredFit("shed-9", "shed", T0.plusSeconds(9 * 86_400), T0, null, "{}")));
        assertThat(store.losses("shed", 10)).isEqualTo(expected);
        assertThat(store.losses("shed", 2)).isEqualTo(expected.subList(3, 5));
        assertThat(store.losses("yard", 10)).isEmpty();
    }

    @Test
    void fitsOutliveTheReadingsThatTheyCameFrom() throws Exception {
        append(List.of(at(CHAMBER, 0, 900)));
        StoredFit fit = fit("shed-1", 0, loss("shed-1", 0, 1.7), "{}");
        store.append(fits(fit));
        while (store.prune(TimeRange.ALL) > 0) {
            assertThat(store.fit("shed-1")).contains(fit);
        }
        assertThat(readings(CHAMBER, TimeRange.ALL)).isEmpty();
        assertThat(store.fit("shed-1")).contains(fit);
        assertThat(store.losses("shed", 1)).hasSize(1);
    }

    @Test
    void aSinkThatThrowsLeavesTheStoreUsable() throws Exception {
        append(List.of(at(CHAMBER, 0, 1), at(CHAMBER, 1, 2)));
        for (int i = 0; i < 50; i++) {
            assertThat(catchThrowable(() -> store.readings("shed", TimeRange.ALL, reading -> {
                        throw new IllegalStateException("enough");
                    })))
                    .isInstanceOf(IllegalStateException.class);
        }
        assertThat(readings(CHAMBER, TimeRange.ALL)).hasSize(2);
        append(List.of(at(CHAMBER, 2, 3)));
        assertThat(readings(CHAMBER, TimeRange.ALL)).hasSize(3);
    }

    @Test
    void queriesFromOtherThreadsRunBesideTheWriter() throws Exception {
        // A taker that is in the middle of its readings must not keep the writer, nor other queries, from going on.
        append(IntStream.range(0, 3_000).mapToObj(i -> at(CHAMBER, i, i)).toList());
        List<Reading> taken = new ArrayList<>();
        store.readings(CHAMBER, TimeRange.ALL, reading -> {
            if (taken.size() == 1_500) {
                var other = new Thread(() -> {
                    try {
                        append(List.of(at(CHAMBER, 3_000, 3_000)));
                        assertThat(store.latest(CHAMBER)).contains(at(CHAMBER, 3_000, 3_000));
                    } catch (StoreException e) {
                        throw new AssertionError(e);
                    }
                });
                other.start();
                try {
                    other.join(60_000);
                } catch (InterruptedException e) {
                    throw new AssertionError(e);
                }
                assertThat(other.isAlive()).isFalse();
            }
            taken.add(reading);
        });
        assertThat(taken.subList(0, 3_000)).extracting(Reading::value).isSorted();
        assertThat(store.latest(CHAMBER)).contains(at(CHAMBER, 3_000, 3_000));
    }

    protected final ReadingStore store() {
        return store;
    }

    protected final void append(List<Reading> readings) throws StoreException {
        store.append(StoreBatch.ofReadings(readings));
    }

    protected final List<Reading> readings(Channel channel, TimeRange range) throws StoreException {
        List<Reading> found = new ArrayList<>();
        store.readings(channel, range, found::add);
        return found;
    }

    protected final List<Reading> readings(String forge, TimeRange range) throws StoreException {
        List<Reading> found = new ArrayList<>();
        store.readings(forge, range, found::add);
        return found;
    }

    /** A good reading {@code micros} after {@link #T0}. */
    protected static Reading at(Channel channel, long micros, double value) {
        return Reading.good(channel, value, Unit.CELSIUS, T0.plusMicros(micros), T0.plusMicros(micros + 250));
    }

    protected static AlarmTransition transition(long micros, AlarmId alarm, AlarmState state) {
        return new AlarmTransition(
                "shed", T0.plusMicros(micros), alarm, state, Priority.HIGH, 1103.2, "because of " + alarm.code());
    }

    private static StoreBatch transitions(AlarmTransition... transitions) {
        return new StoreBatch(List.of(), List.of(), List.of(), List.of(transitions), List.of());
    }

    private static StoreBatch fits(StoredFit... fits) {
        return new StoreBatch(List.of(), List.of(), List.of(), List.of(), List.of(), List.of(fits));
    }

    private static StoredFit fit(String burnId, long finishedMicros, @Nullable BurnLoss loss, String json) {
        WallTime start = loss == null ? T0 : loss.start();
        return new StoredFit(burnId, "shed", start, T0.plusMicros(finishedMicros), loss, json);
    }

    private static BurnLoss loss(String burnId, long startMicros, double wattsPerK) {
        return new BurnLoss(
                burnId, T0.plusMicros(startMicros), 1_000, new Band(wattsPerK, wattsPerK - 0.04, wattsPerK + 0.05));
    }

    private static StoreBatch burns(Burn... burns) {
        return new StoreBatch(List.of(), List.of(), List.of(), List.of(), List.of(burns));
    }
}
