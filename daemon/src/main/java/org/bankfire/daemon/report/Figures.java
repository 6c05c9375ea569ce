package org.bankfire.daemon.report;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.Locale;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.quantity.Constants;

/** Numbers with sensible digits. */
public final class Figures {
    private static final MathContext FOUR_DIGITS = new MathContext(4);
    private static final double S_PER_MIN = 60;
    private static final double MIN_PER_H = 60;
    /** From here on seconds say nothing any more. */
    private static final double SECONDS_UP_TO_S = 1200;

    private Figures() {}

    static double celsius(double kelvin) {
        return kelvin - Constants.ZERO_CELSIUS_K;
    }

    /** A band in °C of one in K. */
    static Band celsius(Band kelvin) {
        return new Band(celsius(kelvin.value()), celsius(kelvin.low95()), celsius(kelvin.high95()));
    }

    /** With so many digits after the point; "–" for what is not a number. */
    public static String fixed(double value, int digits) {
        return Double.isFinite(value) ? String.format(Locale.ROOT, "%." + digits + "f", value) : "–";
    }

    /** A time in words, such as {@code 8 min 06 s}; seconds are left away when they say nothing. */
    public static String duration(double seconds) {
        if (!Double.isFinite(seconds)) {
            return "never";
        }
        long whole = Math.round(seconds);
        if (whole < S_PER_MIN) {
            return whole + " s";
        }
        if (whole < SECONDS_UP_TO_S) {
            return String.format(Locale.ROOT, "%d min %02d s", whole / 60, whole % 60);
        }
        long minutes = Math.round(seconds / S_PER_MIN);
        return minutes < 2 * MIN_PER_H
                ? minutes + " min"
                : String.format(Locale.ROOT, "%d h %02d min", minutes / 60, minutes % 60);
    }

    /** A number with so many digits after the point at most, or null when it is not finite. */
    static void number(JsonGenerator json, String key, double value, int digits) throws IOException {
        if (Double.isFinite(value)) {
            json.writeFieldName(key);
            json.writeNumber(rounded(value, digits));
        } else {
            json.writeNullField(key);
        }
    }

    /** A number with four significant digits, or null when it is not finite. */
    static void significant(JsonGenerator json, String key, double value) throws IOException {
        if (Double.isFinite(value)) {
            json.writeFieldName(key);
            json.writeNumber(significant(value));
        } else {
            json.writeNullField(key);
        }
    }

    /** A finite number with four significant digits. */
    static BigDecimal significant(double value) {
        return BigDecimal.valueOf(value).round(FOUR_DIGITS);
    }

    /** A number without needless zeros. */
    static BigDecimal rounded(double value, int digits) {
        BigDecimal rounded = BigDecimal.valueOf(value).setScale(digits, RoundingMode.HALF_EVEN);
        BigDecimal bare = rounded.stripTrailingZeros();
        return bare.scale() < 0 ? bare.setScale(0) : bare;
    }
}
