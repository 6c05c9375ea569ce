package org.bankfire.daemon.store.influx;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.atomic.AtomicInteger;
import org.assertj.core.api.ThrowableAssert.ThrowingCallable;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ChannelRollup;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.ServerAwayException;
import org.bankfire.daemon.store.ServerRefusedException;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreNews;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.testbed.InfluxProcess;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slf4j.LoggerFactory;

/** What a real server does not take, and what is made of its words. */
class InfluxRefusalsIT {
    private static final Channel CHAMBER = new Channel("shed", "chamber");
    private static final Duration YEAR = Duration.ofDays(365);
    private final WallTime now = new WallTime(Instant.now().getEpochSecond() * 1_000_000);
    private static final String PASSWORD = "tongs-and-$\"'hammer\\7";

    private static final AtomicInteger databases = new AtomicInteger();

    @TempDir
    Path folder;

    private final String database = "book " + databases.incrementAndGet();
    private final LineEncoder encoder = new LineEncoder(() -> 1);
    private final List<InfluxServer> opened = new ArrayList<>();
    private @Nullable InfluxProcess process;

    @AfterEach
    void stop() {
        opened.forEach(InfluxServer::close);
        if (process != null) {
            process.close();
        }
    }

    @Test
    void aPointOfAnotherTypeIsLeftOutAloneAndNamed() throws Exception {
        InfluxProcess running = started(new InfluxProcess(folder));
        InfluxServer server = open(running);
        server.setUp(YEAR);
        assertThat(running.write(database, "note,forge=shed,name=note text=7i " + now.epochMicros()))
                .isEmpty();
        List<String> block = new ArrayList<>(lines(readings(999, now)));
        String conflicting = lines(notes(List.of(new Note("shed", now, Note.STOCK, "bar in"))))
                .get(0);
        block.add(500, conflicting);

        ServerRefusedException refused = catchThrowableOfType(ServerRefusedException.class, () -> server.write(block));
        assertThat(refused)
                .hasMessageContaining("field type conflict")
                .hasMessageContaining("input field \"text\" on measurement \"note\"")
                .hasMessageContaining(database);
        assertThat(refused.isTooLarge()).isFalse();
        assertThat(readings(server)).isEqualTo(readings(999, now));

        // Sent apart, what was not taken shows.
        assertThat(catchThrowableOfType(ServerRefusedException.class, () -> server.write(List.of(conflicting))))
                .isNotNull();
        block.remove(conflicting);
        server.write(block);
        assertThat(readings(server)).hasSize(999);
        assertThat(server.needsSetUp()).isFalse();
    }

    @Test
    void aLineThatIsNoneIsRefusedWithTheRestTaken() throws Exception {
        InfluxServer server = open(started(new InfluxProcess(folder)));
        server.setUp(YEAR);
        List<String> block = new ArrayList<>(lines(readings(20, now)));
        block.add(7, "reading,forge=shed,channel=chamber value=ten 1");
        ServerRefusedException refused = catchThrowableOfType(ServerRefusedException.class, () -> server.write(block));
        assertThat(refused).hasMessageContaining("unable to parse").hasMessageContaining("value=ten");
        assertThat(readings(server)).hasSize(20);

        // However much of it there is, the message stays readable.
        List<String> garbage = Collections.nCopies(200, "reading,forge=shed,channel=chamber value=ten 1");
        assertThat(catchThrowableOfType(ServerRefusedException.class, () -> server.write(garbage))
                        .getMessage())
                .hasSizeLessThan(1_000);
    }

    @Test
    void whatIsOlderThanReadingsAreKeptIsCountedAndEverythingElseIsTaken() throws Exception {
        InfluxProcess running = started(new InfluxProcess(folder));
        InfluxServer server = open(running);
        server.setUp(Duration.ofHours(24));
        WallTime old = now.plusSeconds(-40 * 86_400L);
        List<Reading> given = new ArrayList<>(readings(3, old));
        given.addAll(readings(2, now));
        WallTime bucket = Rollup.Width.FIVE_MINUTES.bucketOf(old);
        ChannelRollup kept =
                new ChannelRollup(CHAMBER, Rollup.Width.FIVE_MINUTES, new Rollup(bucket, 900, 901, 902, 3));
        server.write(encoder.encode(new StoreNews(StoreBatch.ofReadings(given), List.of(kept))));

        assertThat(server.beyondRetention()).isEqualTo(3);
        assertThat(readings(server)).isEqualTo(readings(2, now));
        assertThat(server.rollups(CHAMBER, TimeRange.ALL, Rollup.Width.FIVE_MINUTES))
                .containsExactly(kept.rollup());
    }

