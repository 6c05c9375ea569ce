package org.bankfire.dashboard.page;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.BoundingBox;
import com.microsoft.playwright.options.ColorScheme;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Objects;
import java.util.regex.Pattern;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.BurnPhase;
import org.bankfire.analysis.monitor.FlameState;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.outlook.Doubt;
import org.bankfire.analysis.outlook.IdleAdvice.Kind;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.steady.Steadiness;
import org.bankfire.analysis.steady.Steadiness.State;
import org.bankfire.dashboard.testing.Browser;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.bankfire.dashboard.testing.ScriptedOutlook;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The page in a real browser. */
class NowPageIT {
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
        page.navigate(dashboard.url("/"));
        return page;
    }

    private static void shoot(Page page, String name, boolean whole) {
        Path path = Browser.picture(name);
        page.screenshot(new Page.ScreenshotOptions().setPath(path).setFullPage(whole));
    }

    private static void waitFor(Page page, String selector, String text) {
        assertThat(page.locator(selector)).containsText(text);
    }

    private void writeSomeLog() {
        forge.add(new Note(ScriptedForge.QUARRY, forge.now().plusSeconds(-2_400), Note.STOCK, "in"));
        forge.add(new Note(ScriptedForge.QUARRY, forge.now().plusSeconds(-1_300), Note.STOCK, "out"));
        forge.add(new Setting(ScriptedForge.QUARRY, forge.now().plusSeconds(-1_200), "plug", "in", ""));
        forge.add(new Note(
                ScriptedForge.QUARRY, forge.now().plusSeconds(-1_190), Note.REMARK, "turned down, softer roar"));
    }

    @Test
    void aValueIsShownWithinASecondOfItsChange() {
        forge.burning(ScriptedForge.QUARRY, 998);
        Page page = browser.readPage(1_280, 800, ColorScheme.LIGHT);
        page.clock().install();
        page.navigate(dashboard.url("/"));
        waitFor(page, "#temperature", "998");
        // From here on the page cannot come by anything through a timer of its own, however often that would ask.
        Browser.stopClock(page);
        long quickestNanos = Long.MAX_VALUE;
        for (int celsius = 1_000; celsius < 1_005; celsius++) {
            long begunNanos = System.nanoTime();
            forge.burning(ScriptedForge.QUARRY, celsius);
            assertThat(page.locator("#temperature")).hasText(String.valueOf(celsius));
            quickestNanos = Math.min(quickestNanos, System.nanoTime() - begunNanos);
        }
        // A machine may stand still now and then, but not each time.
        assertThat(quickestNanos).isLessThan(Duration.ofSeconds(1).toNanos());
        assertThat(page.locator("#trend")).hasText("rising 14 ± 2 K/min");
        assertThat(page.locator("#phase")).containsText("Heating up; the flame burns");
        assertThat(page.locator("#gas-pressure")).containsText("0.82 bar");
        assertThat(page.locator("#gas-flow")).containsText("0.62 kg/h");
        assertThat(page.locator("#heat-input")).containsText("8.0 kW");
        assertThat(page.locator("#gas-used")).containsText("3.01 EUR");
        assertThat(page.locator("#glow-name")).hasText("orange heat");
        assertThat(page.locator("#ledger-key")).containsText("not told apart yet");
        assertThat(page).hasTitle(Pattern.compile(".*1004 °C.*"));
    }

    @Test
    void howLongItHasBeenSteadyAndHowCloselyIsSaidWorkingOrIdling() {
        Steadiness steady = new Steadiness(State.STEADY, 0.31, 0.47, 600, 2, 740, Double.NaN, "");
        Page page = open(360, 740);
        publish(1_102, BurnPhase.STEADY, steady);
        waitFor(page, "#trend", "steady for 12 min, within ±0.8 K/min");
        assertThat(page.locator("#phase")).hasText("Steady; the flame burns.");
        shoot(page, "phone-steady", false);
        publish(1_060, BurnPhase.IDLING, steady);
        waitFor(page, "#phase", "Idling; the flame burns.");
        assertThat(page.locator("#trend")).hasText("steady for 12 min, within ±0.8 K/min");
        publish(21, BurnPhase.COLD, steady);
        waitFor(page, "#phase", "Cold");
        assertThat(page.locator("#trend")).not().containsText("steady");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void aForgeThatStillMovesSaysHowFastAndOneThatCannotBeJudgedWhatWouldTell() {
        Page page = open(360, 740);
        publish(1_102, BurnPhase.HEATING, new Steadiness(State.MOVING, 4.2, 0.6, 180, 2, Double.NaN, Double.NaN, ""));
        waitFor(page, "#trend", "still rising 14 ± 2 K/min");
        assertThat(page.locator("#phase")).hasText("Heating up; the flame burns.");
        String wanted = "Some 70 s more of readings like these would tell.";
        publish(1_102, BurnPhase.HEATING, new Steadiness(State.CANNOT_TELL, 1.2, 1.6, 120, 2, Double.NaN, 65, wanted));
        waitFor(page, "#phase", "Steady or not cannot be told yet: " + wanted);
        assertThat(page.locator("#trend")).hasText("rising 14 ± 2 K/min");
        shoot(page, "phone-not-yet-steady", false);
        assertThat(browser.complaints()).isEmpty();
    }

    private void publish(double celsius, BurnPhase phase, Steadiness steadiness) {
        FlameState flame = phase.isBurning() ? FlameState.BURNING : FlameState.OFF;
        forge.publish(ScriptedForge.withSteadiness(
                forge.snapshot(ScriptedForge.QUARRY, celsius, Quality.GOOD, phase, flame, List.of(), List.of()),
                steadiness));
    }

    @Test
    void aFlameOutFillsTheWidthWithWhatToDoFirstAndItsAcknowledgementReachesTheDaemon() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740);
        waitFor(page, "#temperature", "1102");
        forge.burning(ScriptedForge.QUARRY, 1_071, forge.flameOut());
        Locator notice = page.locator("[data-alarm='flame-out']");
        assertThat(notice).isVisible();
        assertThat(notice.locator("li").first()).hasText("Close the gas at the cylinder.");
        assertThat(notice).containsText("Let the chamber air out.");
        assertThat(notice).containsText("Only then relight.");
        assertThat(notice).containsText("critical alarm");
        assertThat(Objects.requireNonNull(notice.boundingBox()).width).isGreaterThanOrEqualTo(355);
        assertThat(page.locator("#notices")).hasAttribute("role", "alert");
        assertThat(page).hasTitle(Pattern.compile("Flame out!.*"));
        shoot(page, "phone-flame-out", false);
        tabTo(page, "Acknowledge: Flame out");
        page.keyboard().press("Enter");
        await().atMost(Browser.PATIENCE).until(() -> !forge.acknowledged().isEmpty());
        assertThat(forge.acknowledged())
                .containsExactly(new ScriptedForge.Acknowledged("quarry", AlarmId.FLAME_OUT, "page"));
        assertThat(notice).containsText("acknowledged, still there");
        assertThat(page.locator(".acknowledge")).hasCount(0);
        assertThat(notice.locator("li").first()).isVisible();
        shoot(page, "phone-acknowledged", false);
        assertThat(browser.complaints()).isEmpty();
    }

    /** Moves by keyboard alone, and fails when the control cannot be reached. */
    private static void tabTo(Page page, String label) {
        for (int i = 0; i < 20; i++) {
            page.keyboard().press("Tab");
            Object here = page.evaluate("document.activeElement.getAttribute('aria-label')");
            if (label.equals(here)) {
                return;
            }
        }
        throw new AssertionError("the keyboard does not reach \"" + label + "\"");
    }

    @Test
    void aTickingTemperatureDoesNotTakeTheFocusFromAcknowledge() {
        forge.burning(ScriptedForge.QUARRY, 1_071, forge.flameOut());
        Page page = open(360, 740);
        Locator acknowledge = page.locator("[data-alarm='flame-out'] .acknowledge");
        acknowledge.focus();
        for (int i = 0; i < 5; i++) {
            forge.burning(ScriptedForge.QUARRY, 1_060 - i, forge.flameOut());
            waitFor(page, "#temperature", String.valueOf(1_060 - i));
        }
        assertThat(acknowledge).isFocused();
    }

    @Test
    void aDaemonThatFallsSilentIsCalledOutAndItsReturnIsCaughtUp() throws Exception {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740);
        waitFor(page, "#temperature", "1102");
        int port = dashboard.port();
        dashboard.close();
        waitFor(page, "#notices", "No word from the daemon");
        waitFor(page, "#notices", "Watch the flame yourself");
        assertThat(page.locator("#heat")).hasAttribute("data-state", "gone");
        shoot(page, "phone-daemon-gone", false);
        page.locator("[data-alarm='page-daemon-gone'] .acknowledge").click();
        assertThat(page.locator(".acknowledge")).hasCount(0);
        forge.burning(ScriptedForge.QUARRY, 1_099);
        dashboard = RunningDashboard.again(forge, port);
        waitFor(page, "#temperature", "1099");
        assertThat(page.locator("#notices article")).hasCount(0);
        assertThat(page.locator("#heat")).hasAttribute("data-state", "live");
    }

    @Test
    void readingsThatStopWhileBurningAreCalledOutByThePageItself() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(1_280, 800);
        waitFor(page, "#temperature", "1102");
        // Nothing is said any more: the page itself lets what it heard last grow old, from a second before it is.
        forge.hush();
        heardLast(ScriptedForge.NO_DATA_AFTER_S - 1);
        waitFor(page, "#state", "Not now");
        assertThat(page.locator("#heat")).hasAttribute("data-state", "stale");
        heardLast(2 * ScriptedForge.NO_DATA_AFTER_S - 1);
        waitFor(page, "#notices", "The readings have stopped");
        shoot(page, "desk-stale", false);
        forge.burning(ScriptedForge.QUARRY, 1_100);
        assertThat(page.locator("#notices article")).hasCount(0);
        assertThat(browser.complaints()).isEmpty();
    }

    private void heardLast(double agoS) {
        ForgeSnapshot last = forge.snapshot(ScriptedForge.QUARRY).orElseThrow();
        forge.publish(ScriptedForge.aged(ScriptedForge.now(last), agoS));
    }

    @Test
    void aForgeWithoutAReadingSaysHowToConnect() {
        Page page = open(360, 740);
        waitFor(page, "#state", "[[source]]");
        assertThat(page.locator("#heat")).hasAttribute("data-state", "empty");
        shoot(page, "phone-empty", true);
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void aForgeThatIsNotWatchedSaysSoInsteadOfWaitingForAReading() {
        forge.burning(ScriptedForge.QUARRY, 1_100);
        Page page = open(360, 740);
        waitFor(page, "#temperature", "1100");
        forge.unwatch(ScriptedForge.QUARRY);
        waitFor(page, "#state", "Nobody watches this forge");
        assertThat(page.locator("#heat")).hasAttribute("data-state", "bad");
        assertThat(page.locator("#temperature")).not().containsText("1100");
        assertThat(page.locator("#phase")).hasText("What it does is not known.");
        assertThat(page.locator("body")).containsText("Watch lost");
        shoot(page, "phone-unwatched", true);
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void aBadSensorIsSaidInWords() {
        forge.publish(forge.snapshot(
                ScriptedForge.QUARRY,
                0,
                Quality.OPEN,
                BurnPhase.STEADY,
                FlameState.UNAVAILABLE,
                List.of(forge.alarm(
                        AlarmId.CHAMBER_SENSOR_BAD,
                        AlarmState.UNACKNOWLEDGED,
                        Priority.HIGH,
                        Double.NaN,
                        "The chamber thermocouple's circuit is open.")),
                List.of()));
        Page page = open(360, 740);
        waitFor(page, "#state", "check the thermocouple and its screws");
        waitFor(page, "#phase", "the flame cannot be judged");
        shoot(page, "phone-sensor-bad", false);
    }

    @Test
    void theCautionsAreShownAtTheFirstStartAndOnceReadOnlyWhenAskedFor() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = browser.page(360, 740, ColorScheme.LIGHT);
        page.navigate(dashboard.url("/"));
        assertThat(page.locator("#cautions")).containsText("not a burner safety control");
        waitFor(page, "#temperature", "1102");
        shoot(page, "phone-cautions", false);
        page.locator("#cautions-read").click();
        assertThat(page.locator("#cautions")).isHidden();
        page.reload();
        waitFor(page, "#temperature", "1102");
        assertThat(page.locator("#cautions")).isHidden();
        page.locator("#cautions-show").click();
        assertThat(page.locator("#cautions")).isVisible();
        assertThat(page.locator("#cautions-title")).isFocused();
    }

    @Test
    void oneTapWritesDownWhatWasDone() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740);
        waitFor(page, "#temperature", "1102");
        page.locator("#taps button", new Page.LocatorOptions().setHasText("Stock in"))
                .click();
        waitFor(page, "#log-status", "Written down at");
        assertThat(forge.notes()).extracting(Note::name, Note::text).containsExactly(tuple(Note.STOCK, "in"));
        page.locator("#taps button", new Page.LocatorOptions().setHasText("Plug out"))
                .click();
        waitFor(page, "#log-status", "plug out");
        assertThat(forge.settings()).extracting(Setting::name, Setting::value).containsExactly(tuple("plug", "out"));
        page.locator("#note-text").fill("<b>soft</b> roar");
        page.keyboard().press("Enter");
        waitFor(page, "#log-list", "<b>soft</b> roar");
        waitFor(page, "#log-list", "stock in");
        assertThat(page.locator("#note-text")).hasValue("");
        assertThat(browser.complaints()).isEmpty();
    }

    private static org.assertj.core.groups.Tuple tuple(Object... values) {
        return org.assertj.core.groups.Tuple.tuple(values);
    }

    @Test
    void theViewersUnitsAreKept() {
        forge.burning(ScriptedForge.QUARRY, 1_000);
        Page page = open(1_280, 800);
        waitFor(page, "#temperature", "1000");
        page.locator("#unit-temperature").selectOption("F");
        page.locator("#unit-pressure").selectOption("psi");
        // 1000 °C = 1832 °F; 0.82 bar = 11.893 psi.
        assertThat(page.locator("#temperature")).hasText("1832");
        assertThat(page.locator("#temperature-unit")).hasText("°F");
        assertThat(page.locator("#gas-pressure")).containsText("11.9 psi");
        page.reload();
        waitFor(page, "#temperature", "1832");
    }

    @Test
    void theChartIsReadUnderThePointerAndAsNumbers() {
        forge.burning(ScriptedForge.QUARRY, 1_049);
        Page page = open(1_280, 800);
        waitUntilFilled(page);
        page.locator("#chart-chamber .u-over").hover();
        assertThat(page.locator("#chart-chamber-caption"))
                .hasText(Pattern.compile("\\d\\d:\\d\\d:\\d\\d: [\\d ]+ °C.*"));
        page.locator("#chart-table summary").click();
        assertThat(page.locator("#chart-table tbody tr")).not().hasCount(0);
        // The newest stored minute of the scripted burn: turned down for 20 minutes, some 1050 °C.
        assertThat(page.locator("#chart-table tbody tr").first()).containsText("10");
        page.locator(".spans label", new Page.LocatorOptions().setHasText("1 h"))
                .click();
        waitFor(page, "#chart-chamber-caption", "from 10");
        assertThat(browser.complaints()).isEmpty();
    }

    /** Nothing more is to come that moves what stands below it. */
    private static void waitUntilFilled(Page page) {
        waitFor(page, "#temperature", "1049");
        waitFor(page, "#all-well", "No alarm stands. Heating up.");
        waitFor(page, "#chart-chamber-caption", "Chamber, °C: from 18 to 11");
        waitFor(page, "#chart-gas-caption", "from 0");
        waitFor(page, "#log-list", "Nothing written down");
        assertThat(page.locator("#zone")).hasText("Europe/Oslo");
    }

    @Test
    void thePressThatLetsSoundThroughActsOnWhatItWasPutOn() {
        forge.burning(ScriptedForge.QUARRY, 1_049);
        Page page = open(1_280, 800);
        waitUntilFilled(page);
        Locator silent = page.locator("#sound-notice");
        assertThat(silent).isVisible();
        page.locator("#chart-chamber .u-over").hover();
        assertThat(page.locator("#chart-chamber-caption")).not().containsText("Chamber");

        Locator summary = page.locator("#chart-table summary");
        BoundingBox before = Objects.requireNonNull(summary.boundingBox());
        page.mouse().move(before.x + 20, before.y + before.height / 2);
        assertThat(page.locator("#chart-chamber-caption")).containsText("Chamber");
        page.mouse().down();
        // The browser lets sound through while the button is still held.
        assertThat(silent).isHidden();
        assertThat(Objects.requireNonNull(summary.boundingBox()).y).isEqualTo(before.y);
        page.mouse().up();
        assertThat(page.locator("#chart-table tbody tr")).not().hasCount(0);
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theNoticeOfSilentAlarmsLeavesTheEndOfThePageInSight() {
        forge.burning(ScriptedForge.QUARRY, 1_049);
        for (int width : new int[] {320, 1_280}) {
            Page page = open(width, 568);
            waitUntilFilled(page);
            page.evaluate("scrollTo(0, document.body.scrollHeight)");
            BoundingBox notice =
                    Objects.requireNonNull(page.locator("#sound-notice").boundingBox());
            BoundingBox last = Objects.requireNonNull(page.locator("#zone").boundingBox());
            assertThat(last.y + last.height).as("at width %d", width).isLessThanOrEqualTo(notice.y);
            shoot(page, "silent-" + width, false);
            page.close();
        }
    }

    @Test
    void alarmsOfAnotherForgeAreShownWithItsName() {
        forge.add(ScriptedForge.LOFT, "Loft forge");
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(1_280, 800);
        waitFor(page, "#temperature", "1102");
        forge.burning(ScriptedForge.LOFT, 1_071, forge.flameOut());
        waitFor(page, "#notices", "Loft forge: Flame out");
        page.locator(".notice button", new Page.LocatorOptions().setHasText("Look at it"))
                .click();
        waitFor(page, "#temperature", "1071");
        waitFor(page, "#forge-name", "Loft forge");
        assertThat(page.locator("#notices article")).hasCount(1);
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theVirtualForgeOffersItsActions() {
        forge.offerDemo("flame-out", "stock-in");
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(1_280, 800);
        page.locator("#demo-actions button", new Page.LocatorOptions().setHasText("Flame out"))
                .click();
        await().atMost(Browser.PATIENCE).until(() -> forge.triggered().equals(List.of("flame-out")));
    }

    @Test
    void thePageAsksNobodyElseAndFitsEveryScreen() {
        writeSomeLog();
        forge.offerDemo("flame-out", "stock-in", "pull-plug");
        for (ColorScheme scheme : List.of(ColorScheme.LIGHT, ColorScheme.DARK)) {
            for (int[] size : new int[][] {{360, 740}, {1_280, 800}, {320, 568}}) {
                Page page = browser.readPage(size[0], size[1], scheme);
                page.navigate(dashboard.url("/"));
                forge.burning(
                        ScriptedForge.QUARRY,
                        1_146,
                        forge.alarm(
                                AlarmId.GAS_FALLING,
                                AlarmState.ACKNOWLEDGED,
                                Priority.MEDIUM,
                                0.7e5,
                                "Pressure sags at an untouched regulator: about 25 minutes left."));
                waitFor(page, "#temperature", "1146");
                assertThat(page.locator("#chart-state")).isHidden();
                assertThat(page.locator(".charts canvas")).hasCount(2);
                String name = (size[0] < 600 ? "phone-" + size[0] : "desk") + "-"
                        + (scheme == ColorScheme.DARK ? "dark" : "light");
                shoot(page, name, false);
                shoot(page, name + "-whole", true);
                assertThat(page.evaluate("document.documentElement.scrollWidth <= innerWidth"))
                        .as("no sideways scrolling at %d", size[0])
                        .isEqualTo(true);
                page.close();
            }
        }
        assertThat(browser.requests()).isNotEmpty().allMatch(url -> url.startsWith(dashboard.url("/")));
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theTemperatureIsLegibleFromThreeMetresOnAPhone() {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = open(360, 740);
        waitFor(page, "#temperature", "1102");
        double heightPx = ((Number)
                        page.evaluate("parseFloat(getComputedStyle(document.querySelector('.temperature')).fontSize)"))
                .doubleValue();
        // A phone's 360 px are some 65 mm; a digit is 0.7 of its font's height. At three metres 10 minutes of arc,
        // twice
        // what a normal eye resolves, are 8.7 mm.
        double digitMm = 0.7 * heightPx * 65 / 360;
        assertThat(digitMm).isGreaterThan(8.7);
        Locator strip = page.locator("#all-well");
        assertThat(strip).containsText("No alarm stands");
    }

    @Test
    void whatLiesAheadIsSaidInASentenceWithTheCurvesOnDemand() {
        forge.burning(ScriptedForge.QUARRY, 1_168);
        forge.ahead(ScriptedOutlook.of(Kind.DOWN, Doubt.PLUG_MOVED), ScriptedOutlook.score());
        Page page = open(1_280, 800);
        waitFor(
                page,
                "#ahead-hold",
                "Turn down to 0.42 bar (0.38 down): that holds 1150 °C on 0.46 kg/h (0.44 to 0.49), 0.27 kg/h less");
        assertThat(page.locator("#ahead-hold")).containsText("than full burn (0.80 EUR/h).");
        assertThat(page.locator("#ahead-settling"))
                .hasText("At this pressure it settles near 1212 °C (1199 to 1224) in 24 min (18 to 35);"
                        + " soaked, hours later, 1247 °C (1225 to 1270).");
        assertThat(page.locator("#ahead-doubt")).containsText("The plug was moved");
        assertThat(page.locator("#ahead-table")).isHidden();
        page.locator("#ahead-details summary").click();
        assertThat(page.locator("#ahead canvas")).hasCount(2);
        assertThat(page.locator("#ahead-table tbody tr")).hasCount(3);
        assertThat(page.locator("#ahead-table")).containsText("0.30 bar (0.27 to 0.34)");
        assertThat(page.locator("#ahead-pause-words"))
                .hasText(
                        "Idling takes 0.15 kg; off and lit again 0.17 kg, and 14 min (12 to 17) of waiting. Which of the"
                                + " two takes less is within what is not known. From about 29 min on turning off takes less.");
        assertThat(page.locator("#ahead-doubts")).containsText("The plug was moved");
        assertThat(page.locator("#ahead-score"))
                .hasText("2 forecasts could be compared: off by 9 K (root mean square), 1 of them inside their bands.");
        page.locator("#ahead-pause").selectOption("3600");
        page.waitForCondition(() -> forge.askedPauseS() == 3_600);
        page.locator("#unit-pressure").selectOption("psi");
        waitFor(page, "#ahead-hold", "Turn down to 6.1 psi (5.5 down)");
        page.locator("#unit-temperature").selectOption("F");
        waitFor(page, "#ahead-hold", "that holds 2102 °F");
        shoot(page, "ahead-desk", true);
        assertThat(browser.complaints()).isEmpty();
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
            HEATING | 1150 °C in about 7 min (6 to 8). Then turn to 0.42 bar (0.39 to 0.46).
            NEVER | At this pressure it does not get to 1150 °C; 1.10 bar would.
            UP | Turn up to 0.95 bar (0.15 up): that holds 1150 °C
            LEAVE | Leave the regulator: it holds 1150 °C on 0.46 kg/h
            LIMIT_LOW | the lowest at which it burns stably: the chamber ends about 38 K above 1150 °C. A smaller jet
            LIMIT_HIGH | the highest at which it burns stably: the chamber ends about 38 K above 1150 °C. A larger jet
            """)
    void everyKindOfAdviceHasItsSentence(Kind kind, String words) {
        forge.burning(ScriptedForge.QUARRY, 1_168);
        forge.ahead(ScriptedOutlook.of(kind), ScriptedOutlook.score());
        Page page = open(360, 740);
        waitFor(page, "#ahead-hold", words);
        page.locator("#ahead-details summary").click();
        assertThat(page.locator("#ahead canvas")).hasCount(2);
        assertThat(page.evaluate("document.documentElement.scrollWidth <= innerWidth"))
                .isEqualTo(true);
        shoot(page, "ahead-phone-" + kind.code(), true);
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void whatCannotBeSaidAheadIsSaidWhyAndNothingWhenNothingBurns() {
        forge.burning(ScriptedForge.QUARRY, 1_168);
        forge.ahead(ScriptedOutlook.silent(Doubt.NO_PRESSURE), ScriptedOutlook.score());
        Page page = open(360, 740);
        waitFor(page, "#ahead-hold", "The gas pressure is not measured");
        assertThat(page.locator("#ahead-details")).isHidden();
        forge.ahead(null, ScriptedOutlook.score());
        assertThat(page.locator("#ahead")).isHidden();
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void thePredictedCurveLiesBehindTheMeasuredOneWhileItBurns() {
        forge.burning(ScriptedForge.QUARRY, 1_049);
        forge.fitted("quarry-any", ScriptedForge.fitOfAnHour());
        forge.ahead(ScriptedOutlook.of(Kind.LEAVE), ScriptedOutlook.score());
        Page page = open(1_280, 800);
        waitFor(page, "#chart-chamber-caption", "broken line and grey band: as described, 95 %");
        shoot(page, "now-predicted", false);
        assertThat(browser.complaints()).isEmpty();
    }
}
