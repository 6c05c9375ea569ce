package org.bankfire.dashboard.page;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Route;
import com.microsoft.playwright.assertions.LocatorAssertions;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.WaitUntilState;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.concurrent.atomic.AtomicReference;
import java.util.regex.Pattern;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmStatus;
import org.bankfire.analysis.alarm.Priority;
import org.bankfire.analysis.burn.BurnPhase;
import org.bankfire.analysis.monitor.FlameState;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.dashboard.testing.Browser;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** All forges of a club at a glance, in a real browser. */
class FleetPageIT {
    private static final List<String> NAMES = List.of(
            "Anvil 1",
            "Anvil 2",
            "Anvil 10",
            "Beck",
            "Birch",
            "Cinder",
            "Dale",
            "Elder",
            "Fell",
            "Garth",
            "Holm",
            "Ivy",
            "Lane end",
            "Larch",
            "Mere",
            "Nook",
            "Oak",
            "Pine",
            "Rowan");

    private final ScriptedForge forge = new ScriptedForge();
    private RunningDashboard dashboard;
    private Browser browser;

    @BeforeEach
    void start() throws IOException {
        dashboard = new RunningDashboard(forge);
        browser = new Browser();
    }

    @AfterEach
    void stop() {
        forge.hush();
        browser.close();
        dashboard.close();
    }

    private static String id(String name) {
        return name.toLowerCase(Locale.ROOT).replace(' ', '-');
    }

    private void put(String name, double chamberC, BurnPhase phase, FlameState flame, AlarmStatus... alarms) {
        forge.publish(forge.snapshot(id(name), chamberC, Quality.GOOD, phase, flame, List.of(alarms), List.of()));
    }

    private AlarmStatus high(AlarmState state) {
        return forge.alarm(AlarmId.CHAMBER_HIGH, state, Priority.HIGH, 1_251, "The chamber is at 1251 °C.");
    }

    /** Twenty forges as a club has them of an evening; the Quarry forge is one. */
    private void club() {
        NAMES.forEach(name -> forge.add(id(name), name));
        evening();
        // None falls silent but what shall.
        forge.speakOn();
    }

    private void evening() {
        put(ScriptedForge.QUARRY, 1_071, BurnPhase.COOLING, FlameState.OUT, forge.flameOut());
        put("Birch", 1_251, BurnPhase.HEATING, FlameState.BURNING, high(AlarmState.UNACKNOWLEDGED));
        put("Anvil 10", 1_204, BurnPhase.STEADY, FlameState.BURNING, high(AlarmState.ACKNOWLEDGED));
        put("Dale", 940, BurnPhase.COOLING, FlameState.OUT);
        forge.fallSilent("elder", 300);
        // Fell is not heard of.
        for (String name : List.of("Anvil 1", "Anvil 2", "Garth", "Holm", "Oak")) {
            put(name, 1_100 + name.length(), BurnPhase.HEATING, FlameState.BURNING);
        }
        put("Pine", 1_052, BurnPhase.IDLING, FlameState.BURNING);
        for (String name : List.of("Beck", "Cinder", "Ivy", "Lane end", "Larch", "Mere", "Nook", "Rowan")) {
            put(name, 19 + name.length(), BurnPhase.COLD, FlameState.OFF);
        }
    }

    private Page open(int width, int height, ColorScheme scheme) {
        Page page = browser.readPage(width, height, scheme);
        page.navigate(dashboard.url("/#/fleet"));
        return page;
    }

    private static void waitFor(Page page, String selector, String text) {
        assertThat(page.locator(selector)).containsText(text);
    }

    private static LocatorAssertions assertThatNames(Page page, String list) {
        return assertThat(page.locator(list + " .fleet-name"));
    }

    @Test
    void oneForgeHasNoListOfForges() {
        forge.burning(ScriptedForge.QUARRY, 1_100);
        Page page = browser.readPage(360, 740, ColorScheme.LIGHT);
        page.navigate(dashboard.url("/"));
        waitFor(page, "#temperature", "1100");
        assertThat(page.locator("#to-fleet")).isHidden();
        assertThat(browser.requests()).noneMatch(url -> url.contains("fleet/screen") || url.contains("/fleet?"));
    }

