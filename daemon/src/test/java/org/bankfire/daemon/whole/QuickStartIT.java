package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.PtyPair;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The script that starts the jar with few resources and with the classes of an earlier run. */
final class QuickStartIT {
    private static final Duration PATIENCE = Duration.ofMinutes(3);
    private static final Path SCRIPT = Path.of(System.getProperty("bankfire.fixtures"), "examples", "bankfire.sh");
    /** Twelve of the dashboard's at most; the others are there from the start. */
    private static final int MOST_THREADS = 48;

    @TempDir
    Path folder;

    private Path cache = Path.of("");
    private Path config = Path.of("");
    private long sent;

    @BeforeEach
    void configure() throws IOException {
        cache = folder.resolve("cache");
        config = ForgeConfigFile.write(folder, """
                kind = "serial"
                port = "%s"
                """.formatted(folder.resolve("device")));
    }

    @Test
    void secondRunTakesClassesFromTheFirstAndStoresAsItDid() throws Exception {
        runOnce(false);
        assertThat(kept(".new")).hasSize(1);
        runOnce(true);
        assertThat(kept(".jsa")).hasSize(1);
        assertThat(kept(".new")).isEmpty();
        assertThat(StoredBook.sequenceNumbers(folder)).containsExactly(1L, 2L);
    }

    @Test
    void damagedClassesDoNotKeepItFromStarting() throws Exception {
        runOnce(false);
        Path written = kept(".new").get(0);
        cut(written);
        runOnce(false);
        assertThat(kept(".new")).as("written anew").hasSize(1);
        runOnce(true);
        Path used = kept(".jsa").get(0);
        assertThat(used.toFile().setWritable(true)).isTrue();
        overwriteTheMiddle(used);
        runOnce(false);
        cut(used);
        runOnce(false);
        assertThat(StoredBook.sequenceNumbers(folder)).containsExactly(1L, 2L, 3L, 4L, 5L);
    }

    @Test
    void otherCommandsAreTheJars() throws Exception {
        try (DaemonProcess check = DaemonProcess.startScript(environment(), SCRIPT, "check", "--confg", "x")) {
            await().atMost(PATIENCE).until(() -> !check.isAlive());
            assertThat(check.exitCode()).isEqualTo(2);
        }
        assertThat(cache).doesNotExist();
    }

    /** A run that stores one line and is asked to end. */
    private void runOnce(boolean quick) throws Exception {
        try (PtyPair line = new PtyPair(folder);
                DaemonProcess daemon =
                        DaemonProcess.startScript(environment(), SCRIPT, "run", "--config", config.toString())) {
            assertThat(daemon.page()).startsWith("http://127.0.0.1:");
            daemon.awaitLog("open at 115200 baud");
            sent++;
            line.send("[{\"bn\":\"shed:\",\"n\":\"chamber\",\"u\":\"Cel\",\"v\":21.5},{\"n\":\"seq\",\"v\":" + sent
                    + "}]\n");
            await().atMost(PATIENCE).until(() -> pageHas(daemon, sent));
            Path process = Path.of("/proc", Long.toString(daemon.pid()));
            assertThat(mapsKeptClasses(process)).isEqualTo(quick);
            try (Stream<Path> threads = Files.list(process.resolve("task"))) {
                assertThat(threads).hasSizeLessThanOrEqualTo(MOST_THREADS);
            }
            daemon.stop();
        }
    }

    private static boolean pageHas(DaemonProcess daemon, long number) throws IOException {
        try (var answer =
                URI.create(daemon.page() + "api/v1/forges/shed/now").toURL().openStream()) {
            String now = new String(answer.readAllBytes(), StandardCharsets.UTF_8);
            return now.matches("(?s).*\"channel\":\"seq\"[^}]*\"value\":" + number + "\\b.*");
        }
    }

    private boolean mapsKeptClasses(Path process) throws IOException {
        return Files.readString(process.resolve("maps")).contains(cache.toString());
    }

    private Map<String, String> environment() {
        return Map.of("CACHE_DIRECTORY", cache.toString(), "JAVA_HOME", System.getProperty("java.home"));
    }

    private List<Path> kept(String ending) throws IOException {
        try (Stream<Path> files = Files.list(cache)) {
            return files.filter(file -> file.toString().endsWith(ending)).toList();
        }
    }

    private static void cut(Path file) throws IOException {
        assertThat(file.toFile().setWritable(true)).isTrue();
        try (RandomAccessFile open = new RandomAccessFile(file.toFile(), "rw")) {
            open.setLength(open.length() / 3);
        }
    }

    private static void overwriteTheMiddle(Path file) throws IOException {
        try (RandomAccessFile open = new RandomAccessFile(file.toFile(), "rw")) {
            open.seek(open.length() / 2);
            open.write(new byte[4096]);
        }
    }
}
