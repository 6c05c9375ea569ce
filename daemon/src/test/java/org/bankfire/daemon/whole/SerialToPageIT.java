package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.TimeoutError;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
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
    private static final Duration PATIENCE = Duration.ofMinutes(3);
    private static final long FRESH_NANOS = Duration.ofSeconds(1).toNanos();
    private static final int FRESH_LOOKS = 10;
    /** A machine that stands still for a moment makes one look stale; a page that is late makes all of them. */
    private static final int MOST_LOOKS = 2 * FRESH_LOOKS - 1;

    /** For the feeder's own words, which come over a pipe and may be later than the page. */
    private static final long WORDS_NANOS = Duration.ofSeconds(1).toNanos();

    private static final Set<AlarmId> BESIDE_THE_RECORD =
            EnumSet.of(AlarmId.NO_DATA, AlarmId.STORE_FAILING, AlarmId.DISK_NEARLY_FULL, AlarmId.CLOCK_STEPPED);

    private static final String NO_DATA = "\"alarm\":\"" + AlarmId.NO_DATA.code() + "\"";
    private static final int MOST_ATTEMPTS = 5;
    private static final double CLICK_MS = 5_000;

    @TempDir
    Path folder;

    @Test
    void pageShowsEachValueWithinASecondAndStoreHasEveryLine() throws Exception {
        try (PtyPair line = new PtyPair(folder);
                DaemonProcess daemon = startDaemon(line);
                PageBrowser browser = new PageBrowser()) {
            Page page = browser.open(daemon.page(), 1280, 800);
            daemon.awaitLog("open at 115200 baud");
            FeederProcess feeder = FeederProcess.start(
                    "--out", line.far().toString(), "--forge", "shed", "--rate", "10", "--crc", "--burning");
            try (feeder) {
                await().pollInSameThread().atMost(PATIENCE).until(() -> shownDegrees(page) != null);
                int fresh = 0;
                for (int look = 0; fresh < FRESH_LOOKS; look++) {
                    assertThat(look)
                            .as("looks, of which %d showed what was sent within the last second", fresh)
                            .isLessThan(MOST_LOOKS);
                    long begin = System.nanoTime();
                    fresh += wasSentSince(feeder, begin - FRESH_NANOS, shownDegrees(page)) ? 1 : 0;
                    page.waitForTimeout(300);
                }
                page.screenshot(new Page.ScreenshotOptions()
                        .setPath(Path.of("target", "screens", "serial-desktop.png"))
                        .setFullPage(true));
                feeder.quit();
                long last = feeder.sentNumbers().get(feeder.sentNumbers().size() - 1);
                await().pollInSameThread().atMost(PATIENCE).until(() -> latestSequence(page) == last);
                daemon.stop();
                assertThat(StoredBook.sequenceNumbers(folder)).isEqualTo(feeder.sentNumbers());
            }
        }
    }

    @Test
    void flamePutOutIsOnPageInStoreAndOnEventsAndReplayTellsTheSame() throws Exception {
        List<String> live = flamePutOut();
        for (int attempt = 1; attempt < MOST_ATTEMPTS && wasSilentAmidIt(live); attempt++) {
            folder = Files.createDirectory(folder.resolve("again"));
            live = flamePutOut();
        }
        assertThat(StoredBook.alarms(folder))
                .filteredOn(transition -> transition.alarm() == AlarmId.FLAME_OUT)
                .extracting(transition -> transition.state())
                .startsWith(AlarmState.UNACKNOWLEDGED, AlarmState.ACKNOWLEDGED);
        assertThat(replayOfTheStore()).isEqualTo(ofTheRecord(live));
    }

    /** A machine that stands still for seconds amid it makes another story: without readings no flame can be judged. */
    private static boolean wasSilentAmidIt(List<String> events) {
        int last = events.size();
        while (last > 0 && events.get(last - 1).contains(NO_DATA)) {
            last--;
        }
        return events.subList(0, last).stream().anyMatch(event -> event.contains(NO_DATA));
    }

    /** What is told on standard output from the burning forge to the acknowledged alarm. */
    private List<String> flamePutOut() throws Exception {
        try (PtyPair line = new PtyPair(folder);
                DaemonProcess daemon = startDaemon(line);
                PageBrowser browser = new PageBrowser()) {
            Page page = browser.open(daemon.page(), 360, 740);
            daemon.awaitLog("open at 115200 baud");
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
                await().pollInSameThread()
                        .atMost(PATIENCE)
                        .until(() -> daemon.output().stream().anyMatch(event -> event.contains("\"state\":\"lit\"")));
                feeder.act("put-out-the-flame");

                Locator notices = page.locator("#notices");
                await().pollInSameThread()
                        .atMost(PATIENCE)
                        .untilAsserted(() -> assertThat(notices.textContent())
                                .containsIgnoringCase("flame out")
                                .containsIgnoringCase("close the gas at the cylinder"));
                page.screenshot(new Page.ScreenshotOptions()
                        .setPath(Path.of("target", "screens", "flame-out-phone.png"))
                        .setFullPage(true));
                await().pollInSameThread()
                        .atMost(PATIENCE)
                        .until(() -> daemon.output().stream()
                                .anyMatch(event ->
                                        event.contains("\"alarm\":\"flame-out\",\"state\":\"unacknowledged\"")));
                await().pollInSameThread().atMost(PATIENCE).until(() -> {
                    acknowledgeFlameOut(page);
                    return daemon.output().stream()
                            .anyMatch(event -> event.contains("\"alarm\":\"flame-out\",\"state\":\"acknowledged\""));
                });
                feeder.quit();
            }
            daemon.stop();
            return daemon.output();
        }
    }

    /** A click on the button of that notice, if it is there just now. */
    private static void acknowledgeFlameOut(Page page) {
        Locator button = page.locator("#notices > *", new Page.LocatorOptions().setHasText("Flame out"))
                .getByText("Acknowledge");
        if (button.count() > 0) {
            try {
                button.first().click(new Locator.ClickOptions().setTimeout(CLICK_MS));
            } catch (TimeoutError gone) {
                return; // the notices were written anew meanwhile
            }
        }
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
            return ofTheRecord(replay.output());
        }
    }

    /**
     * What the readings alone decide. The record ends with its last reading, so what silence raises after it is not in a
     * replay; nor is what the machine was up to meanwhile.
     */
    private static List<String> ofTheRecord(List<String> events) {
        return events.stream()
                .filter(event -> BESIDE_THE_RECORD.stream()
                        .noneMatch(alarm -> event.contains("\"alarm\":\"" + alarm.code() + "\"")))
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

    private static boolean wasSentSince(FeederProcess feeder, long nanos, @Nullable Integer degrees)
            throws InterruptedException {
        long end = System.nanoTime() + WORDS_NANOS;
        while (!feeder.chamberDegreesSince(nanos).contains(degrees)) {
            if (System.nanoTime() - end > 0) {
                return false;
            }
            Thread.sleep(20);
        }
        return true;
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
