package org.bankfire.dashboard.page;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.APIResponse;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Route;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.RequestOptions;
import java.io.IOException;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.atomic.AtomicReference;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.dashboard.testing.Browser;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Writing settings down and correcting entries, as people see and do it. */
class LogPageIT {

    private final ScriptedForge forge = new ScriptedForge();
    private RunningDashboard dashboard;
    private Browser browser;

    @BeforeEach
    void start() throws IOException {
        forge.burning(ScriptedForge.QUARRY, 1_102);
        forge.add(new Setting(ScriptedForge.QUARRY, forge.now().plusSeconds(-1_200), "setting-jet", "0.8", "mm"));
        forge.add(new Note(ScriptedForge.QUARRY, forge.now().plusSeconds(-900), Note.STOCK, "in"));
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
        waitFor(page.locator("#log-list"), "jet 0.8 mm");
        return page;
    }

    private static void waitFor(Locator locator, String text) {
        assertThat(locator).containsText(text);
    }

    private static void shoot(Page page, String name) {
        page.screenshot(
                new Page.ScreenshotOptions().setPath(Browser.picture(name)).setFullPage(true));
    }

    @ParameterizedTest
    @ValueSource(ints = {360, 1_280})
    void aLineIsCorrectedWhereItStandsAndItsHistoryIsShown(int width) {
        Page page = open(width, 800);
        Locator line = page.locator("#log-list li", new Page.LocatorOptions().setHasText("jet"));
        // By keyboard alone.
        line.locator(".pen").focus();
        page.keyboard().press("Enter");
        assertThat(line.getByLabel("What it should say")).isFocused();
        page.keyboard().press("Control+A");
        page.keyboard().type("9 mm");
        page.keyboard().press("Enter");
        waitFor(line.locator("[role=status]"), "0.1 mm to 5 mm");
        page.keyboard().press("Control+A");
        page.keyboard().type("0.9 mm");
        page.keyboard().press("Enter");
        waitFor(page.locator("#log-status"), "Corrected: jet 0.9 mm");
        waitFor(line, "jet 0.9 mm (corrected)");
        assertThat(line.locator(".pen")).isFocused();
        line.locator(".pen").click();
        waitFor(line.locator(".history"), "0.8 mm became 0.9 mm");
        shoot(page, "log-correcting-" + width);
        assertThat(forge.settings()).extracting(Setting::value).containsExactly("0.8");
        Correction kept = Correction.of(forge.notes().get(1)).orElseThrow();
        assertThat(kept.value()).isEqualTo("0.9 mm");
        assertThat(kept.by()).isEqualTo("page");
        assertThat((boolean) page.evaluate("() => document.documentElement.scrollWidth <= innerWidth"))
                .isTrue();
    }

    @Test
    void whatAnotherWritesLeavesTheKeyboardWhereItStands() {
        Page page = open(360, 740);
        Locator pen = page.locator("#log-list li", new Page.LocatorOptions().setHasText("jet"))
                .locator(".pen");
        pen.focus();
        write(page, "from another phone");
        waitFor(page.locator("#log-list"), "from another phone");
        assertThat(pen).isFocused();
    }

    /** Written by somebody else. */
    private void write(Page page, String text) {
        page.request()
                .post(
                        dashboard.url("/api/v1/forges/" + ScriptedForge.QUARRY + "/notes"),
                        RequestOptions.create()
                                .setHeader("Origin", dashboard.url(""))
                                .setData(Map.of("name", "note", "text", text)));
    }

    @Test
    void anAnswerThatComesLateDoesNotTakeAwayWhatIsNewer() {
        Page page = open(360, 740);
        AtomicReference<Route> late = new AtomicReference<>();
        AtomicReference<APIResponse> old = new AtomicReference<>();
        page.route("**/entries", route -> {
            if (late.compareAndSet(null, route)) {
                old.set(route.fetch());
            } else {
                route.resume();
            }
        });
        write(page, "the first");
        page.waitForCondition(() -> old.get() != null);
        write(page, "the second");
        waitFor(page.locator("#log-list"), "the second");
        page.waitForResponse(
                "**/entries",
                () -> Objects.requireNonNull(late.get()).fulfill(new Route.FulfillOptions().setResponse(old.get())));
        // Long enough for the page to have taken it.
        page.evaluate("new Promise((done) => setTimeout(done, 100))");
        assertThat(page.locator("#log-list")).containsText("the second");
    }