    @Test
    void theKeepTimeCanBeShortenedAndLengthened() throws Exception {
        InfluxProcess running = started(new InfluxProcess(folder));
        InfluxServer server = open(running);
        for (int days : new int[] {400, 1, 30, 4_000}) {
            server.setUp(Duration.ofDays(days));
            assertThat(running.run(database, "SHOW RETENTION POLICIES ON \"" + database + "\""))
                    .contains("\"" + LineEncoder.READINGS_POLICY + "\",\"" + 24 * days + "h0m0s\"");
        }
    }

    @Test
    void whatAGatewayBeforeTheServerRefusesIsToldByItsStatus() throws Exception {
        InfluxProcess running = started(new InfluxProcess(folder));
        try (SmallGateway gateway = new SmallGateway(running.url(), 20_000)) {
            InfluxServer server = new InfluxServer(new InfluxSettings(gateway.url(), database, null, null));
            opened.add(server);
            server.setUp(YEAR);
            List<Note> notes = noisyNotes();
            List<String> block = lines(notes(notes));
            ServerRefusedException refused =
                    catchThrowableOfType(ServerRefusedException.class, () -> server.write(block));
            assertThat(refused.isTooLarge()).isTrue();
            assertThat(server.notes("shed", TimeRange.ALL)).isEmpty();
            for (String line : block) {
                server.write(List.of(line));
            }
            assertThat(server.notes("shed", TimeRange.ALL)).isEqualTo(notes);

            try (SmallGateway lost = new SmallGateway(URI.create("http://127.0.0.1:1"), 20_000)) {
                InfluxServer behind = new InfluxServer(new InfluxSettings(lost.url(), database, null, null));
                opened.add(behind);
                assertThat(catchThrowableOfType(ServerAwayException.class, () -> behind.write(block.subList(0, 1))))
                        .hasMessageContaining("502");
                assertThat(catchThrowableOfType(ServerAwayException.class, behind::forges))
                        .hasMessageContaining("502");
            }
        }
    }

    /** Some 70 kB of text that hardly shrinks on its way. */
    private List<Note> noisyNotes() {
        byte[] noise = new byte[2_500];
        Random random = new Random(3);
        List<Note> notes = new ArrayList<>();
        for (int i = 0; i < 20; i++) {
            random.nextBytes(noise);
            notes.add(new Note(
                    "shed", now.plusMicros(i), Note.REMARK, Base64.getEncoder().encodeToString(noise)));
        }
        return notes;
    }

    @Test
    void aDatabaseOrPolicyThatIsGoneIsMadeAnew() throws Exception {
        InfluxProcess running = started(new InfluxProcess(folder));
        InfluxServer server = open(running);
        assertThat(server.needsSetUp()).isTrue();
        server.setUp(YEAR);
        for (String drop : List.of(
                "DROP DATABASE \"" + database + "\"",
                "DROP RETENTION POLICY \"" + LineEncoder.READINGS_POLICY + "\" ON \"" + database + "\"")) {
            assertThat(server.needsSetUp()).isFalse();
            running.run(database, drop);
            List<String> block = lines(readings(5, now));
            assertThat(catchThrowableOfType(ServerAwayException.class, () -> server.write(block)))
                    .hasMessageContaining("not found");
            assertThat(server.needsSetUp()).isTrue();
            server.setUp(YEAR);
            server.write(block);
            assertThat(readings(server)).hasSize(5);
        }
    }

