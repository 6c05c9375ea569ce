package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.FeederProcess;
import org.bankfire.daemon.testbed.PageBrowser;
import org.bankfire.daemon.testbed.PtyPair;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A process writes lines to a pty at 10 Hz; the daemon reads the other end. */
final class SerialToPageIT {
    private static final Duration PATIENCE = Duration.ofSeconds(60);
    private static final long FRESH_NANOS = Duration.ofSeconds(1).toNanos();
    private static final int LOOKS = 10;

    @TempDir
    Path folder;

    @Test
    void pageShowsEachValueWithinASecondAndStoreHasEveryLine() throws Exception {
        try (PtyPair line = new PtyPair(folder);
                DaemonProcess daemon = startDaemon(line);
                PageBrowser browser = new PageBrowser()) {
            Page page = browser.open(daemon.page(), 1280, 800);
            FeederProcess feeder = FeederProcess.start(
                    "--out", line.far().toString(), "--forge", "shed", "--rate", "10", "--crc", "--burning");
            try (feeder) {
                await().atMost(PATIENCE).until(() -> shownDegrees(page) != null);
                for (int look = 0; look < LOOKS; look++) {
                    Integer shown = shownDegrees(page);
                    long now = System.nanoTime();
                    assertThat(feeder.chamberDegreesSince(now - FRESH_NANOS))
                            .as("whole degrees sent within the last second, at look %d", look)
                            .contains(shown);
                    page.waitForTimeout(300);
                }
                page.screenshot(new Page.ScreenshotOptions()
                        .setPath(Path.of("target", "screens", "serial-desktop.png"))
                        .setFullPage(true));
                feeder.quit();
                long last = feeder.sentNumbers().get(feeder.sentNumbers().size() - 1);
                await().atMost(PATIENCE).until(() -> latestSequence(page) == last);
                daemon.stop();
                assertThat(StoredBook.sequenceNumbers(folder)).isEqualTo(feeder.sentNumbers());
            }
        }
    }

    @Test
    void flamePutOutIsOnPageInStoreAndOnEventsAndReplayTellsTheSame() throws Exception {
        List<String> live;
        try (PtyPair line = new PtyPair(folder);
                DaemonProcess daemon = startDaemon(line);
                PageBrowser browser = new PageBrowser()) {
            Page page = browser.open(daemon.page(), 360, 740);
            FeederProcess feeder = FeederProcess.start(
                    "--out",
                    line.far().toString(),
                    "--forge",
                    "shed",
                    "--rate",
                    "10",
                    "--burning",
                    "--start-at",
                    "1050");
            try (feeder) {
                await().atMost(PATIENCE)
                        .until(() -> daemon.output().stream().anyMatch(event -> event.contains("\"state\":\"lit\"")));
                feeder.act("put-out-the-flame");

                Locator notices = page.locator("#notices");
                await().atMost(PATIENCE)
                        .untilAsserted(() -> assertThat(notices.textContent())
                                .containsIgnoringCase("flame out")
                                .containsIgnoringCase("close the gas at the cylinder"));
                page.screenshot(new Page.ScreenshotOptions()
                        .setPath(Path.of("target", "screens", "flame-out-phone.png"))
                        .setFullPage(true));
                assertThat(daemon.output())
                        .anyMatch(event -> event.contains("\"alarm\":\"flame-out\",\"state\":\"unacknowledged\""));
                notices.getByText("Acknowledge").first().click();
                await().atMost(PATIENCE)
                        .until(() -> daemon.output().stream()
                                .anyMatch(
                                        event -> event.contains("\"alarm\":\"flame-out\",\"state\":\"acknowledged\"")));
                feeder.quit();
            }
            daemon.stop();
            live = daemon.output();
        }
        assertThat(StoredBook.alarms(folder))
                .filteredOn(transition -> transition.alarm() == AlarmId.FLAME_OUT)
                .extracting(transition -> transition.state())
                .startsWith(AlarmState.UNACKNOWLEDGED, AlarmState.ACKNOWLEDGED);
        assertThat(replayOfTheStore()).isEqualTo(upToLastReading(live));
    }

    /** The record out of the store and through {@code replay}. */
    private List<String> replayOfTheStore() throws Exception {
        String config = folder.resolve("bankfire.toml").toString();
        Path record = folder.resolve("record.ndjson");
        try (DaemonProcess export = DaemonProcess.runToEnd(
                "export",
                "--from",
                "2020-01-01T00:00:00Z",
                "--to",
                "2100-01-01T00:00:00Z",
                "--format",
                "senml",
                "--config",
                config)) {
            assertThat(export.exitCode()).as(String.join("\n", export.log())).isZero();
            Files.write(record, export.output());
        }
        try (DaemonProcess replay = DaemonProcess.runToEnd("replay", record.toString(), "--config", config)) {
            assertThat(replay.exitCode()).as(String.join("\n", replay.log())).isZero();
            return replay.output();
        }
    }

    /** The record ends with its last reading; what silence raised after it is not in a replay. */
    private static List<String> upToLastReading(List<String> events) {
        return events.stream()
                .filter(event -> !event.contains("\"alarm\":\"no-data\""))
                .toList();
    }

    private DaemonProcess startDaemon(PtyPair line) throws Exception {
        Path config = ForgeConfigFile.write(folder, """
                kind = "serial"
                port = "%s"
                baud = 115200
                """.formatted(line.device()));
        return DaemonProcess.start("run", "--config", config.toString());
    }

    private static @Nullable Integer shownDegrees(Page page) {
        String digits = page.locator("#temperature").textContent().replaceAll("[^0-9]", "");
        return digits.isEmpty() ? null : Integer.valueOf(digits);
    }

    private static long latestSequence(Page page) {
        Object sequence =
                page.evaluate("async () => { const now = await (await fetch('/api/v1/forges/shed/now')).json();"
                        + " const seq = (now.latest ?? []).find(r => r.channel === 'seq' || r.name === 'seq');"
                        + " return seq ? seq.value : -1; }");
        return ((Number) sequence).longValue();
    }
}
