package org.bankfire.dashboard.page;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import java.io.IOException;
import java.time.Duration;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.regex.Pattern;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.reading.Note;
import org.bankfire.dashboard.testing.Browser;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The page's voice, its wakefulness and its own blindness, in a real browser. */
class PageSensesIT {

    /** Listens to whatever goes to the loudspeaker: its loudest sample of the last tenths of a second. */
    private static final String EAR = """
            window.ears = [];
            const connect = AudioNode.prototype.connect;
            AudioNode.prototype.connect = function (to, ...rest) {
              if (to instanceof AudioDestinationNode) {
                const ear = this.context.createAnalyser();
                ear.fftSize = 32768;
                window.ears = [ear];
                connect.call(this, ear);
              }
              return connect.call(this, to, ...rest);
            };
            window.loudness = () => {
              const samples = new Float32Array(32768);
              window.ears.forEach(ear => ear.getFloatTimeDomainData(samples));
              return samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
            };
            """;

    private final ScriptedForge forge = new ScriptedForge();
    private RunningDashboard dashboard;
    private Browser browser;

    @BeforeEach
    void start() throws IOException {
        forge.speakOn();
        dashboard = new RunningDashboard(forge);
        browser = new Browser();
    }

    @AfterEach
    void stop() {
        forge.hush();
        browser.close();
        dashboard.close();
    }

    private Page open(int width, int height) {
        Page page = browser.readPage(width, height, ColorScheme.LIGHT);
        page.addInitScript(EAR);
        page.navigate(dashboard.url("/"));
        return page;
    }

    private static void shoot(Page page, String name) {
        page.screenshot(new Page.ScreenshotOptions().setPath(Browser.picture(name)));
    }

    private static void waitFor(Page page, String selector, String text) {
        assertThat(page.locator(selector)).containsText(text);
    }

    private static double loudness(Page page) {
        return ((Number) page.evaluate("loudness()")).doubleValue();
    }

    // The page's own policy lets nothing be evaluated inside it, so it is asked again and again from here; Playwright
    // is
    // for one thread only.
    private static void until(Callable<Boolean> condition) {
        await().pollInSameThread()
                .pollInterval(Duration.ofMillis(50))
                .atMost(Browser.PATIENCE)
                .until(condition);
    }

    private static double nowMs(Page page) {
        return ((Number) page.evaluate("performance.now()")).doubleValue();
    }

    private static void waitUntilLoud(Page page) {
        until(() -> loudness(page) > 0.2);
    }

    /** A sound that is made once may be over before anybody listens: then it is asked for again. */
    private static void pressUntilLoud(Page page, String button) {
        until(() -> {
            page.locator(button).click();
            double pressedMs = nowMs(page);
            while (nowMs(page) - pressedMs < 1_000) {
                if (loudness(page) > 0.2) {
                    return true;
                }
            }
            return false;
        });
    }

    private static void waitUntilSilent(Page page) {
        until(() -> loudness(page) < 0.001);
    }

    @Test
    void anAlarmSoundsOnceThePageWasTouchedAndUntilItIsAcknowledged() {
        forge.burning(ScriptedForge.QUARRY, 1_071, forge.flameOut());
        Page page = open(360, 740);
        waitFor(page, "#sound-state", "silent until you touch the page");
        assertThat(page.locator("#sound-notice")).isVisible();
        assertThat(page.evaluate("loudness()")).isEqualTo(0);
        page.locator("#forge-name").click();
        waitFor(page, "#sound-state", "Sound: works");
        assertThat(page.locator("#sound-notice")).isHidden();
        waitUntilLoud(page);
        // Many rounds later it still sounds: the pattern repeats every 1.2 s.
        double begunMs = nowMs(page);
        until(() -> nowMs(page) - begunMs > 4_000);
        waitUntilLoud(page);
        page.locator("[data-alarm='flame-out'] .acknowledge").click();
        waitUntilSilent(page);
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void everyPriorityHasARhythmOfItsOwnThatIsHeardWhenTested() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(1_280, 800);
        page.navigate(dashboard.url("/#alarms"));
        for (String priority : new String[] {"critical", "high", "medium", "low"}) {
            pressUntilLoud(page, "#sound-tests button[data-priority='" + priority + "']");
            waitFor(page, "#sound-tests-status", "That is how a " + priority + " alarm sounds");
            waitUntilSilent(page);
        }
        pressUntilLoud(page, "#sound-test");
        Object rhythms = page.evaluate("""
                async () => {
                  const here = document.querySelector('script[type=module]').src;
                  const { PATTERNS, samplesOf } = await import(new URL('./alarms/rhythm.js', here));
                  return Object.keys(PATTERNS).map(name => {
                    const samples = samplesOf(name, 8000);
                    let bits = '';
                    for (let i = 0; i + 400 <= samples.length; i += 400) {
                      bits += samples.slice(i, i + 400).some(s => Math.abs(s) > 0.1) ? '1' : '0';
                    }
                    return bits + (samples.some(s => Math.abs(s) > 1) ? ' clipped' : '');
                  }).join(',');
                }""");
        String[] told = rhythms.toString().split(",");
        assertThat(told).hasSize(4).doesNotHaveDuplicates();
        assertThat(told).allMatch(rhythm -> rhythm.matches("[01]*1[01]*"));
    }