    @Test
    void aServerThatIsAwayIsToldFromOneThatRefuses() throws Exception {
        InfluxProcess running = started(new InfluxProcess(folder));
        InfluxServer server = open(running);
        server.setUp(YEAR);
        List<String> block = lines(readings(5, now));
        running.kill();
        assertThat(catchThrowableOfType(ServerAwayException.class, () -> server.write(block)))
                .hasMessageContaining("does not answer")
                .hasMessageContaining("127.0.0.1:" + running.port());
        assertThat(catchThrowableOfType(ServerAwayException.class, () -> server.latest(CHAMBER)))
                .isNotNull();
        assertThat(catchThrowableOfType(ServerAwayException.class, () -> server.setUp(YEAR)))
                .isNotNull();
        running.start();
        server.write(block);
        assertThat(readings(server)).hasSize(5);

        running.suspend();
        try (ServerConnection hasty = new ServerConnection(settings(running), Duration.ofMillis(300))) {
            assertThat(catchThrowableOfType(ServerAwayException.class, () -> hasty.write("", block)))
                    .hasMessageContaining("time-out");
            assertThat(catchThrowableOfType(
                            ServerAwayException.class, () -> hasty.query("SELECT * FROM note", Map.of())))
                    .hasMessageContaining("time-out");
        } finally {
            running.resume();
        }
        assertThat(readings(server)).hasSize(5);
    }

    /** As a daemon that ends amid the set-up does it: what it could not ask must not count as what it may not. */
    @Test
    void aSetUpThatIsCutOffLeavesReadingsUnderTheirOwnPolicy() throws Exception {
        InfluxProcess running = started(new InfluxProcess(folder));
        InfluxServer server = open(running);
        server.setUp(YEAR);
        server.write(lines(readings(5, now)));

        InfluxServer again = open(running);
        Thread.currentThread().interrupt();
        ServerAwayException cutOff = catchThrowableOfType(ServerAwayException.class, () -> again.setUp(YEAR));
        assertThat(Thread.interrupted()).as("told on").isTrue();
        assertThat(cutOff).hasMessageContaining("stopped while waiting");
        assertThat(again.needsSetUp()).isTrue();
        again.setUp(YEAR);
        assertThat(readings(again)).hasSize(5);
    }

    @Test
    void aUserComesInWithThePasswordOfAFileAndNothingTellsIt() throws Exception {
        InfluxProcess running = started(new InfluxProcess(folder).withUsers());
        running.run("", "CREATE USER keeper WITH PASSWORD '" + escaped(PASSWORD) + "' WITH ALL PRIVILEGES");
        Logger root = (Logger) LoggerFactory.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
        ListAppender<ILoggingEvent> seen = new ListAppender<>();
        Level level = root.getLevel();
        seen.start();
        root.addAppender(seen);
        root.setLevel(Level.TRACE);
        StringWriter told = new StringWriter();
        try {
            InfluxServer server = open(running, "keeper", PASSWORD + "\n");
            server.setUp(YEAR);
            server.write(lines(readings(5, now)));
            assertThat(readings(server)).hasSize(5);
            told.append(server.name())
                    .append(settings(running, "keeper", PASSWORD).toString());

            InfluxServer wrong = open(running, "keeper", "anvil-" + PASSWORD);
            for (var call : List.<ThrowingCallable>of(
                    () -> wrong.write(lines(readings(5, now))), () -> wrong.latest(CHAMBER), () -> wrong.forges())) {
                ServerAwayException away = catchThrowableOfType(ServerAwayException.class, call);
                assertThat(away).hasMessageContaining("does not let user keeper in");
                away.printStackTrace(new PrintWriter(told));
            }
            InfluxServer nobody = new InfluxServer(settings(running));
            opened.add(nobody);
            assertThat(catchThrowableOfType(ServerAwayException.class, () -> nobody.latest(CHAMBER)))
                    .hasMessageContaining("without a user");
        } finally {
            root.setLevel(level);
            root.detachAppender(seen);
        }
        synchronized (seen) { // another thread may still be amid its last word
            seen.list.forEach(event -> told.append(event.getFormattedMessage()));
        }
        assertThat(told.toString())
                .contains("keeper")
                .doesNotContain(PASSWORD)
                .doesNotContain(base64("keeper:" + PASSWORD))
                .doesNotContain(base64("keeper:anvil-" + PASSWORD));
    }

