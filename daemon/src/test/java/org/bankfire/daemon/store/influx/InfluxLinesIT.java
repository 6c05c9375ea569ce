package org.bankfire.daemon.store.influx;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ChannelRollup;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreNews;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.testbed.InfluxProcess;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** That whatever may stand in a log book comes back from a real server as it was, however much of it there is. */
class InfluxLinesIT {
    /** 2026-03-01T10:00:00Z. */
    private static final WallTime T0 = new WallTime(1_772_359_200_000_000L);

    private static final Channel CHAMBER = new Channel("shed", "chamber");
    private static final Channel GAS = new Channel("shed", "gas");
    private static final Duration FOR_EVER = Duration.ofDays(36_500);
    private static final List<Quality> QUALITIES = List.of(Quality.values());
    private static final int LINES_A_BLOCK = 10_000;

    /** What quoting and escaping trip over. */
    private static final String[] PIECES = {
        "\\",
        "\\\\",
        "\"",
        "'",
        "\n",
        "\r",
        "\t",
        " ",
        ",",
        "=",
        "\\n",
        "\\\"",
        "%5C",
        "%",
        "$forge",
        "--",
        ";",
        "/*",
        "#",
        "Łódź",
        "\uD83D\uDD25",
        "λ₂",
        "\u00a0",
        "\u2028",
        "\u0085",
        "a",
        "7i",
        "u",
        "{}",
        "\u0001"
    };

    @TempDir
    static Path folder;

    private static final AtomicInteger databases = new AtomicInteger();
    private static InfluxProcess process;

    private final LineEncoder encoder = new LineEncoder(() -> 1);
    private InfluxServer server;

    @BeforeAll
    static void startServer() throws Exception {
        // Fewer than any answer here: what is asked for in one piece would be cut off.
        process = new InfluxProcess(folder).withMaxRows(7).start();
    }

    @AfterAll
    static void stopServer() {
        process.close();
    }

    @BeforeEach
    void open() throws Exception {
        server =
                new InfluxServer(new InfluxSettings(process.url(), "lines-" + databases.incrementAndGet(), null, null));
        server.setUp(FOR_EVER);
    }

    @AfterEach
    void close() {
        server.close();
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void anyTextComesBackAndIsFoundByItsName(long seed) throws Exception {
        Random random = new Random(seed);
        List<Note> notes = new ArrayList<>();
        List<Setting> settings = new ArrayList<>();
        Set<String> names = new HashSet<>();
        for (int i = 0; i < 200; i++) {
            String name = text(random, 3);
            names.add(name);
            notes.add(new Note("shed", T0.plusMicros(i), name, text(random, 12)));
            settings.add(new Setting("shed", T0.plusMicros(i), name, text(random, 5), text(random, 2)));
        }
        write(new StoreBatch(List.of(), notes, settings, List.of(), List.of()), List.of());

        assertThat(server.notes("shed", TimeRange.ALL)).isEqualTo(notes);
        assertThat(server.settings("shed", TimeRange.ALL)).isEqualTo(settings);
        for (String name : names) {
            assertThat(server.notes("shed", name, TimeRange.ALL))
                    .isEqualTo(notes.stream()
                            .filter(note -> note.name().equals(name))
                            .toList());
            assertThat(server.latestSetting("shed", name))
                    .isEqualTo(settings.stream()
                            .filter(setting -> setting.name().equals(name))
                            .max(Comparator.comparing(Setting::time)));
        }
    }

    @Test
    void aQuestionThatLooksLikeAnotherStatementIsAQuestion() throws Exception {
        write(StoreBatch.ofReadings(List.of(reading(CHAMBER, 0))), List.of());
        for (String forge : List.of(
                "shed' OR forge = 'shed",
                "x\" OR 1 = 1 --",
                "'; DROP MEASUREMENT reading; --",
                "\\' OR forge =~ /.*/ --",
                "$forge")) {
            List<Reading> found = new ArrayList<>();
            server.readings(forge, TimeRange.ALL, found::add);
            assertThat(found).isEmpty();
            assertThat(server.channels(forge)).isEmpty();
            assertThat(server.notes(forge, forge, TimeRange.ALL)).isEmpty();
            assertThat(server.latestSetting(forge, forge)).isEmpty();
            assertThat(server.burn(forge)).isEmpty();
            assertThat(server.fit(forge)).isEmpty();
        }
        assertThat(server.latest(CHAMBER)).contains(reading(CHAMBER, 0));
    }

    @ParameterizedTest
    @ValueSource(longs = {11, 12})
    void anyDoubleAndAnyMicrosecondComesBackBitByBit(long seed) throws Exception {
        Random random = new Random(seed);
        List<Reading> given = new ArrayList<>();
        List<ChannelRollup> rollups = new ArrayList<>();
        for (int i = 0; i < 3_000; i++) {
            double value = anyFinite(random);
            given.add(new Reading(
                    CHAMBER,
                    value,
                    Unit.CELSIUS,
                    random.nextBoolean() ? Math.abs(anyFinite(random)) : Double.NaN,
                    QUALITIES.get(random.nextInt(QUALITIES.size())),
                    new WallTime(T0.epochMicros() + i * 1_000_003L),
                    new WallTime(random.nextLong())));
            rollups.add(new ChannelRollup(
                    CHAMBER,
                    Rollup.Width.TEN_SECONDS,
                    new Rollup(T0.plusSeconds(i * 10), value, anyFinite(random), anyFinite(random), 1L + i)));
        }
        write(StoreBatch.ofReadings(given), rollups);
        List<Reading> found = new ArrayList<>();
        server.readings("shed", TimeRange.ALL, found::add);
        assertThat(found).isEqualTo(given);
        assertThat(server.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.TEN_SECONDS))
                .isEqualTo(rollups.stream().map(ChannelRollup::rollup).toList());
    }