    @Test
    void aLineIsCorrectedThoughAnotherComesWhileItsEditorIsFetched() {
        Page page = open(360, 740);
        AtomicReference<Route> editor = new AtomicReference<>();
        page.route("**/log/editor.js", editor::set);
        Locator line = page.locator("#log-list li", new Page.LocatorOptions().setHasText("jet"));
        line.locator(".pen").click();
        page.waitForCondition(() -> editor.get() != null);
        page.waitForResponse("**/entries", () -> write(page, "from another phone"))
                .finished();
        Objects.requireNonNull(editor.get()).resume();
        assertThat(line.getByLabel("What it should say")).isFocused();
        page.keyboard().press("Escape");
        waitFor(page.locator("#log-list"), "from another phone");
        assertThat(line.locator(".pen")).isFocused();
    }

    @Test
    void whatIsWithdrawnStaysInTheListAndCanBeBroughtBack() {
        Page page = open(360, 740);
        Locator line = page.locator("#log-list li", new Page.LocatorOptions().setHasText("stock in"));
        line.locator(".pen").click();
        line.getByText("Withdraw", new Locator.GetByTextOptions().setExact(true))
                .click();
        waitFor(page.locator("#log-status"), "Withdrawn: stock in.");
        waitFor(line, "(withdrawn)");
        assertThat(line.locator("s")).hasText("stock in");
        line.locator(".pen").click();
        line.locator("button[type=submit]").click();
        waitFor(page.locator("#log-status"), "Corrected: stock in");
        assertThat(line.locator("s")).hasCount(0);
        line.locator(".pen").click();
        waitFor(line.locator(".history"), "withdrawn; it said in");
        waitFor(line.locator(".history"), "stands again");
        page.keyboard().press("Escape");
        assertThat(line.locator("form")).hasCount(0);
    }

    @ParameterizedTest
    @ValueSource(ints = {360, 1_280})
    void theSettingsShowWhatIsInForceAndTakeWhatChanged(int width) {
        Page page = open(width, 800);
        page.locator("#settings summary").click();
        waitFor(page.locator("#settings dl"), "jet0.8 mm since");
        page.getByLabel("Jet, mm").fill("0.9");
        page.getByLabel("Choke").fill("50 %");
        page.getByLabel("Cylinder weighs").fill("25");
        page.getByLabel("Unit of the weighing").selectOption("lb");
        page.locator(".settings-form button[type=submit]").click();
        waitFor(page.locator("#settings dl"), "choke50 % since");
        waitFor(page.locator("#settings dl"), "jet0.9 mm since");
        waitFor(page.locator("#log-list"), "cylinder weighed: 25 lb");
        assertThat(forge.weighings()).extracting(Reading::value).containsExactly(11.33980925);
        page.getByText("Burns unsteadily below this pressure").click();
        waitFor(page.locator("#settings dl"), "burns unsteadily below0.82 bar since");
        page.getByLabel("Jet position, mm").fill("far");
        page.getByLabel("Jet position, mm").press("Enter");
        waitFor(page.locator("#settings [role=status]"), "-500 mm to 500 mm");
        assertThat(page.getByLabel("Jet position, mm")).isFocused();
        shoot(page, "settings-" + width);
        assertThat((boolean) page.evaluate("() => document.documentElement.scrollWidth <= innerWidth"))
                .isTrue();
    }

    @Test
    void theLogOfABurnIsCorrectedTooAndSaysThatTheFitIsOlder() throws Exception {
        Burn burn = forge.burns(ScriptedForge.QUARRY, 1).get(0);
        forge.fitted(burn.id(), ScriptedForge.fitOfAnHour());
        forge.add(new Setting(ScriptedForge.QUARRY, burn.start().plusSeconds(-3_600), "setting-choke", "50", "%"));
        forge.add(new Setting(ScriptedForge.QUARRY, burn.start().plusSeconds(600), Setting.PLUG, "out", ""));
        Page page = browser.readPage(360, 740, ColorScheme.LIGHT);
        page.navigate(dashboard.url("/#burns/" + burn.id()));
        Locator choke = page.locator("#burn-log-list li", new Page.LocatorOptions().setHasText("choke"));
        waitFor(choke, "choke 50 % (in force when lit)");
        Locator plug = page.locator("#burn-log-list li", new Page.LocatorOptions().setHasText("plug"));
        plug.locator(".pen").click();
        plug.getByLabel("What it should say").selectOption("in");
        plug.locator("button[type=submit]").click();
        waitFor(page.locator("#burn-log-state"), "Corrected: plug in");
        waitFor(page.locator("#burn-log-state"), "fit --burn " + burn.id());
        waitFor(plug, "plug in (corrected)");
        shoot(page, "burn-log-corrected-360");
        assertThat((boolean) page.evaluate("() => document.documentElement.scrollWidth <= innerWidth"))
                .isTrue();
    }
}
