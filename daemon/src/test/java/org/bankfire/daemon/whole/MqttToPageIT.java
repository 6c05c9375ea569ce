package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.microsoft.playwright.Page;
import java.nio.file.Path;
import java.time.Duration;
import java.util.TreeSet;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.FeederProcess;
import org.bankfire.daemon.testbed.MosquittoProcess;
import org.bankfire.daemon.testbed.PageBrowser;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A process publishes at 10 Hz through a real broker that is killed in the middle. */
final class MqttToPageIT {
    private static final Duration PATIENCE = Duration.ofMinutes(3);
    private static final int LINES_BEFORE = 50;
    private static final int LINES_AFTER = 150;

    @TempDir
    Path folder;

    @Test
    void nothingIsLostWhenTheBrokerIsKilledAndComesBack() throws Exception {
        // Without these a broker that is killed forgets its sessions, and with them who wanted the messages.
        try (MosquittoProcess broker =
                new MosquittoProcess(folder).with("autosave_on_changes true").with("autosave_interval 1")) {
            broker.start();
            Path config = ForgeConfigFile.write(folder, """
                    kind = "mqtt"
                    broker = "%s"
                    client-id = "bankfire-test"
                    topics = ["forge/#"]
                    """.formatted(broker.uri()));
            try (DaemonProcess daemon = DaemonProcess.start("run", "--config", config.toString());
                    PageBrowser browser = new PageBrowser()) {
                Page page = browser.open(daemon.page(), 1280, 800);
                // Nobody keeps a message for a daemon that has not subscribed yet.
                await().pollInSameThread().atMost(PATIENCE).until(() -> isConnected(page));
                FeederProcess feeder = FeederProcess.start(
                        "--broker",
                        broker.uri(),
                        "--topic",
                        "forge/shed",
                        "--forge",
                        "shed",
                        "--rate",
                        "10",
                        "--timed",
                        "--burning");
                try (feeder) {
                    await().pollInSameThread()
                            .atMost(PATIENCE)
                            .until(() -> feeder.sentNumbers().size() > LINES_BEFORE);
                    await().pollInSameThread()
                            .atMost(PATIENCE)
                            .until(() -> !page.locator("#temperature")
                                    .textContent()
                                    .replaceAll("[^0-9]", "")
                                    .isEmpty());
                    broker.kill();
                    await().pollInSameThread()
                            .atMost(PATIENCE)
                            .until(() -> feeder.said().stream().anyMatch(line -> line.startsWith("RETRY")));
                    broker.restart();
                    await().pollInSameThread()
                            .atMost(PATIENCE)
                            .until(() -> feeder.sentNumbers().size() > LINES_AFTER);
                    feeder.quit();
                    TreeSet<Long> sent = new TreeSet<>(feeder.sentNumbers());
                    await().pollInSameThread()
                            .atMost(PATIENCE)
                            .until(() -> storedReadings(page) >= 0 && latestSequence(page) == sent.last());
                    daemon.stop();
                    assertThat(StoredBook.sequenceNumbers(folder)).containsExactlyElementsOf(sent);
                }
            }
        }
    }

    private static boolean isConnected(Page page) {
        return Boolean.TRUE.equals(
                page.evaluate("async () => (await (await fetch('/health')).json()).sources[0].connected"));
    }

    private static long storedReadings(Page page) {
        Object stored = page.evaluate("async () => (await (await fetch('/health')).json()).readingsStored ?? 0");
        return ((Number) stored).longValue();
    }

    private static long latestSequence(Page page) {
        Object sequence =
                page.evaluate("async () => { const now = await (await fetch('/api/v1/forges/shed/now')).json();"
                        + " const seq = (now.latest ?? []).find(r => r.channel === 'seq' || r.name === 'seq');"
                        + " return seq ? seq.value : -1; }");
        return ((Number) sequence).longValue();
    }
}