    @Test
    void theLongestFitComesBackAndLeavesNothingBehindWhenAShorterOneReplacesIt() throws Exception {
        Random random = new Random(5);
        StringBuilder json = new StringBuilder();
        while (json.length() < StoredFit.MAX_JSON_LENGTH - 20) {
            json.append(PIECES[random.nextInt(PIECES.length)]);
        }
        StoredFit longest = new StoredFit("shed-1", "shed", T0, T0.plusSeconds(60), null, json.toString());
        write(fits(longest), List.of());
        assertThat(server.fit("shed-1")).contains(longest);

        StoredFit shorter = new StoredFit("shed-1", "shed", T0, T0.plusSeconds(90), null, "{\"short\":true}");
        write(fits(shorter), List.of());
        assertThat(server.fit("shed-1")).contains(shorter);
    }

    @Test
    void aYearOfFiveMinuteRollupsIsReadPageByPage() throws Exception {
        int buckets = 365 * 24 * 12;
        List<ChannelRollup> year = IntStream.range(0, buckets)
                .mapToObj(i -> new ChannelRollup(
                        CHAMBER,
                        Rollup.Width.FIVE_MINUTES,
                        new Rollup(T0.plusSeconds(i * 300), i, i + 0.25, i + 1, 1_200)))
                .toList();
        for (int i = 0; i < buckets; i += LINES_A_BLOCK) {
            write(StoreBatch.ofReadings(List.of()), year.subList(i, Math.min(buckets, i + LINES_A_BLOCK)));
        }
        assertThat(server.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.FIVE_MINUTES))
                .isEqualTo(year.stream().map(ChannelRollup::rollup).toList());
        assertThat(server.rollups(
                        CHAMBER,
                        new TimeRange(T0.plusSeconds(300), T0.plusSeconds(300 * 30_000)),
                        Rollup.Width.FIVE_MINUTES))
                .hasSize(29_999);
    }

    @Test
    void readingsOfMoreThanAPageComeOnceAndInOrder() throws Exception {
        List<Reading> given = new ArrayList<>();
        // Two channels at the same moments and one that thins out: pages end amid a moment.
        for (int i = 0; i < 25_001; i++) {
            given.add(reading(CHAMBER, i));
            given.add(reading(GAS, i));
            if (i % 7 == 0) {
                given.add(reading(new Channel("shed", "shell"), i));
            }
        }
        for (int i = 0; i < given.size(); i += LINES_A_BLOCK) {
            write(StoreBatch.ofReadings(given.subList(i, Math.min(given.size(), i + LINES_A_BLOCK))), List.of());
        }
        List<Reading> found = new ArrayList<>();
        server.readings("shed", TimeRange.ALL, found::add);
        assertThat(found).isEqualTo(given);
    }

    @Test
    void moreForgesAndChannelsThanAnAnswerHoldsAreListed() throws Exception {
        List<Reading> given = new ArrayList<>();
        for (int i = 10; i < 60; i++) {
            given.add(reading(new Channel("forge-" + i, "chamber"), 0));
            given.add(reading(new Channel("forge-10", "shell-" + i), 0));
        }
        write(StoreBatch.ofReadings(given), List.of());
        assertThat(server.forges())
                .isEqualTo(IntStream.range(10, 60).mapToObj(i -> "forge-" + i).toList());
        assertThat(server.channels("forge-10")).hasSize(51);
    }

    private void write(StoreBatch fresh, List<ChannelRollup> rollups) throws Exception {
        server.write(encoder.encode(new StoreNews(fresh, rollups)));
    }

    private static StoreBatch fits(StoredFit fit) {
        return new StoreBatch(List.of(), List.of(), List.of(), List.of(), List.of(), List.of(fit));
    }

    private static Reading reading(Channel channel, int number) {
        return Reading.good(
                channel, number, Unit.CELSIUS, T0.plusMicros(250_000L * number), T0.plusMicros(250_000L * number + 9));
    }

    private static String text(Random random, int most) {
        StringBuilder text = new StringBuilder();
        for (int i = random.nextInt(most + 1); i > 0; i--) {
            text.append(PIECES[random.nextInt(PIECES.length)]);
        }
        return text.toString();
    }

    private static double anyFinite(Random random) {
        double value = Double.longBitsToDouble(random.nextLong());
        return Double.isFinite(value) ? value : -0.0;
    }
}
