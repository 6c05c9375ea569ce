package org.bankfire.daemon.store.spool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.ServerLag;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.influx.InfluxServer;
import org.bankfire.daemon.store.influx.InfluxSettings;
import org.bankfire.daemon.store.influx.LineEncoder;
import org.bankfire.daemon.testbed.InfluxProcess;
import org.bankfire.daemon.testbed.SlowLink;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A real server that is away, is killed, is slow, refuses: everything gets there, and once. */
class ServerOutageIT {
    private static final WallTime T0 = new WallTime(1_772_359_200_000_000L);
    private static final List<Channel> CHANNELS = List.of(
            new Channel("shed", "chamber"),
            new Channel("shed", "gas"),
            new Channel("shed", "shell"),
            new Channel("shed", "ambient"));
    private static final long TENTH_US = 100_000;
    private static final int SECONDS_AN_HOUR = 3_600;
    private static final Duration SOON = Duration.ofMinutes(3);
    private static final long ROOMY = 1L << 30;

    @TempDir
    Path folder;

    private final Random random = new Random(20260301);
    private InfluxProcess influx;
    private SpooledStore store;

    @BeforeEach
    void begin() throws Exception {
        influx = new InfluxProcess(Files.createDirectory(folder.resolve("influx")));
        store = opened(influx.url(), ROOMY);
    }

    @AfterEach
    void end() throws Exception {
        store.close();
        influx.close();
    }

    @Test
    void anHourAtFullRateWithoutTheServerIsThereOnceAfterwards() throws Exception {
        List<Reading> hour = seconds(0, SECONDS_AN_HOUR);
        assertThat(hour).hasSize(144_000);
        appendBySecond(hour);
        await().atMost(SOON).until(() -> !lag().reachable());
        assertThat(lag().rows()).isEqualTo(144_000);
        System.out.println("an hour of 4 channels with 10 readings a second waits in " + lag().bytes() + " bytes");

        influx.start();
        long began = System.nanoTime();
        caughtUp();
        System.out.println("and is taken within "
                + Duration.ofNanos(System.nanoTime() - began).toMillis() + " ms");
        allIsThere(hour);
    }

    @Test
    void killedServersAndRestartsOfTheForwarderLoseAndDoubleNothing() throws Exception {
        influx.start();
        List<Reading> all = seconds(0, 1_200);
        for (int part = 0; part < 6; part++) {
            appendBySecond(all.subList(part * 8_000, (part + 1) * 8_000));
            if (part % 2 == 0) {
                influx.kill();
                store.close();
                store = opened(influx.url(), ROOMY);
            } else {
                influx.start();
                store.close(); // most likely amid a post
                store = opened(influx.url(), ROOMY);
            }
        }
        caughtUp();
        allIsThere(all);
    }

    @Test
    void aServerThatHangsAmidPostsGetsTheRestWhenItGoesOn() throws Exception {
        influx.start();
        List<Reading> all = seconds(0, 300);
        appendBySecond(all.subList(0, 4_000));
        influx.suspend();
        appendBySecond(all.subList(4_000, 12_000));
        assertThat(lag().rows()).isPositive();
        influx.resume();
        caughtUp();
        allIsThere(all);
    }

    @Test
    void whatASlowServerCannotTakeYetWaitsOnTheDiskAndAnAppendDoesNotWaitForIt() throws Exception {
        influx.start();
        store.close();
        try (SlowLink slow = new SlowLink(influx.port(), 60_000)) {
            store = opened(URI.create("http://127.0.0.1:" + slow.port()), ROOMY);
            List<Reading> all = seconds(0, 600);
            appendBySecond(all.subList(0, 16_000));
            // However long the appends take, this cannot have gone while they went on; nor can a post be given up so
            // soon.
            slow.hold();
            for (int from = 16_000; from < all.size(); from += 400) {
                store.append(StoreBatch.ofReadings(all.subList(from, from + 400)));
            }
            assertThat(lag().rows()).as("behind, but not lost").isPositive();
            assertThat(lag().reachable()).isTrue();
            slow.letGo();
            caughtUp();
            allIsThere(all);
            store.close();
        }
        store = opened(influx.url(), ROOMY);
    }

