package org.bankfire.dashboard.page;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Route;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.ColorScheme;
import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import java.util.regex.Pattern;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.testing.Browser;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Trials of a forge in a real browser, whose zone is Oslo's. */
class TrialsPageIT {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final String TRIALS = "**/api/v1/forges/*/trials*";

    private final ScriptedForge forge = new ScriptedForge();
    private RunningDashboard dashboard;
    private Browser browser;

    @BeforeEach
    void start() throws IOException {
        forge.burning(ScriptedForge.QUARRY, 1_049);
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

    private Page open(int width, int height, ColorScheme scheme) {
        // A reading that is fresh: an old one calls out above the screen.
        forge.burning(ScriptedForge.QUARRY, 1_049);
        Page page = browser.readPage(width, height, scheme);
        page.navigate(dashboard.url("/#trials"));
        return page;
    }

    private Page openDesk() {
        Page page = open(1_280, 800, ColorScheme.LIGHT);
        waitFor(page, "#trials-table", "Trial 3");
        return page;
    }

    private static void waitFor(Page page, String selector, String text) {
        assertThat(page.locator(selector)).containsText(text);
    }

    private static ObjectNode sample() throws IOException {
        return (ObjectNode) JSON.readTree(ScriptedForge.threeTrials());
    }

    private static Locator figure(Page page, String key) {
        return page.locator("#trials-table tr[data-figure='" + key + "']");
    }

    private static Locator difference(Page page, String key) {
        return page.locator("#trials-verdict details[data-figure='" + key + "']");
    }

    @Test
    void settingsAndFiguresStandSideBySideWithIntervalsAndVerdicts() {
        Page page = open(1_280, 800, ColorScheme.LIGHT);
        assertThat(page.locator("#trials-state")).isHidden();
        assertThat(page).hasTitle(Pattern.compile("^Trials, 1049 °C – Quarry forge$"));
        Locator heads = page.locator("#trials-table thead th");
        assertThat(heads).hasText(new String[] {"what", "Trial 13 burns", "Trial 22 burns", "Trial 31 burn, set now"});
        assertThat(page.locator("#trials-table tbody").first().locator("tr")).hasText(new String[] {
            "chokeopenhalfchangedhalf", "jet0.8 mm0.8 mm0.9 mmchanged", "plugininin",
        });
        Locator time = figure(page, "timeToTarget@1150");
        // 1716.28 s (1673.373 to 1759.187), 1600.72 s (1560.702 to 1640.738).
        assertThat(time.locator("th")).hasText("Time to 1150 °Cmin:s☞ verdicts rest on this");
        assertThat(time.locator("td").first()).hasText("28:3627:53 to 29:19");
        assertThat(time.locator("td").nth(1)).hasText("26:4126:01 to 27:21−6.8 % real, better");
        assertThat(time.locator("td").nth(2)).containsText("−1.1 % cannot tell");
        assertThat(figure(page, "heatingRate@600").locator("td").nth(1)).hasText("49.147.9 to 50.3+6.5 % within noise");
        assertThat(figure(page, "efficiency@1150").locator("td").first()).hasText("23.623.0 to 24.2");
        assertThat(figure(page, "mixture@").locator("td").nth(1)).containsText("−13.6 % real");
        assertThat(figure(page, "mixture@").locator("td").nth(1)).not().containsText("better");
        assertThat(page.locator("#trials-conditions")).containsText("start at 18 °C, ambient 18 °C, gas at 0.85 bar");
        assertThat(page.locator("#trials-remarks li")).hasCount(2);
        page.locator("#trials-against").selectOption("1");
        assertThat(time.locator("td").nth(2)).containsText("−7.8 % real, better");
        assertThat(page.locator("#trials-pair option"))
                .hasText(new String[] {"trial 3 against trial 1", "trial 2 against trial 1"});
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void whatAChangeDidIsToldWithItsEvidence() {
        Page page = openDesk();
        waitFor(page, "#trials-verdict .verdict", "these burns cannot tell");
        page.locator("#trials-pair").selectOption("2");
        assertThat(page.locator("#trials-verdict p").first())
                .hasText("Changed from trial 1 to trial 2: choke from open to half.");
        assertThat(page.locator("#trials-verdict .verdict"))
                .hasText(Pattern.compile(
                        "^real: Time to target is 6.8 % less in trial 2 .*0.4 % of such comparisons.$"));
        // The shape differs with the words.
        assertThat(page.locator("#trials-verdict .verdict .judged.real path")).hasAttribute("d", "M8 1L15 8L8 15L1 8Z");
        Locator time = difference(page, "timeToTarget@1150");
        assertThat(time.locator("summary")).containsText("−6.8 %−10.4 to −3.2 %real, better");
        assertThat(time.locator(".evidence")).isHidden();
        time.locator("summary").click();
        assertThat(time.locator(".lines > div")).hasText(new String[] {
            "As great by chance, were nothing changedin 0.3 %",
            "The same, 11 figures in viewin 0.4 %",
            "Burns of equal settings scatter by1.6 % from repeated burns here, and what forges usually show;"
                    + " 6 degrees of freedom",
            "Model and instruments add0.3 %",
            "Trial 1 corrected forstart −0.05 %, ambient −0.08 %, pressure +0.40 %",
            "Trial 2 corrected forstart +0.02 %, ambient +0.03 %, pressure −0.10 %",
        });
        assertThat(time.locator(".evidence")).containsText("burns of one setting differ by 1.6 %");
        assertThat(difference(page, "heatingRate@600").locator("summary")).containsText("within noise");
        Locator flutter = difference(page, "gasFlutter@");
        assertThat(flutter.locator("summary")).containsText("cannot tell");
        flutter.locator("summary").click();
        assertThat(flutter).containsText("No burn of the second trial tells it.");
        assertThat(flutter).containsText("What would tell: read four times a second or more.");
        page.locator(".burn-by-burn summary").click();
        Locator rows = page.locator(".burn-by-burn tbody tr");
        assertThat(rows).hasCount(5);
        assertThat(rows.nth(1)).containsText("3 Mar, 10:15Trial 119 °C19 °C0.86 bar28:23start");
        assertThat(rows.nth(1)).containsText("28:36");
        assertThat(rows.nth(2)).containsText("The chamber came to 1121 °C at most");
        assertThat(rows.nth(2)).containsText("cannot tell");
        rows.nth(1).locator("a").click();
        assertThat(page).hasURL(dashboard.url("/#burns/quarry-20260303T091503Z"));
    }

    @Test
    void curvesAreSwitchedAndToldApartWithoutColour() {
        Page page = openDesk();
        Locator switches = page.locator(".switches input");
        assertThat(switches).hasCount(3);
        assertThat(page.locator("#overlay-caption")).containsText("by trial: 1, 2, 3");
        assertThat(page.locator(".switches label").nth(1)).containsText("Trial 2 choke half, jet 0.8 mm, plug in");
        List<?> dashes = (List<?>) page.evaluate("() => [...document.querySelectorAll('.dash-sample path')].map((e) =>"
                + " e.getAttribute('stroke-dasharray'))");
        assertThat(dashes).doesNotHaveDuplicates();
        page.locator("#overlay-chart .u-over").hover();
        assertThat(page.locator("#overlay-caption"))
                .hasText(Pattern.compile("\\d+\\smin \\d\\d\\ss after gas on, °C: trial 1: \\d+ and \\d+ and \\d+;"
                        + " trial 2: \\d+ and \\d+; trial 3: \\d+"));
        page.locator(".overlay-parts label").last().click();
        assertThat(page.locator("#overlay-caption")).containsText("from 900 °C up");
        page.locator(".overlay-parts label").first().click();
        switches.nth(1).uncheck();
        assertThat(page.locator("#overlay-caption")).not().containsText("2, 3");
        page.locator("#overlay-table summary").click();
        assertThat(page.locator("#overlay-table thead")).hasText("since gas ontrial 1, °Ctrial 3, °C");
        assertThat(page.locator("#overlay-table tbody tr")).hasCount(13);
        for (int i : new int[] {0, 2}) {
            switches.nth(i).uncheck();
        }
        assertThat(page.locator("#overlay-caption")).hasText("No curve is switched on.");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theViewersUnitsReachEveryFigure() {
        Page page = openDesk();
        page.locator("#trials-pair").selectOption("2");
        page.locator("#unit-temperature").selectOption("F");
        page.locator("#unit-pressure").selectOption("psi");
        // 1150 °C = 2102 °F; 1222.81 °C = 2233 °F; 46.1 K/min = 83.0 °F/min; 85 kPa = 12.3 psi; 13 K = 23.4 °F.
        assertThat(figure(page, "timeToTarget@1150").locator("th")).containsText("Time to 2102 °F");
        assertThat(figure(page, "heatingRate@600").locator("th")).containsText("Heats at 1112 °F by°F/min");
        assertThat(figure(page, "heatingRate@600").locator("td").first()).containsText("83");
        assertThat(figure(page, "steadyTemperature@").locator("td").first()).containsText("2233");
        assertThat(figure(page, "gasFlutter@").locator("th")).containsText("psi");
        assertThat(page.locator("#trials-conditions")).containsText("gas at 12.3 psi");
        assertThat(difference(page, "steadyTemperature@")).containsText("+23 °F−7.2 to 54.0 °F");
        page.locator(".burn-by-burn summary").click();
        assertThat(page.locator(".burn-by-burn")).containsText("came to 2050 °F at most");
        assertThat(page.locator("#overlay-caption")).containsText("°F");
        assertThat(page.locator("#screen-trials")).not().containsText("°C");
        assertThat(page.locator("#screen-trials")).not().containsText("bar");
    }

    @Test
    void whatIsPossibleIsMarkedAndWhatToTryNextIsSaid() {
        forge.add(new Setting(
                ScriptedForge.QUARRY, forge.now().plusSeconds(-86_400), "setting-possible-choke", "open, half", ""));
        Page page = openDesk();
        assertThat(page.locator("#trials-next .verdict"))
                .hasText("Choke closed would tell most: 0.41 bit about which of the possible settings heats up fastest,"
                        + " against 0.05 bit from repeating the present ones.");
        Locator lines = page.locator("#trials-next-words .lines > div");
        assertThat(lines.first()).hasText("Burn underchoke closed, jet 0.9 mm, plug in");
        assertThat(lines.nth(1)).containsText("0.41 bit");
        assertThat(lines.nth(3)).hasText("Change of the time to 1150 °C0.0 % −19.6 to 19.6 %");
        assertThat(page.locator(".alternatives li")).hasCount(2);
        assertThat(page.locator(".alternatives li").first()).containsText("Jet 0.7 mm0.12 bit");
        page.locator("#trials-possible summary").click();
        assertThat(page.getByLabel("Choke", exact())).hasValue("open, half");
        assertThat(page.locator("#possible-jet-since")).containsText("not marked yet");
        int asked = forge.askedTrials().size();
        page.getByLabel("Jet", exact()).fill("0.7,0.8, 0.9");
        page.getByLabel("Jet", exact()).press("Enter");
        waitFor(page, "#possible-status", "Written down: jet 0.7, 0.8, 0.9.");
        assertThat(forge.settings()).anySatisfy(setting -> {
            assertThat(setting.name()).isEqualTo("setting-possible-jet");
            assertThat(setting.value()).isEqualTo("0.7, 0.8, 0.9");
        });
        assertThat(page.locator("#possible-jet-since")).containsText(": 0.7, 0.8, 0.9");
        page.waitForCondition(() -> forge.askedTrials().size() > asked);
        assertThat(browser.complaints()).isEmpty();
        // Refused by the daemon, by its own words.
        page.getByLabel("Jet", exact()).fill("0.7, wide");
        page.getByLabel("Jet", exact()).press("Enter");
        waitFor(page, "#possible-status", "Not written down");
        assertThat(page.getByLabel("Jet", exact())).isFocused();
        assertThat(page.getByLabel("Jet", exact())).hasAttribute("aria-invalid", "true");
        page.getByLabel("Choke", exact()).fill("");
        page.getByLabel("Jet", exact()).fill("0.7,0.8, 0.9");
        page.getByLabel("Choke", exact()).press("Enter");
        waitFor(page, "#possible-status", "choke is empty");
    }

    private static Page.GetByLabelOptions exact() {
        return new Page.GetByLabelOptions().setExact(true);
    }

    @Test
    void burnsAreChosenByTickAndByDay() {
        WallTime first = WallTime.ofEpochSeconds(1_772_359_212); // 2026-03-01T10:00:12Z
        for (int i = 1; i >= 0; i--) {
            WallTime start = first.plusSeconds(i * 86_400.0);
            forge.burnt(new Burn(
                    Burn.idOf(ScriptedForge.QUARRY, start),
                    ScriptedForge.QUARRY,
                    start,
                    start.plusSeconds(3_600),
                    0.4,
                    1_200));
        }
        Page page = openDesk();
        assertThat(page.locator("#trials-which p").first()).hasText("Every burn takes part.");
        assertThat(page.locator("#trials-csv"))
                .hasAttribute("href", "api/v1/forges/" + ScriptedForge.QUARRY + "/trials.csv");
        page.locator("#trials-choose summary").click();
        page.locator("input[name='trials-burns'][value='ticked']").check();
        page.getByText("Compare these").click();
        waitFor(page, ".choose .log-status", "No burn is ticked yet");
        page.locator(".ticks label").first().click();
        page.getByText("Compare these").click();
        waitFor(page, "#trials-which .title-row", "One burn takes part, as ticked.");
        String ticked = Burn.idOf(ScriptedForge.QUARRY, first);
        page.waitForCondition(() -> asked().contains(List.of(ticked)));
        assertThat(page.locator("#trials-csv")).hasAttribute("href", Pattern.compile("burns=" + ticked + "$"));
        page.locator("#trials-from").fill("2026-03-01");
        page.locator("#trials-to").fill("2026-02-28");
        page.getByText("Compare these").click();
        waitFor(page, ".choose .log-status", "lies after the last");
        page.locator("#trials-to").fill("2026-03-02");
        page.getByText("Compare these").click();
        waitFor(page, "#trials-which", "Burns from Sun, 1 Mar 2026 to Mon, 2 Mar 2026 take part.");
        // Midnights of Oslo: 23:00 UTC of the day before.
        assertThat(page.locator("#trials-csv"))
                .hasAttribute("href", Pattern.compile("\\?from=1772319600&to=1772492400$"));
        waitFor(page, "#trials-table", "Trial 3");
        assertThat(browser.complaints()).isEmpty();
    }

    private List<List<String>> asked() {
        return forge.askedTrials().stream().map(each -> each.burns()).toList();
    }

    @Test
    void littleToCompareIsSaidSoWithWhatToDo() throws Exception {
        ObjectNode none = sample();
        ArrayNode all = (ArrayNode) none.get("trials");
        JsonNode second = all.get(1);
        JsonNode third = all.get(2);
        none.putArray("trials");
        none.putArray("comparisons");
        none.putNull("conditions");
        ((ObjectNode) none.get("next")).putArray("proposals");
        ((ObjectNode) none.get("next")).put("why", "burn once, then a proposal can be made");
        forge.trials(none.toString());
        Page page = open(1_280, 800, ColorScheme.LIGHT);
        waitFor(page, "#trials-state", "No burn yet.");
        assertThat(page.locator("#trials-state")).containsText("change one thing");
        assertThat(page.locator("#trials-next .verdict")).hasText("Burn once, then a proposal can be made.");
        assertThat(page.locator("#trials-possible")).hasAttribute("open", "");
        for (String section : List.of("side", "compare", "curves")) {
            assertThat(page.locator("#trials-" + section)).isHidden();
        }
        shoot(page, "trials-empty");
        ((ArrayNode) none.get("trials")).add(third);
        forge.trials(none.toString());
        again(page);
        waitFor(page, "#trials-state", "One burn so far");
        assertThat(page.locator("#trials-table thead th")).hasCount(2);
        none.putArray("trials").add(second);
        forge.trials(none.toString());
        again(page);
        waitFor(page, "#trials-state", "2 burns, all under one set of settings");
        assertThat(page.locator("#trials-compare")).isHidden();
        assertThat(page.locator("#trials-table")).not().containsText("null");
        assertThat(browser.complaints()).isEmpty();
    }

    private static void again(Page page) {
        page.locator(".screens a[href='#now']").click();
        page.locator(".screens a[href='#trials']").click();
    }

    @Test
    void whatCannotBeToldSaysWhyAndWhatWould() throws Exception {
        ObjectNode trials = sample();
        ObjectNode time = (ObjectNode) trials.at("/trials/2/figures/0");
        time.putNull("value").putNull("low95").putNull("high95");
        time.put("because", "the chamber came to 1121 °C at most").put("would", "heat up without turning down");
        ((ObjectNode) trials.at("/trials/1/figures/0")).putNull("low95").putNull("high95");
        forge.trials(trials.toString());
        Page page = openDesk();
        assertThat(figure(page, "timeToTarget@1150").locator("td").nth(2))
                .hasText(
                        "cannot tellBecause the chamber came to 1121 °C at most. To tell: heat up without turning down.");
        assertThat(page.locator("#screen-trials")).not().containsText(Pattern.compile("NaN|null|undefined"));
    }

    @Test
    void loadingIsSaidAndAFailureIsToldAndTriedAgainWithoutLosingWhatStands() {
        Page page = browser.readPage(1_280, 800, ColorScheme.LIGHT);
        page.clock().install();
        Consumer<Route> fails = route -> route.fulfill(new Route.FulfillOptions()
                .setStatus(503)
                .setHeaders(Map.of("Retry-After", "7"))
                .setContentType("application/json")
                .setBody("{\"error\":\"the store cannot be read: its disk is gone\"}"));
        // The first question is never answered.
        AtomicReference<Consumer<Route>> answer = new AtomicReference<>(route -> {});
        page.route(TRIALS, route -> Objects.requireNonNull(answer.get()).accept(route));
        page.navigate(dashboard.url("/#trials"));
        waitFor(page, "#trials-state", "Comparing the burns");
        page.clock().fastForward(6_500);
        waitFor(page, "#trials-state", "Still comparing");
        answer.set(fails);
        again(page);
        waitFor(page, "#trials-state", "The trials cannot be had: the store cannot be read: its disk is gone.");
        assertThat(page.locator("#trials-state")).containsText("tries again by itself in 7 s");
        answer.set(Route::resume);
        page.clock().fastForward(7_500);
        waitFor(page, "#trials-table", "Trial 3");
        assertThat(page.locator("#trials-state")).isHidden();
        answer.set(fails);
        again(page);
        waitFor(page, "#trials-state", "What stands here is as of ");
        assertThat(page.locator("#trials-body")).hasAttribute("data-state", "stale");
        assertThat(page.locator("#trials-table")).containsText("28:36");
        answer.set(Route::resume);
        page.clock().fastForward(7_500);
        assertThat(page.locator("#trials-state")).isHidden();
        assertThat(page.locator("#trials-body")).hasAttribute("data-state", "here");
    }

    @Test
    void theKeyboardAloneReachesEvidenceCurvesAndForm() {
        Page page = browser.readPage(1_280, 800, ColorScheme.LIGHT);
        page.navigate(dashboard.url("/"));
        waitFor(page, "#temperature", "1049");
        tabTo(page, "Trials");
        page.keyboard().press("Enter");
        assertThat(page.locator("#trials-title")).isFocused();
        waitFor(page, "#trials-table", "Trial 3");
        assertThat(page.locator(".screens a[href='#trials']")).hasAttribute("aria-current", "page");
        tabTo(page, "Time to 1150 °C");
        page.keyboard().press("Enter");
        assertThat(difference(page, "timeToTarget@1150").locator(".evidence")).isVisible();
        tabTo(page, "Trial 2");
        page.keyboard().press("Space");
        assertThat(page.locator(".switches input").nth(1)).not().isChecked();
        tabTo(page, "What could be set");
        page.keyboard().press("Enter");
        page.keyboard().press("Tab");
        page.keyboard().type("0.7, 0.8");
        page.keyboard().press("Enter");
        waitFor(page, "#possible-status", "Written down: jet 0.7, 0.8.");
        page.locator("#skip").focus();
        page.keyboard().press("Enter");
        assertThat(page.locator("#trials-title")).isFocused();
        assertThat(browser.complaints()).isEmpty();
    }

    /** Moves by keyboard alone to what begins with these words, and fails when it cannot be reached. */
    private static void tabTo(Page page, String words) {
        for (int i = 0; i < 60; i++) {
            page.keyboard().press("Tab");
            Object here =
                    page.evaluate("(document.activeElement.closest('label') ?? document.activeElement).innerText");
            if (here instanceof String text
                    && text.strip().replace('\u00a0', ' ').startsWith(words)) {
                return;
            }
        }
        throw new AssertionError("the keyboard does not reach \"" + words + "\"");
    }

    @Test
    void onAPhoneItStaysATableToThoseWhoHearIt() {
        Page page = open(360, 740, ColorScheme.LIGHT);
        waitFor(page, "#trials-table", "Trial 3");
        Locator table = page.getByRole(AriaRole.TABLE).first();
        assertThat(table.getByRole(AriaRole.ROWHEADER)).hasCount(14);
        assertThat(table.getByRole(AriaRole.COLUMNHEADER)).hasCount(4);
        assertThat(table.getByRole(AriaRole.CELL)).hasCount(42);
    }

    @Test
    void theScreenIsFetchedOnlyWhenItIsTurnedTo() {
        Page page = browser.readPage(360, 740, ColorScheme.LIGHT);
        page.navigate(dashboard.url("/"));
        waitFor(page, "#temperature", "1049");
        assertThat(browser.requests()).noneMatch(url -> url.contains("trials"));
        page.locator(".screens a[href='#trials']").click();
        waitFor(page, "#trials-table", "Trial 3");
        assertThat(browser.requests()).anyMatch(url -> url.endsWith("/js/trials/screen.js"));
    }

    @Test
    void theScreenFitsAndIsLegibleByDayAndByNightOnPhoneAndDesk() throws Exception {
        ObjectNode trials = sample();
        ((ObjectNode) trials.at("/trials/2/figures/9"))
                .putNull("value")
                .putNull("low95")
                .putNull("high95")
                .put("because", "fewer than two readings a second: the fast part is not in them")
                .put("would", "read four times a second or more");
        forge.trials(trials.toString());
        for (ColorScheme scheme : List.of(ColorScheme.LIGHT, ColorScheme.DARK)) {
            for (int[] size : new int[][] {{320, 568}, {360, 740}, {1_280, 800}}) {
                Page page = open(size[0], size[1], scheme);
                String name = size[0] + "-" + (scheme == ColorScheme.DARK ? "dark" : "light");
                waitFor(page, "#trials-table", "Trial 3");
                page.locator("#trials-pair").selectOption("2");
                assertThat(page.locator("#overlay-chart canvas")).isVisible();
                Legible.hold(page, "the trials at " + name);
                shoot(page, "trials-" + name);
                for (String summary :
                        List.of("#trials-choose", "#overlay-table", "#trials-possible", ".burn-by-burn")) {
                    page.locator(summary + " summary").click();
                }
                difference(page, "timeToTarget@1150").locator("summary").click();
                Legible.hold(page, "the trials with all opened at " + name);
                shoot(page, "trials-open-" + name);
                page.close();
            }
        }
        assertThat(browser.requests()).isNotEmpty().allMatch(url -> url.startsWith(dashboard.url("/")));
        assertThat(browser.complaints()).isEmpty();
    }

    private static void shoot(Page page, String name) {
        page.screenshot(
                new Page.ScreenshotOptions().setPath(Browser.picture(name)).setFullPage(true));
    }
}
