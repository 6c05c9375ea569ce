package org.bankfire.daemon.acquire.frame;

import com.fasterxml.jackson.core.io.NumberOutput;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import org.bankfire.analysis.reading.WallTime;

/** Numbers and times as frames and recorded burns write them, and how a message quotes them. */
public final class TextValues {
    /** Largest magnitude of a value: beyond it lie bit errors, not measurements, and sums would overflow. */
    public static final double MAX_MAGNITUDE = 1e300;
    /** 2000-01-01T00:00:00Z: nothing was recorded before; an earlier time is a clock that was never set. */
    public static final long EARLIEST_EPOCH_S = 946_684_800L;
    /** 2200-01-01T00:00:00Z, itself not allowed. */
    public static final long LATEST_EPOCH_S = 7_258_118_400L;
    /** What an absolute time may be, for messages. */
    public static final String ALLOWED_YEARS = "the years 2000 to 2199";

    private static final long MICROS_PER_S = 1_000_000L;
    private static final int MAX_QUOTED_LENGTH = 48;

    private TextValues() {}

    /**
     * The number that the whole text spells in decimal; NaN when it is no number. Words, hexadecimal and type suffixes
     * that Java would take are no numbers here. May be infinite when the exponent is too large.
     */
    public static double number(String text) {
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            boolean digit = c >= '0' && c <= '9';
            if (!digit && c != '.' && c != '-' && c != '+' && c != 'e' && c != 'E') {
                return Double.NaN;
            }
        }
        try {
            return Double.parseDouble(text);
        } catch (NumberFormatException e) {
            return Double.NaN;
        }
    }

    /** Whether a value is finite and of a magnitude that a measurement can have. */
    public static boolean isPlausible(double value) {
        return Math.abs(value) <= MAX_MAGNITUDE;
    }

    /** Shortest decimal that reads back as the same value; without {@code .0} when it is whole. */
    public static String shortest(double value) {
        String text = NumberOutput.toString(value, true);
        boolean negativeZero = value == 0 && 1 / value < 0;
        return text.endsWith(".0") && !negativeZero ? text.substring(0, text.length() - 2) : text;
    }

    /** Whether microseconds of Unix time lie in {@link #ALLOWED_YEARS}. */
    public static boolean isAllowedTime(long epochMicros) {
        return epochMicros >= EARLIEST_EPOCH_S * MICROS_PER_S && epochMicros < LATEST_EPOCH_S * MICROS_PER_S;
    }

    /**
     * An absolute time: Unix seconds, exact to the microsecond, or ISO 8601 with {@code Z} or an offset.
     *
     * @throws BadFrameException naming the field {@code time} when it is neither, or not in the allowed years
     */
    public static WallTime time(String text) throws BadFrameException {
        long micros;
        if (text.indexOf('T') > 0) {
            try {
                Instant instant = text.endsWith("Z")
                        ? Instant.parse(text)
                        : OffsetDateTime.parse(text).toInstant();
                micros = ChronoUnit.MICROS.between(Instant.EPOCH, instant);
            } catch (DateTimeException | ArithmeticException e) {
                throw badTime(text);
            }
        } else {
            micros = decimalMicros(text.toCharArray(), 0, text.length());
            if (micros == Long.MIN_VALUE) {
                double seconds = number(text);
                if (!(Math.abs(seconds) <= LATEST_EPOCH_S)) {
                    throw badTime(text);
                }
                micros = Math.round(seconds * MICROS_PER_S);
            }
        }
        if (!isAllowedTime(micros)) {
            throw badTime(text);
        }
        return new WallTime(micros);
    }

    private static BadFrameException badTime(String text) {
        return new BadFrameException("field \"time\" is " + quoted(text)
                + "; allowed are Unix seconds or ISO 8601 with Z or an offset, in " + ALLOWED_YEARS);
    }

    /** Unix seconds with as many of six decimals as it takes, exact. */
    public static String epochSeconds(WallTime time) {
        long micros = time.epochMicros();
        long whole = Math.floorDiv(micros, MICROS_PER_S);
        int fraction = (int) Math.floorMod(micros, MICROS_PER_S);
        if (fraction == 0) {
            return Long.toString(whole);
        }
        if (whole < 0) {
            // Before 1970 the digits count the other way; no such time passes the decoders.
            return shortest(time.epochSeconds());
        }
        StringBuilder text = new StringBuilder(20).append(whole).append('.');
        for (int scale = 100_000; fraction > 0; scale /= 10) {
            text.append((char) ('0' + fraction / scale));
            fraction %= scale;
        }
        return text.toString();
    }

    /**
     * Plain decimal seconds ({@code -12.5}, no exponent) as the nearest microsecond, without the rounding of a double;
     * {@code Long.MIN_VALUE} when it is written otherwise or beyond 10¹¹ s.
     */
    static long decimalMicros(char[] text, int offset, int length) {
        int i = offset;
        int end = offset + length;
        boolean negative = i < end && text[i] == '-';
        if (negative) {
            i++;
        }
        int digitsFrom = i;
        long micros = 0;
        while (i < end && text[i] >= '0' && text[i] <= '9' && i - digitsFrom <= 11) {
            micros = micros * 10 + (text[i++] - '0');
        }
        if (i == digitsFrom || i - digitsFrom > 11) {
            return Long.MIN_VALUE;
        }
        boolean point = i < end && text[i] == '.';
        if (point) {
            i++;
        }
        int decimalsFrom = i;
        long scale = MICROS_PER_S;
        micros *= scale;
        while (i < end && text[i] >= '0' && text[i] <= '9') {
            int digit = text[i] - '0';
            if (scale > 1) {
                scale /= 10;
                micros += digit * scale;
            } else if (i - decimalsFrom == 6 && digit >= 5) {
                micros++;
            }
            i++;
        }
        if (i < end || (point && i == decimalsFrom)) {
            return Long.MIN_VALUE;
        }
        return negative ? -micros : micros;
    }

    /** The text in quotes for a message: cut, and with a dot for whatever a terminal must not get. */
    public static String quoted(String text) {
        StringBuilder quoted = new StringBuilder(MAX_QUOTED_LENGTH + 4).append('"');
        int end = Math.min(text.length(), MAX_QUOTED_LENGTH);
        for (int i = 0; i < end; i++) {
            char c = text.charAt(i);
            quoted.append(Character.isISOControl(c) || Character.isSurrogate(c) ? '.' : c);
        }
        if (end < text.length()) {
            quoted.append('…');
        }
        return quoted.append('"').toString();
    }
}
