package org.bankfire.dashboard.page;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.offset;
import static org.awaitility.Awaitility.await;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Route;
import com.microsoft.playwright.options.BoundingBox;
import com.microsoft.playwright.options.ColorScheme;
import java.io.IOException;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.atomic.AtomicReference;
import java.util.regex.Pattern;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.dashboard.source.OutputBook.Condition;
import org.bankfire.dashboard.source.OutputBook.OutputState;
import org.bankfire.dashboard.source.OutputBook.Tested;
import org.bankfire.dashboard.testing.Browser;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What a user does about alarms, in a real browser: on the strip of every screen, and on the screen of their own. */
class AlarmsPageIT {

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

    private Page open(int width, int height, String screen) {
        Page page = browser.readPage(width, height, ColorScheme.LIGHT);
        page.navigate(dashboard.url("/#" + screen));
        return page;
    }

    private static void shoot(Page page, String name, boolean whole) {
        page.screenshot(
                new Page.ScreenshotOptions().setPath(Browser.picture(name)).setFullPage(whole));
    }

    private static void waitFor(Page page, String selector, String text) {
        assertThat(page.locator(selector)).containsText(text);
    }

    private static Locator named(Locator within, String label) {
        return within.locator("button[aria-label='" + label + "']");
    }

    private AlarmStatus chamberHigh() {
        return forge.alarm(
                AlarmId.CHAMBER_HIGH,
                AlarmState.UNACKNOWLEDGED,
                Priority.HIGH,
                1_251,
                "The chamber is at 1251 °C; the working limit is 1240 °C.");
    }

    private AlarmStatus gasFalling() {
        return forge.alarm(
                AlarmId.GAS_FALLING,
                AlarmState.ACKNOWLEDGED,
                Priority.MEDIUM,
                0.7e5,
                "Pressure sags at an untouched regulator: about 25 minutes left.");
    }

    private AlarmAction onlyAction() {
        await().atMost(Browser.PATIENCE).until(() -> forge.acted().size() == 1);
        return forge.acted().get(0).action();
    }

    private void outputs() {
        forge.outputs(
                new OutputState(
                        "shed broker",
                        "mqtt",
                        Condition.OK,
                        "Connected to the broker at 192.168.4.2.",
                        14,
                        0,
                        0,
                        0,
                        forge.now().plusSeconds(-300)),
                new OutputState(
                        "mail to Ida",
                        "mail",
                        Condition.FAILING,
                        "The mail server refuses the password.",
                        0,
                        2,
                        1,
                        0,
                        null),
                new OutputState("siren", "command", Condition.IDLE, "Waits for an alarm.", 0, 0, 0, 0, null));
    }

    private void step(double secondsAgo, AlarmId alarm, AlarmState state, Priority priority, double value, String why) {
        forge.journal(new AlarmTransition(
                ScriptedForge.QUARRY, forge.now().plusSeconds(-secondsAgo), alarm, state, priority, value, why));
    }

    private void someJournal() {
        step(
                90_000,
                AlarmId.GAS_PRESSURE_HIGH,
                AlarmState.UNACKNOWLEDGED,
                Priority.HIGH,
                4.2e5,
                "Above the hose's limit.");
        step(89_000, AlarmId.GAS_PRESSURE_HIGH, AlarmState.NORMAL, Priority.HIGH, 3.8e5, "Acknowledged by Ida.");
        step(700, AlarmId.CHAMBER_HIGH, AlarmState.UNACKNOWLEDGED, Priority.HIGH, 1_251, "The limit is 1240 °C.");
        step(650, AlarmId.CHAMBER_HIGH, AlarmState.SHELVED, Priority.HIGH, 1_251, "Shelved by Ida for 15 minutes.");
        step(
                60,
                AlarmId.FLAME_OUT,
                AlarmState.UNACKNOWLEDGED,
                Priority.CRITICAL,
                1_071.4,
                "No flame explains the fall.");
    }

