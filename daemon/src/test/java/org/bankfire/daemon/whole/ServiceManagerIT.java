package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.HangingDaemon;
import org.bankfire.daemon.testbed.NotifySocket;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The daemon as a service manager starts it, with a real datagram socket to speak to. */
final class ServiceManagerIT {
    private static final Duration PATIENCE = Duration.ofMinutes(3);
    /** The daemon is patient at its start, then hangs three times for five seconds. */
    private static final Duration UNTIL_GIVEN_UP = Duration.ofMinutes(4);

    private static final String BEAT = "WATCHDOG=1";

    @TempDir
    Path folder;

    @Test
    void readyBeatsAndStoppingAreToldOnASocketInTheFileSystem() throws Exception {
        String name = folder.resolve("notify").toString();
        try (NotifySocket manager = new NotifySocket(name);
                DaemonProcess daemon = DaemonProcess.startWith(
                        Map.of("NOTIFY_SOCKET", name, "WATCHDOG_USEC", "1000000"),
                        "run",
                        "--config",
                        config("10").toString())) {
            await().atMost(PATIENCE).until(() -> manager.count(BEAT) >= 4);
            assertThat(manager.heard()).first().isEqualTo("READY=1");
            await().atMost(PATIENCE)
                    .until(() -> manager.heard().stream().anyMatch(word -> word.startsWith("STATUS=judging readings")));
            daemon.stop();
            await().atMost(PATIENCE).until(() -> manager.count("STOPPING=1") == 1);
            assertThat(manager.heard()).endsWith("STOPPING=1");
        }
    }

    @Test
    void aLedgerThatHangsIsNotVouchedForAndAtLastTheProcessEndsToBeStartedAfresh() throws Exception {
        String name = "@bankfire-test-" + ProcessHandle.current().pid();
        Path block = folder.resolve("block");
        try (NotifySocket manager = new NotifySocket(name);
                DaemonProcess daemon = DaemonProcess.startMain(
                        Map.of("NOTIFY_SOCKET", name, "WATCHDOG_USEC", "1000000"),
                        HangingDaemon.class,
                        config("200").toString(),
                        block.toString())) {
            await().atMost(PATIENCE).until(() -> manager.count(BEAT) >= 2);
            Files.createFile(block);
            // The start's patience is over after half a minute: until then the same hang goes on.
            await().atMost(UNTIL_GIVEN_UP)
                    .until(() ->
                            daemon.log().stream().anyMatch(line -> line.contains("was replaced, for the 1. time")));
            await().atMost(PATIENCE).until(() -> !hang(manager).isEmpty());
            // Five seconds at least without a word that would have come twice a second; the one of the new thread may
            // come just before the new status.
            assertThat(hang(manager)).filteredOn(BEAT::equals).hasSizeLessThanOrEqualTo(1);
            await().atMost(PATIENCE)
                    .until(() -> daemon.log().stream()
                            .anyMatch(line -> line.contains("    at ") && line.contains("Blocking.append")));
            await().atMost(UNTIL_GIVEN_UP).until(() -> !daemon.isAlive());
            assertThat(daemon.exitCode()).isEqualTo(1);
            assertThat(daemon.log()).anyMatch(line -> line.contains("the process ends, to be started afresh"));
        }
    }

    @Test
    void whereNoServiceManagerAsksNothingOfItIsLoaded() throws Exception {
        try (DaemonProcess daemon = DaemonProcess.startWith(
                Map.of("JAVA_TOOL_OPTIONS", "-Xlog:class+load:file=" + folder.resolve("classes.log")),
                "run",
                "--config",
                config("10").toString())) {
            assertThat(daemon.page()).startsWith("http://");
            await().atMost(PATIENCE)
                    .until(() -> Files.readString(folder.resolve("classes.log")).contains("org.bankfire.daemon"));
            daemon.stop();
            assertThat(Files.readString(folder.resolve("classes.log"))).doesNotContain("com.sun.jna");
        }
    }

    /** What was heard from the first word of a hang to the first that it is over; empty while it is not. */
    private static List<String> hang(NotifySocket manager) {
        List<String> heard = manager.heard();
        int from = IntStream.range(0, heard.size())
                .filter(i -> heard.get(i).startsWith("STATUS=readings are not"))
                .findFirst()
                .orElse(heard.size());
        int to = IntStream.range(from, heard.size())
                .filter(i -> heard.get(i).startsWith("STATUS=judging"))
                .findFirst()
                .orElse(from);
        return heard.subList(from, to);
    }

    private Path config(String speed) throws Exception {
        return ForgeConfigFile.write(folder, """
                kind = "virtual"
                forge = "shed"
                speed = %s
                rate = "5 Hz"
                """.formatted(speed));
    }
}
