package org.bankfire.daemon.config;

import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.bankfire.analysis.quantity.Range;
import org.bankfire.analysis.reading.Unit;
import org.jspecify.annotations.Nullable;

/**
 * What a quantity in the configuration measures, with the units it may be written in. Symbols are exact, upper and lower
 * case apart; {@code °} may stand for {@code deg}, {@code µ} for {@code u}, {@code Ω} for {@code ohm} and {@code ³} for
 * {@code 3}.
 */
public enum Dimension {
    /** m. Inch and foot: exact by the international yard and pound agreement of 1959. */
    LENGTH("a length", Unit.MILLIMETRE, unit("cm", 1e-2), Unit.METRE, unit("in", 0.0254), unit("ft", 0.3048)),
    /** K; a point on the scale. */
    TEMPERATURE(
            "a temperature",
            new Unit("degC", Unit.Quantity.TEMPERATURE, 1, 273.15),
            new Unit("degF", Unit.Quantity.TEMPERATURE, 5.0 / 9.0, 459.67 * 5.0 / 9.0),
            Unit.KELVIN),
    /** K; a step on the scale, so degC and degF would be misread. */
    TEMPERATURE_DIFFERENCE("a temperature difference", unit("K", 1)),
    /** s. */
    DURATION("a time", unit("s", 1), unit("ms", 1e-3), unit("min", 60), unit("h", 3600), unit("days", 86_400)),
    /** Pa. */
    PRESSURE(
            "a pressure",
            Unit.BAR,
            Unit.MILLIBAR,
            Unit.PASCAL,
            Unit.HECTOPASCAL,
            Unit.KILOPASCAL,
            Unit.PSI,
            Unit.INCH_OF_WATER),
    /** V. */
    VOLTAGE("a voltage", Unit.VOLT, Unit.MILLIVOLT, unit("uV", 1e-6)),
    /** A. */
    CURRENT("a current", Unit.MILLIAMPERE, Unit.AMPERE),
    /** Ω. */
    RESISTANCE("a resistance", unit("ohm", 1), unit("kohm", 1e3)),
    /** kg. Pound: exact by the international yard and pound agreement of 1959. */
    MASS("a mass", Unit.KILOGRAM, Unit.GRAM, unit("lb", 0.45359237)),
    /** kg/m³. */
    DENSITY("a density", unit("kg/m3", 1), unit("g/cm3", 1e3), unit("lb/ft3", 0.45359237 / (0.3048 * 0.3048 * 0.3048))),
    /** J/(kg K). */
    HEAT_CAPACITY("a heat capacity", unit("J/(kg K)", 1), unit("kJ/(kg K)", 1e3)),
    /** W/(m K). */
    CONDUCTIVITY("a conductivity", unit("W/(m K)", 1), unit("mW/(m K)", 1e-3)),
    /** V/K. */
    SENSITIVITY("a sensitivity", unit("uV/K", 1e-6), unit("mV/K", 1e-3), unit("V/K", 1)),
    /** K/s. */
    HEATING_RATE("a rise of temperature", unit("K/h", 1.0 / 3600), unit("K/min", 1.0 / 60), unit("K/s", 1)),
    /** Hz. */
    FREQUENCY("a rate", unit("Hz", 1)),
    /** Bytes. */
    SIZE("a size", unit("B", 1), unit("kB", 1e3), unit("MB", 1e6), unit("GB", 1e9)),
    /** Pure number; the only one that may be written without a unit. */
    RATIO("a number", Unit.NONE, unit("%", 1e-2));

    private static final Pattern NUMBER_AND_UNIT =
            Pattern.compile("\\s*([+-]?(?:\\d+\\.?\\d*|\\.\\d+)(?:[eE][+-]?\\d{1,3})?)\\s*(.*?)\\s*");
    // Longer than any number with a unit; keeps the pattern's work bounded.
    private static final int MAX_LENGTH = 100;
    private static final double CELSIUS_ROUNDING = 1e9;

    private final String noun;

    @SuppressWarnings("ImmutableEnumChecker") // List.of gives a list that cannot change
    private final List<Unit> units;

    Dimension(String noun, Unit... units) {
        this.noun = noun;
        this.units = List.of(units);
    }

