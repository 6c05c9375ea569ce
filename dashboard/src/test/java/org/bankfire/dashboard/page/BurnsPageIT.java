package org.bankfire.dashboard.page;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.microsoft.playwright.Clock;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Route;
import com.microsoft.playwright.options.ColorScheme;
import java.io.IOException;
import java.util.List;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.testing.Browser;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The burns of a forge and one burn, in a real browser. The browser's zone is Oslo's. */
class BurnsPageIT {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final WallTime LIT = WallTime.ofEpochSeconds(1_772_359_212); // 2026-03-01T10:00:12Z
    private static final String FITTED = Burn.idOf(ScriptedForge.QUARRY, LIT);
    private static final double DAY_S = 86_400;
    private static final Pattern NUMBER = Pattern.compile("[−-]?\\d+(?:\\.\\d+)?");

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

    /** Three burns, of which the middle one is fitted; the oldest of the month before. */
    private void fillTheBook() {
        forge.burnt(
                burn(2, 5_400, 1.21, 1_148),
                new Burn(FITTED, ScriptedForge.QUARRY, LIT, LIT.plusSeconds(3_600), 0.412, 1_231.2),
                burn(-9, 4_100, 0.94, 1_171));
        forge.fitted(FITTED, ScriptedForge.fitOfAnHour());
        forge.losses(
                loss(-30, 1.69),
                loss(-21, 1.74),
                loss(-15, 1.66),
                loss(-9, 1.72),
                new BurnLoss(FITTED, LIT, 1_000, new Band(1.7099, 1.6688, 1.7521)));
        forge.add(new Setting(ScriptedForge.QUARRY, LIT.plusSeconds(-20 * DAY_S), "setting-jet", "0.9", "mm"));
        forge.add(new Setting(ScriptedForge.QUARRY, LIT.plusSeconds(1_500), "plug", "in", ""));
        forge.add(new Note(ScriptedForge.QUARRY, LIT.plusSeconds(1_520), Note.REMARK, "softer <roar>"));
    }

    private static Burn burn(double days, double lengthS, double gasKg, double peakC) {
        WallTime start = LIT.plusSeconds(days * DAY_S);
        return new Burn(
                Burn.idOf(ScriptedForge.QUARRY, start),
                ScriptedForge.QUARRY,
                start,
                start.plusSeconds(lengthS),
                gasKg,
                peakC);
    }

    private static BurnLoss loss(double days, double wattsPerK) {
        WallTime start = LIT.plusSeconds(days * DAY_S);
        return new BurnLoss(
                Burn.idOf(ScriptedForge.QUARRY, start),
                start,
                1_000,
                new Band(wattsPerK, wattsPerK - 0.06, wattsPerK + 0.06));
    }

    private Page open(String hash) {
        Page page = browser.readPage(1_280, 800, ColorScheme.LIGHT);
        page.navigate(dashboard.url("/" + hash));
        return page;
    }

    private Page openFitted() {
        Page page = open("#burns/" + FITTED);
        waitFor(page, "#verdict", "would settle");
        return page;
    }

    @Test
    void aBurnIsTakenAwayOnPaperAndAsRecordedInTheReadersUnits() throws Exception {
        fillTheBook();
        Page page = openFitted();
        String burn = dashboard.url("/api/v1/burns/" + FITTED);
        String reader = "temperature=C&pressure=bar&zone=Europe%2FOslo";
        assertThat(address(page, "Printable report")).isEqualTo(burn + "/report?" + reader);
        assertThat(address(page, "Report as PDF")).startsWith(burn + "/report.pdf?" + reader + "&paper=");
        assertThat(address(page, "Readings as CSV")).isEqualTo(burn + "/export?format=csv");
        assertThat(address(page, "Readings as SenML")).isEqualTo(burn + "/export?format=senml");
        page.locator("#unit-temperature").selectOption("F");
        page.locator("#unit-pressure").selectOption("inH2O");
        assertThat(page.locator("#paper-page")).hasAttribute("href", Pattern.compile("temperature=F&pressure=inH2O"));
        assertThat(dashboard
                        .get(address(page, "Printable report")
                                .substring(dashboard.url("").length()))
                        .statusCode())
                .isEqualTo(200);
    }