    @Test
    void aUserWhoMayNotMakeAnythingStillWritesAndReads() throws Exception {
        InfluxProcess running = started(new InfluxProcess(folder).withUsers());
        running.run("", "CREATE USER smith WITH PASSWORD 'anvil' WITH ALL PRIVILEGES");
        for (String statement : List.of(
                "CREATE DATABASE \"" + database + "\"",
                "CREATE USER keeper WITH PASSWORD '" + escaped(PASSWORD) + "'",
                "GRANT ALL ON \"" + database + "\" TO keeper")) {
            assertThat(running.runAs("smith", "anvil", database, statement)).doesNotContain("error");
        }
        InfluxServer server = open(running, "keeper", PASSWORD);
        server.setUp(YEAR);
        assertThat(server.needsSetUp()).isFalse();
        server.write(lines(readings(5, now)));
        assertThat(readings(server)).isEqualTo(readings(5, now));
        assertThat(server.latest(CHAMBER)).contains(readings(5, now).get(4));
        assertThat(server.prune(TimeRange.ALL)).isEqualTo(5);
        assertThat(readings(server)).isEmpty();
    }

    @Test
    void aPasswordFileThatIsMissingOrEmptyIsNamed() throws Exception {
        InfluxSettings missing =
                new InfluxSettings(URI.create("http://127.0.0.1:1"), database, "keeper", folder.resolve("nowhere"));
        assertThat(catchThrowableOfType(StoreException.class, () -> new InfluxServer(missing)))
                .hasMessageContaining(folder.resolve("nowhere").toString());
        Path empty = Files.writeString(folder.resolve("empty"), "\nsecond line");
        InfluxSettings blank = new InfluxSettings(URI.create("http://127.0.0.1:1"), database, "keeper", empty);
        assertThat(catchThrowableOfType(StoreException.class, () -> new InfluxServer(blank)))
                .hasMessageContaining(empty.toString())
                .hasMessageContaining("first line is empty");
    }

    private InfluxProcess started(InfluxProcess given) throws Exception {
        process = given;
        return given.start();
    }

    private InfluxServer open(InfluxProcess running) throws Exception {
        InfluxServer server = new InfluxServer(settings(running));
        opened.add(server);
        return server;
    }

    private InfluxServer open(InfluxProcess running, String user, String password) throws Exception {
        InfluxServer server = new InfluxServer(settings(running, user, password));
        opened.add(server);
        return server;
    }

    private InfluxSettings settings(InfluxProcess running) {
        return new InfluxSettings(running.url(), database, null, null);
    }

    private InfluxSettings settings(InfluxProcess running, String user, String password) throws Exception {
        Path file = Files.writeString(Files.createTempFile(folder, "password", ""), password);
        return new InfluxSettings(running.url(), database, user, file);
    }

    private List<String> lines(List<Reading> readings) {
        return lines(StoreBatch.ofReadings(readings));
    }

    private List<String> lines(StoreBatch batch) {
        return new String(encoder.encode(new StoreNews(batch, List.of())), StandardCharsets.UTF_8)
                .lines()
                .toList();
    }

    private static StoreBatch notes(List<Note> notes) {
        return new StoreBatch(List.of(), notes, List.of(), List.of(), List.of());
    }

    private static List<Reading> readings(int count, WallTime from) {
        List<Reading> readings = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            readings.add(Reading.good(CHAMBER, 900 + i, Unit.CELSIUS, from.plusMicros(i), from.plusMicros(i + 9)));
        }
        return readings;
    }

    private static List<Reading> readings(InfluxServer server) throws StoreException {
        List<Reading> found = new ArrayList<>();
        server.readings(CHAMBER, TimeRange.ALL, found::add);
        return found;
    }

    private static String escaped(String password) {
        return password.replace("\\", "\\\\").replace("'", "\\'");
    }

    private static String base64(String text) {
        return Base64.getEncoder().encodeToString(text.getBytes(StandardCharsets.UTF_8));
    }
}