    @Test
    void anAlarmIsShelvedForATimeThatIsShownAndTakenBack() {
        forge.burning(ScriptedForge.QUARRY, 1_251, chamberHigh());
        Page page = open(360, 740, "now");
        Locator notice = page.locator("#notices [data-alarm='chamber-high']");
        named(notice, "Shelve …: Chamber high").click();
        assertThat(notice.locator(".shelves button")).hasText(new String[] {"15 min", "1 h", "4 h", "8 h", "Not now"});
        shoot(page, "phone-shelving", false);
        notice.locator(".shelves button").nth(1).click();
        AlarmAction shelved = onlyAction();
        assertThat(shelved.kind()).isEqualTo(AlarmAction.Kind.SHELVE);
        assertThat(shelved.shelfS()).isEqualTo(3_600);
        assertThat(notice.locator(".grade")).hasText(Pattern.compile(".*on the shelf until \\d\\d:\\d\\d"));
        shoot(page, "phone-shelved", false);
        named(notice, "Take back: Chamber high, from the shelf").click();
        await().atMost(Browser.PATIENCE).until(() -> forge.acted().size() == 2);
        assertThat(forge.acted().get(1).action().kind()).isEqualTo(AlarmAction.Kind.UNSHELVE);
        assertThat(notice).hasCount(0);
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void aCriticalAlarmIsShelvedForAQuarterOfAnHourAtMostAndOnlyOnceItWasAcknowledged() {
        forge.burning(ScriptedForge.QUARRY, 1_071, forge.flameOut());
        Page page = open(360, 740, "now");
        Locator notice = page.locator("#notices [data-alarm='flame-out']");
        assertThat(notice.locator("button")).hasCount(1);
        named(notice, "Acknowledge: Flame out").click();
        named(notice, "Shelve …: Flame out").click();
        assertThat(notice.locator(".shelves button")).hasText(new String[] {"5 min", "15 min", "Not now"});
        notice.locator(".shelves button").nth(1).click();
        await().atMost(Browser.PATIENCE).until(() -> forge.acted().size() == 2);
        assertThat(forge.acted().get(1).action().shelfS()).isEqualTo(900);
    }

    @Test
    void theMessageIsLegibleFromTwoMetresAndItsButtonTakesAGlove() {
        forge.burning(ScriptedForge.QUARRY, 1_071, forge.flameOut());
        for (int[] size : new int[][] {{360, 740}, {320, 568}, {1_280, 800}}) {
            Page page = open(size[0], size[1], "now");
            Locator notice = page.locator("#notices .grave");
            assertThat(notice).isVisible();
            shoot(page, "message-" + size[0], false);
            double fontPx = ((Number)
                            notice.locator("li").first().evaluate("e => parseFloat(getComputedStyle(e).fontSize)"))
                    .doubleValue();
            // A phone's 360 px are some 65 mm and a capital is 0.7 of its font's height: 10 minutes of arc at two
            // metres,
            // twice what a normal eye resolves, are 5.8 mm.
            if (size[0] == 360) {
                assertThat(0.7 * fontPx * 65 / 360).isGreaterThan(5.6);
            }
            BoundingBox button =
                    Objects.requireNonNull(notice.locator(".acknowledge").boundingBox());
            assertThat(button.height).isGreaterThanOrEqualTo(48);
            assertThat(button.width).isGreaterThanOrEqualTo(200);
            assertThat(button.y + button.height).as("in sight at %d", size[0]).isLessThanOrEqualTo(size[1]);
            assertThat(page.evaluate("document.documentElement.scrollWidth <= innerWidth"))
                    .isEqualTo(true);
            page.close();
        }
    }

    @Test
    void anAlarmThatComesDuringAPressDoesNotMoveWhatIsPressed() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = browser.readPage(360, 740, ColorScheme.LIGHT);
        page.clock().install();
        page.navigate(dashboard.url("/#now"));
        waitFor(page, "#temperature", "1102");
        Locator tap = page.locator("#taps button", new Page.LocatorOptions().setHasText("Stock in"));
        // An alarm waits for a press for a second and a half at most, which on a slow machine are over too soon.
        Browser.stopClock(page);
        forge.burning(ScriptedForge.QUARRY, 1_103);
        waitFor(page, "#temperature", "1103");
        waitFor(page, "#all-well", "No alarm stands. Heating up.");
        waitFor(page, "#chart-chamber-caption", "from 18 to 11");
        waitFor(page, "#log-list", "Nothing written down");
        assertThat(page.locator("#heat")).hasAttribute("data-state", "live");
        tap.scrollIntoViewIfNeeded();
        BoundingBox box = Objects.requireNonNull(tap.boundingBox());
        page.mouse().move(box.x + box.width / 2, box.y + box.height / 2);
        page.mouse().down();
        forge.burning(ScriptedForge.QUARRY, 1_071, forge.flameOut());
        assertThat(page).hasTitle(Pattern.compile("Flame out!.*"));
        // A pressed button sinks by one pixel.
        assertThat(Objects.requireNonNull(tap.boundingBox()).y).isCloseTo(box.y, offset(1.0));
        page.mouse().up();
        page.clock().resume();
        await().atMost(Browser.PATIENCE).until(() -> !forge.notes().isEmpty());
        assertThat(forge.notes().get(0).text()).isEqualTo("in");
        assertThat(page.locator("#notices .grave")).isVisible();
    }

