package org.bankfire.daemon.config;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import org.bankfire.analysis.reading.Unit;

/** Writes TOML, one key a line. A NaN is a value that was never told, and is left out. */
final class TomlText {
    private final StringBuilder text = new StringBuilder();

    TomlText header(String header) {
        if (text.length() > 0) {
            text.append('\n');
        }
        text.append(header).append('\n');
        return this;
    }

    TomlText text(String key, String value) {
        return raw(key, quoted(value));
    }

    TomlText texts(String key, List<String> values) {
        return raw(key, list(values));
    }

    TomlText pairs(String key, List<List<String>> pairs) {
        return raw(key, pairs.stream().map(TomlText::list).collect(Collectors.joining(", ", "[", "]")));
    }

    /** A table in one line; its keys need no quotes. */
    TomlText inline(String key, Map<String, String> entries) {
        return raw(
                key,
                entries.entrySet().stream()
                        .map(entry -> entry.getKey() + " = " + quoted(entry.getValue()))
                        .collect(Collectors.joining(", ", "{ ", " }")));
    }

    TomlText flag(String key, boolean value) {
        return raw(key, String.valueOf(value));
    }

    TomlText number(String key, long value) {
        return raw(key, String.valueOf(value));
    }

    TomlText number(String key, double value) {
        return Double.isNaN(value) ? this : raw(key, Decimal.write(value));
    }

    /** A value of the SI unit, in the unit of that symbol if it can be. */
    TomlText quantity(String key, Dimension dimension, double si, String symbol) {
        return Double.isNaN(si) ? this : text(key, quantity(dimension, si, symbol));
    }

    static String quantity(Dimension dimension, double si, String symbol) {
        Unit unit = dimension.parse("1 " + symbol).unit();
        return dimension.write(si, unit);
    }

    /** A temperature in °C; exact, because that is what temperatures are read to. */
    TomlText celsius(String key, double celsius) {
        return Double.isNaN(celsius) ? this : text(key, Decimal.write(celsius) + " degC");
    }

    private TomlText raw(String key, String value) {
        text.append(key).append(" = ").append(value).append('\n');
        return this;
    }

    private static String list(List<String> values) {
        return values.stream().map(TomlText::quoted).collect(Collectors.joining(", ", "[", "]"));
    }

    /** A TOML basic string. Letters of all scripts stand as they are. */
    static String quoted(String value) {
        StringBuilder quoted = new StringBuilder("\"");
        for (int i = 0; i < value.length(); i++) {
            char letter = value.charAt(i);
            if (letter == '"' || letter == '\\') {
                quoted.append('\\').append(letter);
            } else if (Character.isISOControl(letter)) {
                quoted.append(String.format(Locale.ROOT, "\\u%04x", (int) letter));
            } else {
                quoted.append(letter);
            }
        }
        return quoted.append('"').toString();
    }

    @Override
    public String toString() {
        return text.toString();
    }
}
