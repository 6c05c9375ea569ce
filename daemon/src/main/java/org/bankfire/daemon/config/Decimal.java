package org.bankfire.daemon.config;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/** Numbers as people write them: no exponent unless it saves many zeros. */
final class Decimal {
    // Beyond these a row of zeros is harder to read than an exponent.
    private static final double LARGEST_PLAIN = 1e9;
    private static final double SMALLEST_PLAIN = 1e-6;

    private Decimal() {}

    /** {@code value} rounded to so many significant digits; it must be finite. */
    static String write(double value, int digits) {
        double magnitude = Math.abs(value);
        BigDecimal rounded = new BigDecimal(value)
                .round(new MathContext(digits, RoundingMode.HALF_EVEN))
                .stripTrailingZeros();
        boolean plain = magnitude == 0 || (magnitude < LARGEST_PLAIN && magnitude >= SMALLEST_PLAIN);
        return plain ? rounded.toPlainString() : rounded.toString();
    }

    /** {@code value} with as few digits as give it back exactly; it must be finite. */
    static String write(double value) {
        for (int digits = 1; digits < 17; digits++) {
            String text = write(value, digits);
            if (Double.parseDouble(text) == value) {
                return text;
            }
        }
        return write(value, 17);
    }
}
