package org.bankfire.dashboard.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Contrast of the palette by the formula of WCAG 2.2 (relative luminance, contrast ratio). */
class PaletteTest {
    private static final Pattern COLOUR = Pattern.compile("--([a-z-]+): #([0-9a-f]{6})");

    // 7 is level AAA for text, 4.5 AA for text, 3 AA for edges of controls and for graphics.
    @ParameterizedTest
    @CsvSource({
        "ink, paper, 7",
        "ink, raised, 7",
        "soft, paper, 4.5",
        "soft, raised, 4.5",
        "edge, paper, 3",
        "edge, raised, 3",
        "margin, paper, 3",
        "pen, paper, 4.5",
        "pen, raised, 4.5",
        "on-grave, grave, 7",
    })
    void everyPairIsLegibleByDayAndByNight(String front, String back, double least) throws Exception {
        String css = css();
        int night = css.indexOf("@media (prefers-color-scheme: dark)");
        Map<String, Integer> day = colours(css.substring(0, night));
        Map<String, Integer> dark = new HashMap<>(day);
        dark.putAll(colours(css.substring(night, css.indexOf("* {", night))));
        assertThat(contrast(day, front, back)).as("by day").isGreaterThanOrEqualTo(least);
        assertThat(contrast(dark, front, back)).as("by night").isGreaterThanOrEqualTo(least);
    }

    private static String css() throws IOException {
        try (InputStream stream = Objects.requireNonNull(PaletteTest.class.getResourceAsStream("/web/app.css"))) {
            return new String(stream.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    private static Map<String, Integer> colours(String css) {
        Map<String, Integer> colours = new HashMap<>();
        Matcher matcher = COLOUR.matcher(css);
        while (matcher.find()) {
            colours.put(matcher.group(1), Integer.parseInt(matcher.group(2), 16));
        }
        return colours;
    }

    private static double contrast(Map<String, Integer> palette, String front, String back) {
        double a = luminance(Objects.requireNonNull(palette.get(front)));
        double b = luminance(Objects.requireNonNull(palette.get(back)));
        return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    }

    private static double luminance(int rgb) {
        return 0.2126 * linear(rgb >> 16) + 0.7152 * linear(rgb >> 8 & 255) + 0.0722 * linear(rgb & 255);
    }

    private static double linear(int channel) {
        double share = channel / 255.0;
        return share <= 0.04045 ? share / 12.92 : Math.pow((share + 0.055) / 1.055, 2.4);
    }
}