    @Test
    void aSoundThatWasSwitchedOffIsSaidAndStaysSwitchedOff() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740);
        page.locator("#sound-switch").click();
        waitFor(page, "#sound-words", "sound is off here");
        assertThat(page.locator("#sound-switch")).hasAttribute("aria-pressed", "false");
        page.reload();
        waitFor(page, "#sound-words", "sound is off here");
        forge.burning(ScriptedForge.QUARRY, 1_071, forge.flameOut());
        assertThat(page.locator("#notices .grave")).isVisible();
        page.locator("#forge-name").click();
        assertThat(page.locator("#sound-notice")).isVisible();
        page.locator("#sound-on").click();
        assertThat(page.locator("#sound-notice")).isHidden();
        waitUntilLoud(page);
    }

    @Test
    void theScreenIsKeptOnWhileItIsWantedAndThatIsSaid() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740);
        page.addInitScript("""
                window.locks = [];
                const request = WakeLock.prototype.request;
                WakeLock.prototype.request = async function (type) {
                  const lock = await request.call(this, type);
                  window.locks.push(lock);
                  return lock;
                };
                """);
        page.reload();
        waitFor(page, "#wake-state", "may go dark");
        page.locator("#wake").click();
        waitFor(page, "#wake-state", "stays on while this page is in front");
        assertThat(page.locator("#wake")).hasAttribute("aria-pressed", "true");
        assertThat(page.evaluate("locks.length === 1 && !locks[0].released")).isEqualTo(true);
        // As the browser does when the page goes to the background, and comes back.
        page.evaluate("locks[0].release()");
        waitFor(page, "#wake-state", "asking");
        page.evaluate("document.dispatchEvent(new Event('visibilitychange'))");
        waitFor(page, "#wake-state", "stays on");
        assertThat(page.evaluate("locks.length === 2 && !locks[1].released")).isEqualTo(true);
        page.reload();
        waitFor(page, "#wake-state", "stays on");
        page.locator("#wake").click();
        waitFor(page, "#wake-state", "may go dark");
        assertThat(page.evaluate("locks.every(lock => lock.released)")).isEqualTo(true);
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void whereTheBrowserKeepsNoScreenOnThePageSaysSo() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740);
        page.addInitScript("delete Navigator.prototype.wakeLock");
        page.reload();
        waitFor(page, "#wake-state", "cannot keep the screen on");
        assertThat(page.locator("#wake")).isHidden();
    }

    @Test
    void aDaemonThatIsGoneMakesThePageItselfSoundAndFillTheWidthAndIsCaughtUpWithoutAGap() throws Exception {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740);
        waitFor(page, "#temperature", "1102");
        page.locator("#forge-name").click();
        int port = dashboard.port();
        dashboard.close();
        Locator message = page.locator("#notices [data-alarm='page-daemon-gone']");
        waitFor(page, "#notices", "No word from the daemon");
        assertThat(message.locator(".ticking"))
                .hasText(Pattern.compile("This page has heard nothing for \\d+ s: look at the forge yourself\\."));
        assertThat(Objects.requireNonNull(message.boundingBox()).width).isGreaterThanOrEqualTo(355);
        waitUntilLoud(page);
        shoot(page, "phone-blind-gone");
        // Its seconds tick without building the message anew, which would be read aloud each time.
        page.evaluate("document.querySelector('#notices article').same = true");
        String before = message.locator(".ticking").textContent();
        assertThat(message.locator(".ticking")).not().hasText(before);
        assertThat(page.evaluate("document.querySelector('#notices article').same"))
                .isEqualTo(true);
        forge.add(new Note(ScriptedForge.QUARRY, forge.now(), Note.REMARK, "written while the page was blind"));
        forge.burning(ScriptedForge.QUARRY, 1_099);
        int asked = browser.requests().size();
        dashboard = RunningDashboard.again(forge, port);
        waitFor(page, "#temperature", "1099");
        assertThat(page.locator("#notices article")).hasCount(0);
        waitUntilSilent(page);
        waitFor(page, "#log-list", "written while the page was blind");
        until(() -> browser.requests().stream().skip(asked).anyMatch(url -> url.contains("/series?channel=chamber")));
    }

    @Test
    void aDaemonThatHangsIsToldFromOneThatIsGone() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740);
        waitFor(page, "#temperature", "1102");
        page.locator("#forge-name").click();
        forge.hang(9);
        waitFor(page, "#notices", "The daemon hangs");
        assertThat(page).hasTitle("The daemon hangs! – Quarry forge");
        waitFor(page, "#notices", "It has judged nothing for 9 s: look at the forge yourself.");
        waitUntilLoud(page);
        shoot(page, "phone-blind-hangs");
        page.locator("[data-alarm='page-daemon-hangs'] .acknowledge").click();
        waitUntilSilent(page);
        forge.hang(0.02);
        assertThat(page.locator("#notices [data-alarm='page-daemon-hangs']")).hasCount(0);
        forge.hang(7);
        waitFor(page, "#notices", "judged nothing for 7 s");
        assertThat(page.locator("[data-alarm='page-daemon-hangs'] .acknowledge"))
                .isVisible();
    }

    @Test
    void aDeviceThatIsOfflineSaysThatItIsItself() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740);
        waitFor(page, "#temperature", "1102");
        page.context().setOffline(true);
        dashboard.close();
        waitFor(page, "#notices", "This device is offline");
        waitFor(page, "#notices", "look at the forge yourself");
        shoot(page, "phone-blind-offline");
        page.context().setOffline(false);
        waitFor(page, "#notices", "No word from the daemon");
    }

    @Test
    void theLookOutBeatsInAWorkerSoThatABackgroundPageHearsSilenceToo() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740);
        // A browser slows the timers of a page that has long been in the background: here they stand still.
        page.addInitScript("window.setInterval = () => 0");
        page.reload();
        waitFor(page, "#temperature", "1102");
        page.waitForCondition(() -> page.workers().size() == 1);
        dashboard.close();
        waitFor(page, "#notices", "No word from the daemon");
    }

    @Test
    void whatMattersOfTheSlowerConditionsIsSaidQuietly() {
        forge.publish(ScriptedForge.withConditions(
                forge.burning(ScriptedForge.QUARRY, 1_102), ScriptedForge.someConditions()));
        Page page = open(360, 740);
        waitFor(page, "#shell", "Shell: 182 ± 30 °C, predicted");
        assertThat(page.locator("#gas-left")).isHidden();
        assertThat(page.locator("#flame-doubt")).isHidden();
        forge.publish(ScriptedForge.withConditions(
                forge.burning(
                        ScriptedForge.QUARRY,
                        1_102,
                        forge.alarm(AlarmId.GAS_FALLING, AlarmState.ACKNOWLEDGED, Priority.MEDIUM, 0.7e5, "It sags.")),
                ScriptedForge.someConditions()));
        waitFor(page, "#gas-left", "Gas: about 25 min left (at least 18) until 0.50 bar");
        shoot(page, "phone-quiet-lines");
    }

    @Test
    void aDoubtOfTheFlameIsSaidQuietlyWhileNoAlarmOfItStands() throws Exception {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        String now = dashboard.get("/api/v1/forges/quarry/now").body();
        Page page = open(360, 740);
        for (String[] told : new String[][] {{"0.45", "true"}, {"0.29", "false"}, {"null", "false"}}) {
            String doubtful = now.replace("\"flameOutProbability\":null", "\"flameOutProbability\":" + told[0]);
            page.unroute("**/api/v1/live*");
            page.route(
                    "**/api/v1/live*",
                    route -> route.fulfill(new com.microsoft.playwright.Route.FulfillOptions()
                            .setContentType("text/event-stream")
                            .setBody("event: snapshot\ndata: " + doubtful + "\n\n")));
            page.reload();
            waitFor(page, "#temperature", "1102");
            if (told[1].equals("true")) {
                waitFor(page, "#flame-doubt", "The flame may be out: 45 %");
            } else {
                assertThat(page.locator("#flame-doubt")).isHidden();
            }
        }
    }
}