    private static String address(Page page, String name) {
        return String.valueOf(
                page.getByText(name, new Page.GetByTextOptions().setExact(true)).evaluate("link => link.href"));
    }

    private static void waitFor(Page page, String selector, String text) {
        assertThat(page.locator(selector)).containsText(text);
    }

    private static void shoot(Page page, String name) {
        page.screenshot(
                new Page.ScreenshotOptions().setPath(Browser.picture(name)).setFullPage(true));
    }

    private static ObjectNode fit() throws IOException {
        return (ObjectNode) JSON.readTree(ScriptedForge.fitOfAnHour());
    }

    private static List<Double> numbers(Locator row) {
        return row.locator("td").allInnerTexts().stream()
                .map(BurnsPageIT::number)
                .toList();
    }

    private static double number(String text) {
        Matcher matcher = NUMBER.matcher(text);
        assertThat(matcher.find()).as(text).isTrue();
        return Double.parseDouble(matcher.group().replace('−', '-'));
    }

    @Test
    void theListTellsEachBurnByMonthAndOpensIt() {
        fillTheBook();
        Page page = open("");
        page.locator(".screens a", new Page.LocatorOptions().setHasText("Burns"))
                .click();
        waitFor(page, "#burns-months", "March 2026 2 burns shown, 1.6 kg gas, 4.70 EUR");
        waitFor(page, "#burns-months", "February 2026 1 burn shown");
        assertThat(page.locator("#burns-state")).isHidden();
        Locator row = page.locator(".burn-row").nth(1);
        assertThat(row).containsText("Sun, 1 Mar 2026 11:00 CET");
        assertThat(row).containsText("lasted 1 h 00 min");
        assertThat(row).containsText("highest 1231 °C");
        assertThat(row).containsText("gas 0.41 kg, 1.19 EUR");
        assertThat(row).containsText("loses 1.71 W/K 1.67 to 1.75 at 1000 °C");
        assertThat(page.locator(".burn-row").first()).containsText("loses not known");
        assertThat(page).hasTitle(Pattern.compile("^Burns – Quarry forge$"));
        row.click();
        waitFor(page, "#burn-title", "Burn of Sun, 1 Mar 2026, 11:00–12:00 CET");
        assertThat(page).hasURL(dashboard.url("/#burns/" + FITTED));
        waitFor(page, "#burn-brief", "Lasted 1 h 00 min; highest 1231 °C; gas 0.41 kg, 1.19 EUR.");
        page.locator("#burn-older").click();
        waitFor(page, "#burn-title", "Fri, 20 Feb 2026");
        page.goBack();
        waitFor(page, "#burn-title", "Sun, 1 Mar 2026");
        // The browser itself reports on its console that the older one has no fit.
        assertThat(browser.complaints()).allMatch(complaint -> complaint.contains("404"));
    }