    @Test
    void ofAPostThatIsTakenInPartTheRestGoesOnAndWhatIsRefusedIsKept() throws Exception {
        influx.start();
        influx.run("", "CREATE DATABASE \"forges\"");
        influx.run("forges", "CREATE RETENTION POLICY \"readings\" ON \"forges\" DURATION 876000h REPLICATION 1");
        // Another program has written a text where a number belongs, in the same stretch of the server's store.
        String taken = influx.writeTo(
                "forges", "readings", "reading,forge=loft,channel=gas value=\"high\" " + T0.epochMicros());
        assertThat(taken).isEmpty();
        List<Reading> all = seconds(0, 60);
        Note note = new Note("shed", T0, Note.REMARK, "two\nlines");
        store.append(new StoreBatch(all, List.of(note), List.of(), List.of(), List.of()));
        caughtUp();
        assertThat(lag().refused()).isEqualTo(all.size());
        assertThat(lag().lastRefusal()).contains("field type conflict");
        try (InfluxServer server = server()) {
            assertThat(server.notes("shed", TimeRange.ALL)).containsExactly(note);
            assertThat(server.rollups(CHANNELS.get(0), TimeRange.ALL, Rollup.Width.TEN_SECONDS))
                    .hasSize(6);
        }
    }

    @Test
    void beyondTheLimitTheOldestReadingsComeLastAndFromTheFile() throws Exception {
        store.close();
        store = opened(influx.url(), 1_000_000);
        Note note = new Note("shed", T0, Note.REMARK, "before it all");
        store.append(new StoreBatch(List.of(), List.of(note), List.of(), List.of(), List.of()));
        List<Reading> all = seconds(0, SECONDS_AN_HOUR);
        for (int from = 0; from < all.size(); from += 400) {
            store.append(StoreBatch.ofReadings(all.subList(from, from + 400)));
        }
        assertThat(lag().bytes()).isLessThanOrEqualTo(1_000_000);
        assertThat(lag().dropped()).isBetween(1L, 143_999L);
        assertThat(lag().rows()).isEqualTo(144_001);
        influx.start();
        caughtUp();
        try (InfluxServer server = server()) {
            assertThat(server.notes("shed", TimeRange.ALL)).containsExactly(note);
        }
        allIsThere(all);
    }

    private void allIsThere(List<Reading> expected) throws StoreException {
        try (InfluxServer server = server()) {
            List<Reading> there = new ArrayList<>();
            server.readings("shed", TimeRange.ALL, there::add);
            assertThat(there).hasSameSizeAs(expected);
            assertThat(there).containsExactlyInAnyOrderElementsOf(expected);
            for (Channel channel : CHANNELS) {
                for (Rollup.Width width : Rollup.Width.values()) {
                    List<Rollup> kept = new ArrayList<>();
                    store.rollups(channel, TimeRange.ALL, width).forEach(kept::add);
                    long first = expected.get(0).sourceTime().epochMicros();
                    kept.removeIf(rollup -> rollup.start().epochMicros() < first);
                    assertThat(server.rollups(channel, new TimeRange(new WallTime(first), TimeRange.ALL.to()), width))
                            .isEqualTo(kept);
                }
            }
        }
    }

    /** In batches as a writer makes them: what came within a second, four times as much now and then. */
    private void appendBySecond(List<Reading> readings) throws StoreException {
        int from = 0;
        while (from < readings.size()) {
            int to = Math.min(readings.size(), from + (random.nextInt(10) == 0 ? 160 : 40));
            store.append(StoreBatch.ofReadings(readings.subList(from, to)));
            from = to;
        }
    }

    private List<Reading> seconds(int from, int to) {
        List<Reading> readings = new ArrayList<>((to - from) * 40);
        for (long tenth = from * 10L; tenth < to * 10L; tenth++) {
            WallTime time = T0.plusMicros(tenth * TENTH_US);
            for (Channel channel : CHANNELS) {
                double value = Math.round(random.nextGaussian() * 1e4) / 16.0;
                readings.add(Reading.good(channel, value, Unit.CELSIUS, time, time.plusMicros(random.nextInt(50_000))));
            }
        }
        return readings;
    }

    private SpooledStore opened(URI url, long limitBytes) throws StoreException {
        return SpooledStore.open(
                folder.resolve("book.db"),
                new InfluxServer(new InfluxSettings(url, "forges", null, null)),
                new LineEncoder(() -> WallTime.of(Instant.now()).epochMicros()),
                new SpooledStore.Bounds(Duration.ofDays(36_500), Duration.ofDays(7), limitBytes),
                List.of(),
                () -> T0.plusSeconds(-600));
    }

    private InfluxServer server() throws StoreException {
        InfluxServer server = new InfluxServer(new InfluxSettings(influx.url(), "forges", null, null));
        server.setUp(Duration.ofDays(36_500));
        return server;
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
}