    @Test
    void thoseThatNeedSomebodyStandAboveAndAllAreCounted() {
        club();
        Page page = open(1_280, 800, ColorScheme.LIGHT);
        waitFor(
                page,
                "#fleet-title",
                "2 call for somebody, 1 with a flame in doubt, 1 silent, 1 not heard of yet, 7 more burning, 8 out.");
        assertThatNames(page, "#fleet-needs-list")
                .hasText(new String[] {"Quarry forge", "Birch", "Dale", "Elder", "Fell"});
        assertThatNames(page, "#fleet-others-list").hasText(new String[] {
            "Anvil 1",
            "Anvil 2",
            "Anvil 10",
            "Beck",
            "Cinder",
            "Garth",
            "Holm",
            "Ivy",
            "Lane end",
            "Larch",
            "Mere",
            "Nook",
            "Oak",
            "Pine",
            "Rowan",
        });
        assertThat(page.locator("li[data-forge='quarry']")).containsText("Flame out: calls.");
        assertThat(page.locator("li[data-forge='quarry']")).containsText("1071 °C");
        assertThat(page.locator("li[data-forge='anvil-10']")).containsText("Chamber high: acknowledged, still there.");
        assertThat(page.locator("li[data-forge='dale']")).containsText("The flame is out while gas flows.");
        assertThat(page.locator("li[data-forge='elder']"))
                .containsText(Pattern.compile("Silent: last heard \\d+ min ago\\."));
        assertThat(page.locator("li[data-forge='elder']")).containsText("1130 °C then");
        assertThat(page.locator("li[data-forge='fell']")).containsText("Not heard of since the daemon started.");
        assertThat(page.locator("li[data-forge='garth']")).containsText("rising");
        assertThat(page.locator("li[data-forge='garth']")).containsText("gas 0.82 bar");
        assertThat(page.locator("li[data-forge='garth']")).containsText("1.04 kg");
        assertThat(page.locator("#to-fleet")).hasAttribute("aria-current", "page");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theListIsFilteredByNameAndByWhatGoesOnAndNeverBlank() {
        club();
        Page page = open(360, 740, ColorScheme.LIGHT);
        waitFor(page, "#fleet-title", "2 call");
        page.locator("#fleet-filter").fill("ANVIL");
        assertThat(page.locator("#screen-fleet li")).hasCount(3);
        waitFor(page, "#fleet-shown", "3 of 20 shown.");
        page.locator("#fleet-filter").fill("zinc");
        waitFor(page, "#fleet-shown", "None of 20 forges has “zinc” in its name. Empty the field");
        page.locator("#fleet-filter").fill("");
        assertThat(page.locator("#screen-fleet li")).hasCount(20);
        page.locator("#fleet-only").click();
        assertThat(page.locator("#fleet-only")).hasAttribute("aria-pressed", "true");
        assertThat(page.locator("#screen-fleet li")).hasCount(12);
        assertThat(page.locator("#screen-fleet li[data-forge='beck']")).hasCount(0);
        waitFor(page, "#fleet-title", "2 call");
        page.reload();
        assertThat(page.locator("#screen-fleet li")).hasCount(12);
    }

    @Test
    void aForgeThatBeginsToCallMovesUpAndTheKeyboardStaysWhereItWas() {
        club();
        Page page = open(1_280, 800, ColorScheme.LIGHT);
        waitFor(page, "#fleet-title", "7 more burning");
        page.evaluate("document.querySelectorAll('#screen-fleet li').forEach((li) => { li.same = true; })");
        Locator oak = page.locator("li[data-forge='oak'] a");
        oak.focus();
        put("Oak", 1_252, BurnPhase.HEATING, FlameState.BURNING, high(AlarmState.UNACKNOWLEDGED));
        waitFor(page, "#fleet-title", "3 call for somebody");
        assertThatNames(page, "#fleet-needs-list")
                .hasText(new String[] {"Quarry forge", "Birch", "Oak", "Dale", "Elder", "Fell"});
        assertThat(oak).isFocused();
        put("Oak", 1_190, BurnPhase.HEATING, FlameState.BURNING);
        put(ScriptedForge.QUARRY, 1_071, BurnPhase.COOLING, FlameState.OFF);
        waitFor(page, "#fleet-title", "1 calls for somebody");
        assertThatNames(page, "#fleet-needs-list").hasText(new String[] {"Birch", "Dale", "Elder", "Fell"});
        assertThat(oak).isFocused();
        // Lines are moved and changed, not made anew.
        assertThat(page.evaluate("[...document.querySelectorAll('#screen-fleet li')].every((li) => li.same)"))
                .isEqualTo(true);
        page.keyboard().press("Enter");
        waitFor(page, "#forge-name", "Oak");
        waitFor(page, "#temperature", "1190");
        assertThat(page.locator("#screen-now")).isVisible();
        assertThat(page.locator("#heat")).isFocused();
        assertThat(page).hasURL(Pattern.compile("\\?forge=oak#now$"));
        page.goBack();
        waitFor(page, "#fleet-title", "1 calls");
    }

    @Test
    void whoHearsThePageIsToldOfOneThatFallsSilentAndOfAlarmsByTheGravest() {
        club();
        Page page = open(1_280, 800, ColorScheme.LIGHT);
        waitFor(page, "#strip-more", "Quarry forge: Flame out. 3 alarms stand at 3 forges, 2 calling.");
        assertThat(page.locator("#notices article")).hasCount(0);
        waitFor(page, "#fleet-title", "1 silent");
        assertThat(page.locator("#fleet-said")).isEmpty();
        forge.fallSilent("holm", 30);
        waitFor(page, "li[data-forge='holm']", "Silent");
        waitFor(page, "#fleet-said", "Holm: fallen silent");
    }

    @Test
    void aTapOnOneThatCallsLeadsToWhereItIsAcknowledged() {
        club();
        Page page = open(360, 740, ColorScheme.LIGHT);
        page.locator("li[data-forge='birch'] a").click();
        waitFor(page, "#forge-name", "Birch");
        page.locator("#notices .here .acknowledge").click();
        page.waitForCondition(() -> !forge.acknowledged().isEmpty());
        assertThat(forge.acknowledged().get(0).forge()).isEqualTo("birch");
    }

    @Test
    void onOtherScreensManyAlarmsElsewhereDoNotCoverThePage() {
        club();
        for (String name : NAMES) {
            put(name, 1_251, BurnPhase.HEATING, FlameState.BURNING, high(AlarmState.UNACKNOWLEDGED));
        }
        Page page = browser.readPage(1_280, 800, ColorScheme.LIGHT);
        page.navigate(dashboard.url("/?forge=quarry#now"));
        waitFor(page, "#strip-more", "15 alarms stand at 15 other forges, 15 calling. All forges");
        assertThat(page.locator("#notices article")).hasCount(5);
        page.locator("#strip-more a").click();
        waitFor(page, "#fleet-title", "20 call for somebody.");
    }

    @Test
    void aDaemonThatIsGoneLeavesWhatWasMarkedAsPastAndItComesBack() throws Exception {
        club();
        Page page = open(360, 740, ColorScheme.LIGHT);
        waitFor(page, "#fleet-title", "2 call");
        int port = dashboard.port();
        dashboard.close();
        waitFor(page, "#fleet-state", "Not now: this is how it was at ");
        assertThat(page.locator("#screen-fleet")).hasAttribute("data-state", "gone");
        shoot(page, "fleet-gone-360");
        forge.add("zeal", "Zeal");
        evening();
        dashboard = RunningDashboard.again(forge, port);
        assertThat(page.locator("#fleet-state")).isHidden();
        // Another run of the daemon numbers its looks anew: everything is told again.
        assertThat(page.locator("li[data-forge='zeal']")).hasCount(1);
    }

    @Test
    void itIsShownOnlyOnceItsStyleIsThere() {
        club();
        Page page = browser.readPage(360, 740, ColorScheme.LIGHT);
        AtomicReference<Route> style = new AtomicReference<>();
        page.route("**/fleet.css", style::set);
        // What it is made of is there, but for its style.
        page.waitForResponse(
                        "**/fleet/screen.js",
                        () -> page.navigate(
                                dashboard.url("/#/fleet"),
                                new Page.NavigateOptions().setWaitUntil(WaitUntilState.COMMIT)))
                .finished();
        page.waitForCondition(() -> style.get() != null);
        // Two seconds of the page's clock are many times what the rest takes.
        Locator clock = page.locator("#clock");
        assertThat(clock).hasText(Pattern.compile("\\d\\d:\\d\\d:\\d\\d"));
        for (int i = 0; i < 2; i++) {
            String before = clock.textContent();
            assertThat(clock).not().hasText(before);
        }
        assertThat(page.locator("#screen-fleet li")).hasCount(0);
        Objects.requireNonNull(style.get()).resume();
        assertThat(page.locator("#screen-fleet li")).hasCount(20);
    }

    @ParameterizedTest
    @CsvSource({
        "320, 700, LIGHT",
        "360, 740, LIGHT",
        "360, 740, DARK",
        "820, 1180, LIGHT",
        "1280, 800, LIGHT",
        "1280, 800, DARK"
    })
    void itIsLegibleAtEverySizeByDayAndByNight(int width, int height, ColorScheme scheme) {
        club();
        Page page = open(width, height, scheme);
        waitFor(page, "#fleet-title", "2 call");
        assertThat(page.locator("#screen-fleet li")).hasCount(20);
        Legible.hold(page, "the fleet at " + width);
        shoot(page, "fleet-" + width + "-" + scheme.name().toLowerCase(Locale.ROOT));
        page.screenshot(new Page.ScreenshotOptions()
                .setPath(Browser.picture(
                        "fleet-whole-" + width + "-" + scheme.name().toLowerCase(Locale.ROOT)))
                .setFullPage(true));
    }

    private static void shoot(Page page, String name) {
        page.screenshot(new Page.ScreenshotOptions().setPath(Browser.picture(name)));
    }
}
