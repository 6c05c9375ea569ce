package org.bankfire.dashboard.page;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Page;
import java.util.List;

/** What every screen keeps to, at every size, by day and by night. */
final class Legible {
    private Legible() {}

    /** No sideways scrolling, no faint word, no control without a name or too small, no id twice. */
    static void hold(Page page, String what) {
        assertThat((List<?>) page.evaluate(WIDE)).as("sticks out of %s", what).isEmpty();
        assertThat((List<?>) page.evaluate(FAINT)).as("faint words of %s", what).isEmpty();
        assertThat((List<?>) page.evaluate(NAMELESS)).as("controls of %s", what).isEmpty();
        assertThat((List<?>) page.evaluate(TWICE)).as("ids twice in %s", what).isEmpty();
    }

    // What sticks out of the page, or out of its section and so lies over the next one.
    private static final String WIDE = """
            () => [...document.querySelectorAll('body, section')].flatMap((frame) => {
              const right = frame === document.body ? innerWidth : frame.getBoundingClientRect().right + 1;
              return [...frame.querySelectorAll('*')]
                .filter((e) => e.checkVisibility() && !e.closest('.skip, .unseen') && !e.parentElement.closest('.scroll'))
                .filter((e) => e.getBoundingClientRect().right > right)
                .map((e) => `${e.tagName} ${e.id} ${e.className}`);
            })""";

    // Contrast of every visible word with the ground beneath it, by WCAG 2.2: 4.5, or 3 when large.
    private static final String FAINT = """
            () => {
              const parse = (c) => c.match(/[\\d.]+/g).map(Number);
              const light = ([r, g, b]) => [r, g, b].map((v) => v / 255)
                .map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4))
                .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
              const ground = (e) => {
                for (; e; e = e.parentElement) {
                  const c = parse(getComputedStyle(e).backgroundColor);
                  if (c.length === 3 || c[3] === 1) return c;
                }
                return [255, 255, 255];
              };
              const faint = [];
              const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
              for (let n = walker.nextNode(); n; n = walker.nextNode()) {
                const e = n.parentElement;
                if (!n.data.trim() || !e.checkVisibility() || ['NOSCRIPT', 'SCRIPT', 'OPTION'].includes(e.tagName)) continue;
                const style = getComputedStyle(e);
                const [a, b] = [light(parse(style.color)), light(ground(e))];
                const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
                const large = parseFloat(style.fontSize) >= 24 || (parseFloat(style.fontSize) >= 18.66 && style.fontWeight >= 700);
                if (ratio < (large ? 3 : 4.5)) faint.push(`${n.data.trim()}: ${ratio.toFixed(2)}`);
              }
              return faint;
            }""";

    // Names, and targets of at least 24 px (WCAG 2.2, 2.5.8), apart from links in a line of a table.
    private static final String NAMELESS = """
            () => [...document.querySelectorAll('a[href], button, select, input, summary')]
              .filter((e) => e.checkVisibility() && !e.classList.contains('skip'))
              .filter((e) => {
                const name = e.ariaLabel ?? e.labels?.[0]?.innerText ?? e.innerText;
                const box = e.getBoundingClientRect();
                return !name?.trim() || (!e.closest('td, th') && Math.min(box.width, box.height) < 24);
              })
              .map((e) => e.outerHTML)""";

    private static final String TWICE = """
            () => [...document.querySelectorAll('[id]')].map((e) => e.id).filter((id, i, all) => all.indexOf(id) !== i)""";
}
