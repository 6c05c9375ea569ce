package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.microsoft.playwright.Page;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import java.util.concurrent.Callable;
import org.bankfire.daemon.testbed.CuttableLink;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.HangingDaemon;
import org.bankfire.daemon.testbed.PageBrowser;
import org.bankfire.daemon.testbed.Programs;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A page that goes blind says so itself: its link is cut, the daemon stands still, or judging hangs. */
final class BlindPageIT {
    private static final Duration PATIENCE = Duration.ofMinutes(3);
    private static final String NOTICES = "#notices";

    /** Longer than a few of the chart's steps of 4.5 s, so that a gap would be seen. */
    private static final double OUTAGE_S = 20;

    private static final double LONGEST_STEP_S = 12;

    /** From now on the charts that are built can be asked for what they draw; another unit has them built anew. */
    private static final String LOOK_AT_CHARTS = """
            () => {
              window.charts = [];
              window.uPlot = new Proxy(window.uPlot, {
                construct(plot, all) {
                  const made = new plot(...all);
                  window.charts.push(made);
                  return made;
                },
              });
              const units = document.getElementById('unit-temperature');
              units.value = 'F';
              units.dispatchEvent(new Event('change'));
            }""";

    /** The longest step between points of the chart of the chamber in the latest minute, s. */
    private static final String LONGEST_STEP = """
            () => {
              const times = window.charts[0].data[0];
              const end = times[times.length - 1];
              const late = times.filter(t => t > end - 60);
              return Math.max(...late.slice(1).map((t, i) => t - late[i]));
            }""";

    private static final String TAKE_OUT_OF_SERVICE = """
            out => {
              fetch('/api/v1/forges/shed/alarms/mixture-flutter/service', {
                method: 'POST',
                headers: { 'Content-Type': 'application/json' },
                body: JSON.stringify({ out, by: 'Ida' }),
              }).catch(() => {});
            }""";

    /** A hang is over when the thread was replaced, perhaps before anybody has looked: all that is said is written down. */
    private static final String WRITE_DOWN_NOTICES = """
            () => {
              const notices = document.getElementById('notices');
              window.said = [];
              new MutationObserver(() => window.said.push(notices.textContent))
                .observe(notices, { childList: true, subtree: true, characterData: true });
            }""";

    private static final String SAID_OF_A_HANG =
            "() => window.said.find(text => text.includes('It has judged nothing for')) ?? ''";

    /** After that a hang is over, and so is what the page says of it. */
    private static final double HANG_MS = 40_000;

    /** With a fourth the process ends. */
    private static final int MOST_HANGS = 3;

    @TempDir
    Path folder;

    @Test
    void aPageWhoseLinkWasCutCatchesUpWithoutAGap() throws Exception {
        try (DaemonProcess daemon = DaemonProcess.start("run", "--config", config().toString());
                CuttableLink link = new CuttableLink(URI.create(daemon.page()).getPort());
                PageBrowser browser = new PageBrowser()) {
            Page page = browser.open("http://127.0.0.1:" + link.port() + "/", 360, 740);
            until(() -> words(page, "#temperature").matches(".*\\d.*"));
            page.locator("input[name='span'][value='1']").check();
            page.evaluate(LOOK_AT_CHARTS);
            link.cut();
            until(() -> words(page, NOTICES).contains("This page has heard nothing for"));
            assertThat(words(page, NOTICES)).contains("No word from the daemon", "look at the forge yourself");
            double cutAtMs = number(page, "performance.now()");
            until(() -> number(page, "performance.now()") - cutAtMs > 1_000 * OUTAGE_S);
            link.mend();
            until(() -> !words(page, NOTICES).contains("No word from the daemon"));
            until(() -> number(page, LONGEST_STEP) < LONGEST_STEP_S);
        }
    }

    @Test
    void aDaemonThatStandsStillIsGoneForThePageUntilItGoesOn() throws Exception {
        try (DaemonProcess daemon = DaemonProcess.start("run", "--config", config().toString());
                PageBrowser browser = new PageBrowser()) {
            Page page = browser.open(daemon.page(), 360, 740);
            until(() -> words(page, "#temperature").matches(".*\\d.*"));
            signal(daemon, "STOP");
            try {
                until(() -> words(page, NOTICES).contains("This page has heard nothing for"));
            } finally {
                signal(daemon, "CONT");
            }
            until(() -> !words(page, NOTICES).contains("No word from the daemon"));
        }
    }

    @Test
    void aDaemonWhoseJudgingHangsIsSaidToHangAndNotToBeGone() throws Exception {
        Path block = folder.resolve("block");
        Path config = config();
        int port = Programs.freePort();
        // This one does not tell where its page is.
        Files.writeString(config, Files.readString(config).replace("127.0.0.1:0", "127.0.0.1:" + port));
        try (DaemonProcess daemon = DaemonProcess.startMain(
                        Map.of(), HangingDaemon.class, config.toString(), block.toString(), "page");
                PageBrowser browser = new PageBrowser()) {
            until(() -> answers(port));
            Page page = browser.open("http://127.0.0.1:" + port + "/", 360, 740);
            until(() -> words(page, "#temperature").matches(".*\\d.*"));
            Files.createFile(block);
            // What is done about an alarm is told as an event, and whoever tells it hangs.
            page.evaluate(WRITE_DOWN_NOTICES);
            String said = "";
            for (int hang = 0; hang < MOST_HANGS && said.isEmpty(); hang++) {
                page.evaluate(TAKE_OUT_OF_SERVICE, hang % 2 == 0);
                double beginMs = number(page, "performance.now()");
                until(() -> !saidOfAHang(page).isEmpty() || number(page, "performance.now()") - beginMs > HANG_MS);
                said = saidOfAHang(page);
            }
            assertThat(said).contains("The daemon hangs").doesNotContain("No word from the daemon");
            assertThat(daemon.isAlive()).isTrue();
        }
    }

    private static boolean answers(int port) {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            return socket.isConnected();
        } catch (IOException notYet) {
            return false;
        }
    }

    private Path config() throws Exception {
        return ForgeConfigFile.write(folder, """
                kind = "virtual"
                forge = "shed"
                speed = 1
                rate = "5 Hz"
                """);
    }

    private static void signal(DaemonProcess daemon, String name) throws Exception {
        Process kill = new ProcessBuilder("kill", "-" + name, String.valueOf(daemon.pid())).start();
        assertThat(kill.waitFor()).isZero();
    }

    private static String saidOfAHang(Page page) {
        return (String) page.evaluate(SAID_OF_A_HANG);
    }

    private static String words(Page page, String selector) {
        return page.locator(selector).textContent();
    }

    private static double number(Page page, String expression) {
        return ((Number) page.evaluate(expression)).doubleValue();
    }

    // The browser's driver is for one thread only.
    private static void until(Callable<Boolean> condition) {
        await().pollInSameThread()
                .pollInterval(Duration.ofMillis(100))
                .atMost(PATIENCE)
                .until(condition);
    }
}
