package org.bankfire.dashboard.page;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import org.bankfire.dashboard.source.WhatIf;
import org.bankfire.dashboard.testing.Browser;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Questions of what if, in a real browser; the answers are such as the daemon computed for the example forge. */
class WhatIfPageIT {

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

    private Page open(int width, int height, ColorScheme scheme) {
        Page page = browser.readPage(width, height, scheme);
        page.navigate(dashboard.url("/#what-if"));
        page.locator("#what-if-burner-jet").waitFor();
        return page;
    }

    private Page open() {
        return open(1_280, 900, ColorScheme.LIGHT);
    }

    private static void waitFor(Page page, String selector, String text) {
        assertThat(page.locator(selector)).containsText(text);
    }

    private static void work(Page page) {
        page.locator("button.main-act").click();
    }

    private Map<String, String> lastChanges() {
        List<WhatIf.Asked> asked = forge.whatIf().asked();
        return asked.get(asked.size() - 1).changes();
    }

    @Test
    void whatIsChangedIsAskedForInTheServersKeysAndTodayStandsBeside() {
        Page page = open();
        page.locator("#what-if-burner-jet").fill("0.9");
        assertThat(page.locator("#what-if-burner-jet-was")).hasText("today: 0.8 mm");
        page.locator("#what-if-lining-0-thickness").fill("114");
        page.locator("#what-if-opening-rear-plug").selectOption("out");
        page.locator("#what-if-opening-front-width").fill("100");
        work(page);
        waitFor(page, "#what-if-words", "Hotter? ");
        assertThat(lastChanges())
                .containsOnly(
                        Map.entry("burner.jet", "0.9 mm"),
                        Map.entry("lining.0.thickness", "114 mm"),
                        Map.entry("opening.rear.plug", "out"),
                        Map.entry("opening.front.size", "[\"100 mm\", \"110 mm\"]"));
        Locator shell = page.locator("[data-figure='Shell, soaked']");
        assertThat(shell).containsText(Pattern.compile("\\d+\\s°C.*−\\d+"));
        assertThat(page.locator("#what-if-chart canvas")).isVisible();
        assertThat(page.locator("#what-if-learnt")).containsText("another jet");
        assertThat(page.locator("#what-if-set")).containsText("--set 'burner.jet=0.9 mm'");
        assertThat(page.locator("#screen-what-if")).not().containsText(Pattern.compile("NaN|undefined|null"));
        assertThat(browser.complaints()).isEmpty();
    }

    @Test
    void theViewersUnitsAreThoseOfTheForm() {
        Page page = open();
        page.locator("#unit-length").selectOption("in");
        page.locator("#unit-temperature").selectOption("F");
        page.locator("#unit-pressure").selectOption("psi");
        assertThat(page.locator("label[for='what-if-burner-jet']")).hasText("Jet bore, in");
        // What was not touched is not a change, however it is shown.
        work(page);
        waitFor(page, "#what-if-words", "?");
        assertThat(lastChanges()).isEmpty();
        page.locator("#what-if-target").fill("2012");
        work(page);
        assertThat(page.locator("#what-if-stale")).isHidden();
        assertThat(lastChanges()).containsOnly(Map.entry("target", "1100 degC"));
    }

    @Test
    void aLayerIsAddedAndTakenAway() {
        Page page = open();
        page.locator("#what-if-add-layer").click();
        assertThat(page.locator("#what-if-lining-1-material")).isFocused();
        work(page);
        waitFor(page, "#what-if-words", "?");
        assertThat(lastChanges().get("lining"))
                .isEqualTo("[{ material = \"insulating-firebrick-23\", thickness = \"76 mm\" },"
                        + " { material = \"ceramic-fibre-blanket-1260\", thickness = \"25 mm\" }]");
        page.locator(".what-if-layer button").last().click();
        assertThat(page.locator("#what-if-stale")).isVisible();
        work(page);
        assertThat(page.locator("#what-if-stale")).isHidden();
        assertThat(lastChanges()).isEmpty();
    }

    @Test
    void whatCannotBeIsSaidAndNothingIsWrittenDownUntilAsked() {
        Page page = open();
        page.locator("#what-if-burner-jet").fill("99");
        work(page);
        assertThat(page.locator("#what-if-burner-jet")).hasAttribute("aria-invalid", "true");
        assertThat(page.locator("#what-if-burner-jet-was")).containsText("from 0.1 to 5");
        assertThat(forge.whatIf().asked()).isEmpty();
        page.locator("#what-if-burner-jet").fill("0.9");
        forge.whatIf().fail(new WhatIf.RefusedException("burner.jet = 0.9 mm: no", "burner.jet", "0.9 mm", "no", ""));
        work(page);
        waitFor(page, "#what-if-state", "burner.jet = 0.9 mm: no");
        forge.whatIf().fail(new WhatIf.BusyException("others are being answered", false));
        work(page);
        waitFor(page, "#what-if-state", "others are being answered");
        forge.whatIf().fail(null);
        waitFor(page, "#what-if-words", "Hotter?");
        assertThat(forge.notes(
                        ScriptedForge.QUARRY,
                        new org.bankfire.analysis.reading.WallTime(0),
                        forge.now().plusSeconds(60)))
                .noneMatch(note -> note.text().startsWith("What if"));
        page.locator("#what-if-note").click();
        waitFor(page, "#what-if-kept", "Written down in the log.");
        assertThat(forge.notes(
                        ScriptedForge.QUARRY,
                        new org.bankfire.analysis.reading.WallTime(0),
                        forge.now().plusSeconds(60)))
                .anyMatch(note -> note.text().startsWith("What if: burner.jet=0.9 mm"));
    }

    @Test
    void theScreenFitsByDayAndByNightOnPhoneAndDesk() {
        for (ColorScheme scheme : List.of(ColorScheme.LIGHT, ColorScheme.DARK)) {
            for (int[] size : new int[][] {{320, 568}, {360, 740}, {1_280, 900}}) {
                Page page = open(size[0], size[1], scheme);
                page.locator("#what-if-burner-jet").fill("0.9");
                page.locator("#what-if-add-layer").click();
                work(page);
                waitFor(page, "#what-if-words", "Hotter?");
                assertThat(page.locator("#what-if-chart canvas")).isVisible();
                page.locator("#what-if-numbers summary").click();
                String name = size[0] + "-" + (scheme == ColorScheme.DARK ? "dark" : "light");
                Legible.hold(page, "what if at " + name);
                page.screenshot(new Page.ScreenshotOptions()
                        .setPath(Browser.picture("what-if-" + name))
                        .setFullPage(true));
                page.close();
            }
        }
        assertThat(browser.complaints()).isEmpty();
    }
}
