package org.bankfire.analysis.logbook;

import java.math.BigDecimal;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A setting's value as people write it: a number with the word of its unit, or text.
 *
 * @param value the number as written, or the whole text
 * @param unit the word behind the number; empty behind text and a number alone
 */
public record Worded(String value, String unit) {
    /** Longest number with its unit; keeps the pattern's work bounded. */
    private static final int LONGEST = 100;

    private static final Pattern NUMBER_AND_UNIT = Pattern.compile(
            "([+-]?(?:\\d{1,30}(?:\\.\\d{0,30})?|\\.\\d{1,30})(?:[eE][+-]?\\d{1,3})?)\\s*([^\\s\\d.,+-]\\S{0,31})");

    /** Splits {@code text}; only a number followed by one word is taken apart. */
    public static Worded of(String text) {
        String stripped = text.strip();
        if (stripped.length() <= LONGEST) {
            Matcher matcher = NUMBER_AND_UNIT.matcher(stripped);
            if (matcher.matches()) {
                return new Worded(matcher.group(1), matcher.group(2));
            }
        }
        return new Worded(text, "");
    }

    /** A number in decimals, without an exponent. */
    public static Worded of(double number, String unit) {
        BigDecimal plain = BigDecimal.valueOf(number).stripTrailingZeros();
        return new Worded((plain.scale() < 0 ? plain.setScale(0) : plain).toPlainString(), unit);
    }

    /** The number; NaN when it is none. */
    public double number() {
        try {
            return Double.parseDouble(value.strip());
        } catch (NumberFormatException none) {
            return Double.NaN;
        }
    }

    @Override
    public String toString() {
        return unit.isEmpty() ? value : value + " " + unit;
    }
}