    @Test
    void aFitIsShownInTheTradesWordsWithItsIntervalsAndStatus() throws Exception {
        fillTheBook();
        ObjectNode fit = fit();
        ArrayNode parameters = (ArrayNode) fit.get("parameters");
        ((ObjectNode) parameters.get(0)).put("status", "prior").put("advice", "weigh the cylinder");
        ((ObjectNode) parameters.get(3)).put("status", "not-identifiable").put("advice", "record a cool-down");
        forge.fitted(FITTED, fit.toString());
        Page page = openFitted();
        assertThat(page.locator("#loss-value")).hasText("1.71 W/K");
        assertThat(page.locator("#loss-interval")).containsText("1.67 to 1.75 (95 %)");
        assertThat(page.locator("#burn-loss")).containsText("at 1000 °C");
        // 1.71 W/K over the 982 K from 18 to 1000 °C are 1.68 kW.
        assertThat(page.locator("#loss-interval")).containsText("about 1.7 kW");
        assertThat(page.locator("#time-constant")).containsText("2 min 08 s");
        assertThat(page.locator("#verdict"))
                .hasText("The forge would settle 3 K lower than described, within what the description leaves open;"
                        + " most of it (+19 K) by the heat released.");
        assertThat(page.locator("#burn-remarks")).containsText("square root of time");
        Locator heat = page.locator("[data-parameter='heatReleaseFactor']");
        assertThat(heat).containsText("Heat released");
        assertThat(heat).containsText("1.08 × described");
        assertThat(heat).containsText("1.06 to 1.10");
        assertThat(heat.locator(".status")).containsText("from the prior");
        assertThat(heat.locator(".status")).containsText("To know it: weigh the cylinder");
        assertThat(page.locator("[data-parameter='liningCapacityScale'] .status"))
                .containsText("not identifiable");
        assertThat(page.locator("[data-parameter='mixture'] .status")).containsText("identified");
        // 0.006572 m², and its interval leaves two digits to mean something.
        assertThat(page.locator("[data-parameter='effectiveOpeningArea']")).containsText("66 cm²");
        assertThat(page.locator("[data-parameter='sensorLag']")).containsText("15.27 s");
        assertThat(page.locator("#screen-burns"))
                .not()
                .containsText(Pattern.compile("(heat|lining|effective|sensor|flame)[A-Z]"));
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void measuredIsHeldAgainstPredicted() {
        fillTheBook();
        Page page = openFitted();
        Locator rows = page.locator("#compare-table tbody tr");
        assertThat(rows).hasCount(14);
        assertThat(rows.nth(9).locator("th, td"))
                .hasText(new String[] {"1000 °C", "3 min 23 s", "3 min 06 s", "17 s later"});
        assertThat(rows.nth(12)).containsText("target, 1150 °C");
        assertThat(rows.nth(12)).containsText("9 min 06 s");
        assertThat(rows.nth(12)).containsText("8 min 21 s");
        assertThat(rows.nth(12)).containsText("from 4 min 25 s, or never");
        assertThat(rows.nth(12)).containsText("45 s later");
        assertThat(rows.nth(13)).containsText("would settle at 0.60 bar");
        assertThat(rows.nth(13)).containsText("1140 °C to 1350 °C");
        assertThat(rows.nth(13)).containsText("−3.3 K");
        assertThat(page.locator("#compare-why li").first())
                .hasText("Heat releasedsettles 19 K higher, at target 1 min 31 s soonerbeyond doubt");
    }

    @Test
    void theCurveIsReadUnderThePointerAndAsNumbers() {
        fillTheBook();
        Page page = openFitted();
        waitFor(page, "#curve-caption", "Chamber, °C, against time since gas on: up to 12");
        assertThat(page.locator("#residual-caption"))
                .containsText("0.5 K in the root mean square; it runs in stretches");
        assertThat(page.locator("#curve-key li")).hasCount(4);
        page.locator("#curve-chart .u-over").hover();
        assertThat(page.locator("#curve-caption"))
                .hasText(Pattern.compile(
                        "\\d+\\smin \\d\\d\\ss after gas on, 11:\\d\\d:\\d\\d: measured \\d+ °C, fitted \\d+,"
                                + " predicted \\d+ \\(\\d+ to \\d+\\)"));
        assertThat(page.locator("#residual-caption")).hasText(Pattern.compile("Left over: −?\\d+\\.\\d K"));
        page.locator("#curve-table summary").click();
        Locator rows = page.locator("#curve-numbers tbody tr");
        assertThat(rows.first().locator("th, td")).hasText(new String[] {"0.5 s", "40", "36", "3.5", "40", "31 to 54"});
        int whole = rows.count();
        assertThat(whole).isBetween(10, 20);
        page.locator("#curve-spans label", new Page.LocatorOptions().setHasText("first 15 min"))
                .click();
        assertThat(rows.last()).containsText(Pattern.compile("1[34]\\smin"));
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theHeatLedgerAddsUpInEveryLineAndOverTheBurn() {
        fillTheBook();
        Page page = openFitted();
        page.locator("#spent-table summary").click();
        Locator rows = page.locator("#spent-numbers tbody tr");
        assertThat(rows).hasCount(13);
        for (int i = 0; i < rows.count(); i++) {
            List<Double> cells = numbers(rows.nth(i));
            double uses = cells.subList(1, 6).stream()
                    .mapToDouble(Double::doubleValue)
                    .sum();
            // Six figures rounded to 0.01 kW.
            assertThat(uses).as("line %d", i).isCloseTo(cells.get(0), within(0.03));
        }
        double input = number(page.locator("[data-use='input']").innerText());
        double used = 0;
        for (String use : List.of("openings", "flue", "lining", "stock", "stored")) {
            used += number(page.locator("[data-use='" + use + "']").innerText());
        }
        assertThat(used).isCloseTo(input, within(0.03));
        assertThat(input).isGreaterThan(1);
        // The bars are as long as what they stand for.
        double widest = 0;
        for (int i = 0; i < 12; i++) {
            double track = width(page.locator(".spent .track").nth(i));
            double bar = 0;
            Locator parts = page.locator(".spent .track").nth(i).locator(".ledger > span");
            for (int j = 0; j < parts.count(); j++) {
                bar += width(parts.nth(j));
            }
            widest = Math.max(widest, bar / track);
        }
        assertThat(widest).isCloseTo(1, within(0.01));
        assertThat(page.locator("#spent-words")).containsText("the hot lining gives back, as from");
    }

    private static double width(Locator element) {
        return Objects.requireNonNull(element.boundingBox()).width;
    }

    @Test
    void theViewersUnitsReachEveryFigure() {
        fillTheBook();
        Page page = openFitted();
        page.locator("#unit-temperature").selectOption("F");
        page.locator("#unit-pressure").selectOption("psi");
        // 1000 °C = 1832 °F, 1231.2 °C = 2248 °F, 19 K = 34 °F, 60003 Pa = 8.7 psi.
        assertThat(page.locator("#burn-loss")).containsText("at 1832 °F");
        assertThat(page.locator("#burn-brief")).containsText("highest 2248 °F");
        assertThat(page.locator("#verdict")).containsText("settle 5 °F lower");
        assertThat(page.locator("#verdict")).containsText("(+34 °F)");
        assertThat(page.locator("#compare-table")).containsText("would settle at 8.7 psi");
        assertThat(page.locator("#compare-table tbody tr").first()).containsText("212 °F");
        assertThat(page.locator("#residual-caption")).containsText("0.8 °F");
        assertThat(page.locator("#curve-caption")).containsText("°F");
        assertThat(page.locator("#burn-body")).not().containsText("°C");
        page.locator(".turn-page a").first().click();
        waitFor(page, "#burns-months", "highest 2248 °F");
        assertThat(page.locator("#burns-list")).not().containsText("°C");
    }

    @Test
    void aForgeThatNeverBurnedSaysWhatToDo() {
        forge.burnt();
        Page page = open("#burns");
        waitFor(page, "#burns-state", "No burn yet");
        assertThat(page.locator("#burns-state")).containsText("as soon as the forge is lit");
        assertThat(page.locator("#lining")).isHidden();
        assertThat(page.locator("#burns-older")).isHidden();
        shoot(page, "burns-empty");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void aBurnWithoutAFitShowsWhatWasMeasuredAndSaysWhatToDo() {
        WallTime start = forge.now().plusSeconds(-6_000);
        String id = Burn.idOf(ScriptedForge.QUARRY, start);
        forge.burnt(new Burn(id, ScriptedForge.QUARRY, start, start.plusSeconds(5_000), 0.9, 1_160));
        Page page = open("#burns/" + id);
        waitFor(page, "#burn-state", "Not fitted yet: a burn is fitted by itself when it has ended");
        assertThat(page.locator("#burn-state")).containsText("fit --burn " + id);
        waitFor(page, "#curve-caption", "up to 1");
        assertThat(page.locator("#curve-chart canvas")).isVisible();
        for (String section : List.of("verdict", "compare", "spent", "parameters")) {
            assertThat(page.locator("#burn-" + section)).isHidden();
        }
        assertThat(page.locator("#residual-figure")).isHidden();
        assertThat(page.locator("#burn-log-list")).containsText("Nothing was written down");
        shoot(page, "burn-not-fitted");
        // The browser itself reports the answer 404 on its console.
        assertThat(browser.complaints()).allMatch(complaint -> complaint.contains("404"));
    }

    @Test
    void aBurnThatGoesOnIsSaidToAndLookedAtAgain() {
        WallTime start = forge.now().plusSeconds(-900);
        String id = Burn.idOf(ScriptedForge.QUARRY, start);
        forge.burnt(new Burn(id, ScriptedForge.QUARRY, start, null, 0.2, 900));
        Page page = browser.readPage(1_280, 800, ColorScheme.LIGHT);
        // A phone whose clock is wrong by weeks: the daemon's counts.
        page.clock().install(new Clock.InstallOptions().setTime("2026-01-01T00:00:00Z"));
        page.navigate(dashboard.url("/#burns"));
        waitFor(page, ".burn-row", "lasted still burning");
        forge.burning(ScriptedForge.QUARRY, 1_049);
        waitFor(page, "#all-well", "Heating up");
        page.locator(".burn-row").click();
        waitFor(page, "#burn-title", "still burning");
        waitFor(page, "#burn-state", "looks again every minute");
        page.locator("#curve-table summary").click();
        // Lit 15 minutes before the test began.
        assertThat(page.locator("#curve-numbers tbody tr").last()).containsText(Pattern.compile("(1[3-9]|2\\d)\\smin"));
        forge.fitted(id, ScriptedForge.fitOfAnHour());
        page.clock().fastForward(61_000);
        waitFor(page, "#verdict", "would settle");
        assertThat(page.locator("#burn-state")).isHidden();
    }

    @Test
    void aLossThatCannotBeToldAndAFitThatDidNotComeToRestAreSaidSo() throws Exception {
        fillTheBook();
        ObjectNode fit = fit();
        fit.put("converged", false).put("why", "the lining's conductivity ran away");
        fit.putNull("timeConstantS").putNull("rmsResidualK").putNull("effectiveSamples");
        ((ObjectNode) fit.get("lossCoefficient"))
                .putNull("valueWPerK")
                .putNull("low95")
                .putNull("high95")
                .put("advice", "No gas flow is known: weigh the cylinder.");
        for (JsonNode parameter : fit.get("parameters")) {
            ((ObjectNode) parameter).putNull("low95").putNull("high95").putNull("narrowedTo");
        }
        ((ObjectNode) fit.get("curve").get(3)).putNull("measuredC");
        forge.fitted(FITTED, fit.toString());
        Page page = openFitted();
        assertThat(page.locator("#loss-value"))
                .hasText("This burn cannot tell it. No gas flow is known: weigh the cylinder.");
        assertThat(page.locator("#burn-state"))
                .containsText("did not come to rest: the lining's conductivity ran away");
        assertThat(page.locator("#time-constant")).containsText("does not tell it");
        assertThat(page.locator("[data-parameter='mixture']")).containsText("interval not known");
        assertThat(page.locator("#screen-burns")).not().containsText("NaN");
        assertThat(page.locator("#screen-burns")).not().containsText("null");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void anAddressOfNoBurnIsSaidToBeNone() {
        fillTheBook();
        Page page = open("#burns/quarry-19990101T000000Z");
        waitFor(page, "#burn-state", "not among the burns of Quarry forge");
        assertThat(page.locator("#burn-body")).isHidden();
        page.locator(".turn-page a").first().click();
        waitFor(page, "#burns-months", "March 2026");
    }

    @Test
    void aStoreThatFailsIsSaidSoAndTriedAgain() {
        fillTheBook();
        Page page = browser.readPage(1_280, 800, ColorScheme.LIGHT);
        page.clock().install();
        page.route(
                "**/burns?limit=*",
                route -> route.fulfill(new Route.FulfillOptions()
                        .setStatus(503)
                        .setContentType("application/json")
                        .setBody("{\"error\":\"the store cannot be read: its disk is gone\"}")));
        page.navigate(dashboard.url("/#burns"));
        waitFor(page, "#burns-state", "The burns cannot be read: the store cannot be read: its disk is gone.");
        assertThat(page.locator("#burns-state")).containsText("tries again by itself");
        page.unroute("**/burns?limit=*");
        page.clock().fastForward(6_000);
        waitFor(page, "#burns-months", "March 2026");
        assertThat(page.locator("#burns-state")).isHidden();
    }

    @Test
    void theLiningsTrendIsDrawnAndToldAndLeadsToItsBurns() {
        fillTheBook();
        forge.losses(
                loss(-50, 1.69),
                loss(-40, 1.74),
                loss(-30, 1.66),
                loss(-21, 1.7),
                loss(-15, 1.72),
                loss(-9, 2.1),
                loss(0, 2.2));
        Page page = open("#burns");
        waitFor(page, "#lining-state", "2 burns in a row");
        assertThat(page.locator("#lining-state")).hasClass(Pattern.compile("grave-words"));
        assertThat(page.locator("#lining-caption"))
                .hasText(
                        "Loss coefficient, W/K, 7 burns: from 1.66 to 2.20; upright line: 95 % interval; shaded: mean of the"
                                + " burns before");
        page.locator("#lining-chart .u-over").hover();
        assertThat(page.locator("#lining-caption")).hasText("Sun, 8 Feb 2026: 1.70 W/K (1.64 to 1.76) at 1000 °C");
        page.locator("#lining-table summary").click();
        assertThat(page.locator("#lining-numbers tbody tr").first()).containsText("2.20");
        page.locator("#lining-numbers a").first().click();
        waitFor(page, "#burn-title", "Sun, 1 Mar 2026");
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theKeyboardAloneTurnsTheScreensAndOpensABurn() {
        fillTheBook();
        forge.burning(ScriptedForge.QUARRY, 1_049);
        Page page = open("");
        waitFor(page, "#temperature", "1049");
        Locator now = page.locator(".screens a[href='#now']");
        Locator burns = page.locator(".screens a[href='#burns']");
        assertThat(now).hasAttribute("aria-current", "page");
        tabTo(page, "Burns");
        page.keyboard().press("Enter");
        assertThat(page.locator("#burns-title")).isFocused();
        assertThat(burns).hasAttribute("aria-current", "page");
        assertThat(now).not().hasAttribute("aria-current", "page");
        assertThat(page.locator("#screen-now")).isHidden();
        waitFor(page, "#burns-months", "March 2026");
        tabTo(page, "Sun, 1 Mar 2026");
        page.keyboard().press("Enter");
        assertThat(page.locator("#burn-title")).isFocused();
        assertThat(burns).hasAttribute("aria-current", "true");
        waitFor(page, "#verdict", "would settle");
        tabTo(page, "all of it");
        page.keyboard().press("ArrowRight");
        assertThat(page.locator("#curve-spans input").last()).isChecked();
        tabTo(page, "The same as numbers");
        page.keyboard().press("Enter");
        assertThat(page.locator("#curve-numbers table")).isVisible();
        page.reload();
        waitFor(page, "#verdict", "would settle");
        page.keyboard().press("Tab");
        page.keyboard().press("Enter");
        assertThat(page.locator("#burn-title")).isFocused();
        assertThat(page).hasURL(dashboard.url("/#burns/" + FITTED));
        page.keyboard().press("Shift+Tab");
        tabTo(page, "Now");
        page.keyboard().press("Enter");
        assertThat(page.locator("#heat")).isFocused();
        waitFor(page, "#temperature", "1049");
        assertThat(page.locator("#chart-chamber canvas")).isVisible();
        assertThat(browser.complaints()).isEmpty();
    }

    /** Moves by keyboard alone to what begins with these words, and fails when it cannot be reached. */
    private static void tabTo(Page page, String words) {
        for (int i = 0; i < 40; i++) {
            page.keyboard().press("Tab");
            Object here =
                    page.evaluate("(document.activeElement.closest('label') ?? document.activeElement).innerText");
            if (here instanceof String text && text.startsWith(words)) {
                return;
            }
        }
        throw new AssertionError("the keyboard does not reach \"" + words + "\"");
    }

    @Test
    void alarmsCallOnThisScreenTooAndLeadToTheForge() {
        forge.add(ScriptedForge.LOFT, "Loft forge");
        fillTheBook();
        forge.burning(ScriptedForge.QUARRY, 1_102);
        Page page = openFitted();
        forge.burning(ScriptedForge.LOFT, 1_071, forge.flameOut());
        waitFor(page, "#notices", "Loft forge: Flame out");
        page.locator(".notice button", new Page.LocatorOptions().setHasText("Look at it"))
                .click();
        waitFor(page, "#temperature", "1071");
        assertThat(page.locator("#screen-burns")).isHidden();
        page.locator(".screens a[href='#burns']").click();
        waitFor(page, "#burns-state", "No burn yet");
        page.locator("#forge-select").selectOption(ScriptedForge.QUARRY);
        waitFor(page, "#burns-months", "March 2026");
        page.locator(".burn-row").nth(1).click();
        // The verdict stands there from before.
        assertThat(page.locator("#burn-one")).isVisible();
        waitFor(page, "#verdict", "would settle");
        page.locator("#forge-select").selectOption(ScriptedForge.LOFT);
        waitFor(page, "#burns-state", "No burn yet");
        page.goBack();
        waitFor(page, "#burn-state", "not a burn of Loft forge");
        assertThat(page.locator("#verdict")).isHidden();
    }

    @Test
    void theScreenFitsAndIsLegibleByDayAndByNightOnPhoneAndDesk() throws Exception {
        fillTheBook();
        // Figures as long as they come, and a fit that lies apart from what was measured.
        ObjectNode fit = fit();
        ((ObjectNode) fit.get("measured")).put("timeToTargetS", 2_228);
        for (JsonNode moment : fit.get("curve")) {
            ((ObjectNode) moment).put("fittedC", moment.get("fittedC").doubleValue() - 60);
            if (moment.get("tS").doubleValue() > 1_700) {
                ((ObjectNode) moment).put("fittedC", moment.get("measuredC").doubleValue());
            }
        }
        forge.fitted(FITTED, fit.toString());
        forge.burning(ScriptedForge.QUARRY, 1_049);
        for (ColorScheme scheme : List.of(ColorScheme.LIGHT, ColorScheme.DARK)) {
            for (int[] size : new int[][] {{320, 568}, {360, 740}, {1_280, 800}}) {
                Page page = browser.readPage(size[0], size[1], scheme);
                String name = size[0] + "-" + (scheme == ColorScheme.DARK ? "dark" : "light");
                page.navigate(dashboard.url("/#burns"));
                waitFor(page, "#burns-months", "March 2026");
                assertThat(page.locator("#lining-chart canvas")).isVisible();
                Legible.hold(page, "the list at " + name);
                shoot(page, "burns-" + name);
                page.locator(".burn-row").nth(1).click();
                waitFor(page, "#verdict", "would settle");
                assertThat(page.locator("#residual-chart canvas")).isVisible();
                Legible.hold(page, "one burn at " + name);
                shoot(page, "burn-" + name);
                for (String table : List.of("curve", "spent")) {
                    page.locator("#" + table + "-table summary").click();
                }
                Legible.hold(page, "one burn with its numbers at " + name);
                page.close();
            }
        }
        assertThat(browser.requests()).isNotEmpty().allMatch(url -> url.startsWith(dashboard.url("/")));
        assertThat(browser.complaints()).isEmpty();
    }
}