    @Test
    void aThumbThatRestsOnTheGlassDoesNotHoldAnAlarmBack() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740, "now");
        waitFor(page, "#temperature", "1102");
        page.mouse().move(180, 400);
        page.mouse().down();
        forge.burning(ScriptedForge.QUARRY, 1_071, forge.flameOut());
        assertThat(page.locator("#notices .grave")).isVisible();
        page.mouse().up();
    }

    @Test
    void anAlarmOutOfServiceIsSaidOnNowForGoodAndPutBackOnItsScreen() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740, "alarms");
        waitFor(page, "#alarms-state", "No alarm stands");
        page.locator("#service-alarm").selectOption("shell-high");
        page.locator("#service-form button").click();
        waitFor(page, "#alarms-status", "Write your name first");
        assertThat(forge.acted()).isEmpty();
        page.locator("#user-name").fill("Ida");
        page.locator("#service-form button").click();
        assertThat(onlyAction()).isEqualTo(AlarmAction.outOfService(AlarmId.SHELL_HIGH, true, "Ida"));
        waitFor(page, "#standing", "by Ida");
        page.locator(".screens a", new Page.LocatorOptions().setHasText("Now")).click();
        waitFor(page, "#out-of-service", "Out of service: Shell high");
        assertThat(page.locator("#all-well")).containsText("No alarm stands");
        page.reload();
        waitFor(page, "#out-of-service", "Shell high");
        shoot(page, "phone-out-of-service", false);
        page.locator("#out-of-service a").click();
        named(page.locator("#standing"), "Put back into service: Shell high").click();
        await().atMost(Browser.PATIENCE).until(() -> forge.acted().size() == 2);
        assertThat(forge.acted().get(1).action()).isEqualTo(AlarmAction.outOfService(AlarmId.SHELL_HIGH, false, "Ida"));
        waitFor(page, "#alarms-state", "No alarm stands");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theScreenOfAlarmsTellsWhatStandsWhatHappenedAndWhereElseTheyGo() {
        outputs();
        someJournal();
        forge.server(ScriptedForge.SERVER_AWAY);
        forge.burning(ScriptedForge.QUARRY, 1_251, chamberHigh(), gasFalling());
        forge.act(ScriptedForge.QUARRY, AlarmAction.shelve(AlarmId.MIXTURE_FLUTTER, 1_800, "Ida"));
        forge.act(ScriptedForge.QUARRY, AlarmAction.outOfService(AlarmId.SHELL_HIGH, true, "Ida"));
        for (ColorScheme scheme : List.of(ColorScheme.LIGHT, ColorScheme.DARK)) {
            for (int[] size : new int[][] {{360, 740}, {1_280, 800}, {320, 568}}) {
                Page page = browser.readPage(size[0], size[1], scheme);
                page.navigate(dashboard.url("/#alarms"));
                waitFor(page, "#standing [data-alarm='chamber-high']", "1251 °C");
                waitFor(page, "#standing [data-alarm='mixture-flutter']", "on the shelf until");
                waitFor(page, "#standing [data-alarm='shell-high']", "out of service");
                waitFor(page, "#journal", "Flame out raised at 1071 °C");
                waitFor(page, "#journal", "Gas pressure high raised at 4.20 bar");
                waitFor(page, "[data-output='mail to Ida']", "✕ failing");
                waitFor(page, "[data-output='mail to Ida']", "2 given up");
                waitFor(page, "[data-output='siren']", "nothing sent yet");
                waitFor(page, "[data-kept='file']", "✓ takes what comes");
                waitFor(page, "[data-kept='server']", "✕ takes nothing since");
                waitFor(page, "[data-kept='server']", "wait on the daemon’s disk, the oldest for 60 min");
                String name = "alarms-" + size[0] + (scheme == ColorScheme.DARK ? "-dark" : "");
                shoot(page, name, true);
                assertThat(page.evaluate("document.documentElement.scrollWidth <= innerWidth"))
                        .as("no sideways scrolling at %d", size[0])
                        .isEqualTo(true);
                page.close();
            }
        }
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void aTestOfAnOutputShowsWhatCameOfIt() {
        outputs();
        forge.testOf("mail to Ida", new Tested(false, "The mail server refuses the password."));
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(1_280, 800, "alarms");
        named(page.locator("#outputs"), "Send a test: shed broker").click();
        waitFor(page, "[data-output='shed broker'] .answer", "✓ The test went out");
        named(page.locator("#outputs"), "Send a test: mail to Ida").press("Enter");
        waitFor(page, "[data-output='mail to Ida'] .answer", "✕ The test failed");
        waitFor(page, "[data-output='mail to Ida'] .answer", "refuses the password");
        assertThat(forge.tested()).containsExactly("shed broker", "mail to Ida");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theScreenOfAlarmsIsNeverBlank() {
        Page page = open(360, 740, "alarms");
        waitFor(page, "#journal-state", "Nothing has happened yet");
        waitFor(page, "#outputs-state", "None is configured");
        waitFor(page, "#alarms-state", "No alarm stands");
        shoot(page, "alarms-empty", true);
        page.route("**/alarms?limit=*", route -> route.abort());
        page.route("**/api/v1/outputs", route -> route.abort());
        page.reload();
        waitFor(page, "#journal-state", "The journal cannot be read: the daemon does not answer");
        waitFor(page, "#outputs-state", "the daemon does not answer");
        shoot(page, "alarms-error", true);
    }

    @Test
    void aNewAlarmEntersTheJournalByItself() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(1_280, 800, "alarms");
        waitFor(page, "#journal-state", "Nothing has happened yet");
        someJournal();
        forge.burning(ScriptedForge.QUARRY, 1_071, forge.flameOut());
        waitFor(page, "#journal", "Flame out raised");
        assertThat(page.locator("#journal li:not(.day)").first()).containsText("Flame out");
    }

    @Test
    void anAlarmRaisedWhileThePageBeginsIsInTheJournalToo() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = browser.readPage(1_280, 800, ColorScheme.LIGHT);
        AtomicReference<Route> stream = new AtomicReference<>();
        page.route("**/api/v1/live*", route -> {
            if (!stream.compareAndSet(null, route)) {
                route.resume();
            }
        });
        page.navigate(dashboard.url("/#alarms"));
        waitFor(page, "#journal-state", "Nothing has happened yet");
        page.waitForCondition(() -> stream.get() != null);
        someJournal();
        forge.burning(ScriptedForge.QUARRY, 1_071, forge.flameOut());
        Objects.requireNonNull(stream.get()).resume();
        waitFor(page, "#journal", "Flame out raised");
    }

    @Test
    void whatWasDoneAboutAlarmsReadsAsSentencesAndTheMonitorsOwnSettingsAreNotShown() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        note(-50, Note.SHELVE, "chamber-high 1800 Ida");
        note(-40, Note.UNSHELVE, "chamber-high Ida Berg");
        note(-30, Note.OUT_OF_SERVICE, "shell-high Ida");
        note(-20, Note.IN_SERVICE, "shell-high page");
        note(-10, Note.ACKNOWLEDGE, "flame-out page");
        forge.add(new Setting(ScriptedForge.QUARRY, forge.now().plusSeconds(-5), "setting-wire-hours", "12.5", "h"));
        forge.add(new Setting(ScriptedForge.QUARRY, forge.now().plusSeconds(-5), "setting-first-fire", "2", ""));
        forge.add(new Setting(ScriptedForge.QUARRY, forge.now().plusSeconds(-4), "setting-jet", "0.9", "mm"));
        Page page = open(1_280, 800, "now");
        waitFor(page, "#log-list", "Ida shelved “Chamber high” for 30 min.");
        waitFor(page, "#log-list", "Ida Berg took “Chamber high” back from the shelf.");
        waitFor(page, "#log-list", "Ida took “Shell high” out of service.");
        waitFor(page, "#log-list", "Somebody at a page put “Shell high” back into service.");
        waitFor(page, "#log-list", "Somebody at a page acknowledged “Flame out”.");
        waitFor(page, "#log-list", "jet 0.9 mm");
        assertThat(page.locator("#log-list")).not().containsText("wire-hours");
        assertThat(page.locator("#log-list")).not().containsText("first-fire");
    }

    @Test
    void alarmsOfAnotherForgeStayOnTheStripOfTheScreenOfAlarms() {
        forge.add(ScriptedForge.LOFT, "Loft forge");
        forge.burning(ScriptedForge.QUARRY, 1_102, gasFalling());
        forge.burning(ScriptedForge.LOFT, 1_060, gasFalling());
        Page page = open(1_280, 800, "alarms");
        assertThat(page.locator("#notices .notice:visible")).hasCount(1);
        waitFor(page, "#notices .notice:visible", "Loft forge: Gas falling");
        waitFor(page, "#standing", "Gas falling");
    }

    @Test
    void theKeyboardAloneShelvesAndTakesBackAndNeverLosesItsPlace() {
        forge.burning(ScriptedForge.QUARRY, 1_251, chamberHigh());
        Page page = open(1_280, 800, "alarms");
        for (String within : new String[] {"#notices", "#standing"}) {
            Locator row = page.locator(within + " [data-alarm='chamber-high']");
            named(row, "Shelve …: Chamber high").focus();
            page.keyboard().press("Enter");
            assertThat(row.locator(".shelves button").first()).isFocused();
            page.keyboard().press("Tab");
            page.keyboard().press("Tab");
            page.keyboard().press("Tab");
            page.keyboard().press("Tab");
            page.keyboard().press("Enter");
            assertThat(row.locator(".shelves")).hasCount(0);
            assertThat(row.locator("button").first()).isFocused();
        }
        assertThat(forge.acted()).isEmpty();
        page.keyboard().press("Tab");
        page.keyboard().press("Enter");
        page.keyboard().press("Enter");
        assertThat(onlyAction().shelfS()).isEqualTo(900);
        assertThat(named(page.locator("#standing"), "Take back: Chamber high, from the shelf"))
                .isFocused();
    }

    /** Text below the contrast of WCAG 2.2 AA, and controls below its target size of 24 px. */
    private static final String FAULTS = """
            () => {
              const rgb = colour => colour.match(/[\\d.]+/g).map(Number);
              const linear = v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
              const light = ([r, g, b]) => 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
              const behind = e => {
                for (; e; e = e.parentElement) {
                  const back = rgb(getComputedStyle(e).backgroundColor);
                  if (back.length < 4 || back[3] === 1) return back;
                }
                return [255, 255, 255];
              };
              const faults = [];
              const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
              for (let node = texts.nextNode(); node; node = texts.nextNode()) {
                const e = node.parentElement;
                if (!node.data.trim() || !e.checkVisibility() || e.closest('svg, .chart, script, noscript, option')) continue;
                const style = getComputedStyle(e);
                const a = light(rgb(style.color)), b = light(behind(e));
                const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
                const px = parseFloat(style.fontSize);
                const large = px >= 24 || px >= 18.66 && Number(style.fontWeight) >= 700;
                if (ratio < (large ? 3 : 4.5)) faults.push(`${ratio.toFixed(2)}: ${node.data.trim()}`);
              }
              for (const e of document.querySelectorAll('button, select, input, a')) {
                const { width, height } = e.getBoundingClientRect();
                if (e.checkVisibility() && !e.matches('.skip') && (width < 24 || height < 24)) {
                  faults.push(`${width} × ${height} px: ${e.textContent || e.id}`);
                }
              }
              return faults.join('; ');
            }""";

    @Test
    void everyWordIsLegibleAndEveryControlLargeEnoughByDayAndByNight() {
        outputs();
        someJournal();
        forge.burning(ScriptedForge.QUARRY, 1_251, forge.flameOut(), chamberHigh(), gasFalling());
        forge.act(ScriptedForge.QUARRY, AlarmAction.outOfService(AlarmId.SHELL_HIGH, true, "Ida"));
        for (ColorScheme scheme : List.of(ColorScheme.LIGHT, ColorScheme.DARK)) {
            for (String screen : List.of("now", "alarms")) {
                Page page = browser.readPage(360, 740, scheme);
                page.navigate(dashboard.url("/#" + screen));
                assertThat(page.locator("#notices .grave")).isVisible();
                if (screen.equals("alarms")) {
                    waitFor(page, "#journal", "Flame out raised");
                    waitFor(page, "[data-output='siren']", "nothing sent yet");
                }
                assertThat(page.evaluate(FAULTS)).as("%s, %s", screen, scheme).isEqualTo("");
                page.close();
            }
        }
    }

    private void note(double secondsFromNow, String name, String text) {
        forge.add(new Note(ScriptedForge.QUARRY, forge.now().plusSeconds(secondsFromNow), name, text));
    }
}