    /**
     * Reads a quantity such as {@code 0.8 mm} or {@code 0.14 W/(m K)}.
     *
     * @throws IllegalArgumentException when it is none; the message says what is wrong with it
     */
    public Quantity parse(String text) {
        Matcher matcher = NUMBER_AND_UNIT.matcher(text);
        if (text.length() > MAX_LENGTH || !matcher.matches()) {
            throw new IllegalArgumentException("not a number with its unit");
        }
        double value = Double.parseDouble(matcher.group(1));
        String symbol = matcher.group(2);
        Unit unit = unitOf(symbol);
        if (unit == null) {
            throw new IllegalArgumentException(
                    symbol.isEmpty() ? "it needs its unit" : "\"" + symbol + "\" is not a unit of " + noun);
        }
        if (!Double.isFinite(unit.toSi(value))) {
            throw new IllegalArgumentException("too large");
        }
        return this == TEMPERATURE ? inCelsius(value, unit) : new Quantity(value, unit);
    }

    /** The first dimension, in order of declaration, that {@code text} is a quantity of; {@link #RATIO} for any other. */
    static Dimension of(String text) {
        for (Dimension dimension : values()) {
            Matcher matcher = NUMBER_AND_UNIT.matcher(text);
            if (text.length() <= MAX_LENGTH && matcher.matches() && dimension.unitOf(matcher.group(2)) != null) {
                return dimension;
            }
        }
        return RATIO;
    }

    /** What is allowed, in words: the noun, the units, the range in the example's unit, and the example. */
    public String allowed(Range range, String example) {
        Unit unit = parse(example).unit();
        return noun + " from " + write(range.low(), unit) + " to " + write(range.high(), unit) + ", as in \"" + example
                + "\" (units: " + symbols() + ")";
    }

    /**
     * A value of the SI unit as text that {@link #parse} turns into exactly that value again, as short as it goes.
     *
     * @param si in the SI unit of this dimension
     * @param unit preferred; the SI unit is used when rounding stands in the way
     */
    String write(double si, Unit unit) {
        double value = unit.fromSi(si);
        for (int digits = 1; digits <= 17; digits++) {
            String text = Decimal.write(value, digits) + (unit.symbol().isEmpty() ? "" : " " + unit.symbol());
            if (parse(text).si() == si) {
                return text;
            }
        }
        return this == TEMPERATURE ? si + " K" : si + " " + siSymbol();
    }

    private String siSymbol() {
        for (Unit unit : units) {
            if (unit.factor() == 1 && unit.offset() == 0) {
                return unit.symbol();
            }
        }
        return "";
    }

    private String symbols() {
        return units.stream()
                .map(Unit::symbol)
                .map(symbol -> symbol.isEmpty() ? "none" : symbol)
                .collect(Collectors.joining(", "));
    }

    private @Nullable Unit unitOf(String written) {
        String symbol = plain(written);
        for (Unit unit : units) {
            if (unit.symbol().equals(symbol)) {
                return unit;
            }
        }
        return null;
    }

    /** The spelling that the tables above use. */
    private static String plain(String symbol) {
        String plain = symbol.replace("°", "deg")
                .replace("\u03a9", "ohm") // Greek capital omega
                .replace("\u2126", "ohm") // ohm sign
                .replace('\u00b5', 'u') // micro sign
                .replace('\u03bc', 'u') // Greek small mu
                .replace('\u00b3', '3') // superscript three
                .replaceAll("\\s*[·*]\\s*", " ");
        return switch (plain) {
            case "Cel" -> "degC";
            case "day" -> "days";
            case "J/kg/K", "J/(kg.K)" -> "J/(kg K)";
            case "kJ/kg/K", "kJ/(kg.K)" -> "kJ/(kg K)";
            case "W/m/K", "W/(m.K)" -> "W/(m K)";
            case "mW/m/K", "mW/(m.K)" -> "mW/(m K)";
            case "uV/degC" -> "uV/K";
            case "mV/degC" -> "mV/K";
            case "V/degC" -> "V/K";
            default -> plain;
        };
    }

    /**
     * Every temperature is kept in °C, rounded to a billionth of a kelvin, so that limits in °C and the physics in K come
     * from one figure and a printed one reads back the same.
     */
    private static Quantity inCelsius(double value, Unit unit) {
        Unit celsius = TEMPERATURE.units.get(0);
        if (unit.equals(celsius)) {
            return new Quantity(value, celsius);
        }
        double exact = celsius.fromSi(unit.toSi(value));
        return new Quantity(Math.round(exact * CELSIUS_ROUNDING) / CELSIUS_ROUNDING, celsius);
    }

    private static Unit unit(String symbol, double factor) {
        return new Unit(symbol, Unit.Quantity.OTHER, factor, 0);
    }
}
