package org.bankfire.daemon.report.burn;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.report.Figures;
import org.bankfire.dashboard.source.ReportBook.Reader;

/** Figures, times and sentences as one reader takes them. */
public final class Phrases {
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH);
    private static final DateTimeFormatter SHORT_DAY = DateTimeFormatter.ofPattern("d MMM", Locale.ENGLISH);
    private static final DateTimeFormatter MINUTE = DateTimeFormatter.ofPattern("HH:mm", Locale.ENGLISH);
    private static final DateTimeFormatter SECOND = DateTimeFormatter.ofPattern("HH:mm:ss", Locale.ENGLISH);
    private static final DateTimeFormatter ZONE = DateTimeFormatter.ofPattern("zzz", Locale.ENGLISH);
    private static final Pattern CELSIUS = Pattern.compile("([+−-]?)(\\d+(?:\\.\\d+)?)[ \\u00a0]°C");
    private static final Pattern KELVIN = Pattern.compile("([+−-]?)(\\d+(?:\\.\\d+)?)[ \\u00a0]K(?![\\w/])");
    private static final int MOST_DIGITS = 4;
    private static final double TENTHS_UP_TO_S = 9.95;

    private final Reader reader;

    /** For that reader. */
    public Phrases(Reader reader) {
        this.reader = reader;
    }

    /** With so many digits after the point. */
    public static String fixed(double value, int digits) {
        String text = Figures.fixed(value, digits);
        // A minus before zero says nothing.
        boolean zero = text.matches("-0(\\.0+)?");
        return zero ? text.substring(1) : text.replace('-', '−');
    }

    /** Digits after the point that an interval lets mean something: two when its half width begins with 1, else one. */
    static int digits(double half) {
        if (!(half > 0)) {
            return 2;
        }
        int exponent = (int) Math.floor(Math.log10(half));
        double first = half / Math.pow(10, exponent);
        return Math.max(0, Math.min(MOST_DIGITS, -exponent + (first < 2 ? 1 : 0)));
    }

    /** A value with its 95 % interval and unit, such as {@code 1.71 W/K (1.67 to 1.75)}; NaN is not known. */
    public static String interval(double value, double low, double high, String unit) {
        String after = unit.isEmpty() ? "" : "\u00a0" + unit;
        if (!Double.isFinite(value)) {
            return Double.isFinite(low) && Double.isFinite(high)
                    ? "somewhere from " + fixed(low, digits((high - low) / 2)) + " to "
                            + fixed(high, digits((high - low) / 2)) + after
                    : "not known";
        }
        if (!Double.isFinite(low) || !Double.isFinite(high)) {
            return fixed(value, 2) + after + ", interval not known";
        }
        int digits = digits((high - low) / 2);
        return fixed(value, digits) + after + " (" + fixed(low, digits) + " to " + fixed(high, digits) + ")";
    }

    /** A temperature in the reader's unit. */
    public String degrees(double celsius) {
        return Double.isFinite(celsius)
                ? fixed(reader.temperature().of(celsius), 0) + "\u00a0"
                        + reader.temperature().label()
                : "not known";
    }

    /** A difference of temperatures in the reader's unit, with its sign. */
    public String difference(double kelvin) {
        double step = reader.temperature().step(kelvin);
        String text = fixed(step, Math.abs(step) < 10 ? 1 : 0);
        boolean zero = text.matches("0(\\.0+)?");
        return (step > 0 && !zero ? "+" : "") + text + "\u00a0"
                + reader.temperature().stepLabel();
    }

    /** A gauge pressure in the reader's unit. */
    public String pressure(double pascal) {
        return fixed(reader.pressure().of(pascal), reader.pressure().digits()) + "\u00a0"
                + reader.pressure().label();
    }

    /** A length of time, exact enough to compare; NaN was not reached. */
    public static String time(double seconds) {
        if (!Double.isFinite(seconds)) {
            return "not reached";
        }
        if (seconds < TENTHS_UP_TO_S) {
            return fixed(seconds, 1) + "\u00a0s";
        }
        long whole = Math.round(seconds);
        if (whole < 60) {
            return whole + "\u00a0s";
        }
        if (whole < 3_600) {
            return String.format(Locale.ROOT, "%d\u00a0min %02d\u00a0s", whole / 60, whole % 60);
        }
        long minutes = Math.round(whole / 60.0);
        return String.format(Locale.ROOT, "%d\u00a0h %02d\u00a0min", minutes / 60, minutes % 60);
    }

    private ZonedDateTime at(WallTime time) {
        return time.toInstant().atZone(reader.zone());
    }

    /** Such as {@code 1 March 2026}. */
    public String day(WallTime time) {
        return DAY.format(at(time));
    }

    /** Such as {@code 10:00}. */
    public String minute(WallTime time) {
        return MINUTE.format(at(time));
    }

    /** Such as {@code CET}. */
    public String zone(WallTime time) {
        return ZONE.format(at(time));
    }

    /** Time of day to the second, with the day where it is another than that of {@code start}. */
    String moment(WallTime time, WallTime start) {
        String second = SECOND.format(at(time));
        return at(time).toLocalDate().equals(at(start).toLocalDate())
                ? second
                : SHORT_DAY.format(at(time)) + " " + second;
    }

    /** A sentence of the fit or of an alarm in the trade's words and the reader's unit of temperature. */
    public String retold(String sentence) {
        String told = Terms.in(sentence);
        if (reader.temperature().step(1) == 1) {
            return told;
        }
        String celsius = CELSIUS.matcher(told)
                .replaceAll(match -> fixed(reader.temperature().of(signed(match.group(1), match.group(2))), 0)
                        + "\u00a0"
                        + Matcher.quoteReplacement(reader.temperature().label()));
        return KELVIN.matcher(celsius)
                .replaceAll(match -> match.group(1)
                        + fixed(reader.temperature().step(Double.parseDouble(match.group(2))), 0) + "\u00a0"
                        + Matcher.quoteReplacement(reader.temperature().stepLabel()));
    }

    private static double signed(String sign, String figure) {
        double value = Double.parseDouble(figure);
        return sign.equals("-") || sign.equals("−") ? -value : value;
    }

    /** With a capital letter and a full stop. */
    public static String sentence(String words) {
        if (words.isBlank()) {
            return "";
        }
        String stripped = words.strip();
        String capital = stripped.substring(0, 1).toUpperCase(Locale.ROOT) + stripped.substring(1);
        return capital.endsWith(".") || capital.endsWith("!") || capital.endsWith("?") ? capital : capital + ".";
    }

    /** A number of the fit; NaN where it is null or not there. */
    static double number(JsonNode object, String key) {
        JsonNode value = object.path(key);
        return value.isNumber() ? value.doubleValue() : Double.NaN;
    }

    /** Who reads. */
    public Reader reader() {
        return reader;
    }
}
