package org.bankfire.analysis.reading;

import java.util.HashMap;
import java.util.Map;

/**
 * A unit of measurement by its symbol, with the straight line that leads to the coherent unit of its quantity:
 * {@code coherent = value × factor + offset}. Symbols are those of RFC 8428 and RFC 8798 where they have one.
 *
 * @param symbol 0 to 32 characters; empty for a pure number without a unit
 * @param quantity what it measures; {@link Quantity#OTHER} for a unit that Bankfire does not convert
 * @param factor coherent units per this unit, not zero
 * @param offset coherent value at zero of this unit
 */
public record Unit(String symbol, Quantity quantity, double factor, double offset) {
    /** Kinds of quantity, each with its coherent SI unit. */
    public enum Quantity {
        /** Kelvin. */
        TEMPERATURE,
        /** Pascal. */
        PRESSURE,
        /** Volt. */
        VOLTAGE,
        /** Ampere. */
        CURRENT,
        /** Kilogram. */
        MASS,
        /** Metre. */
        LENGTH,
        /** Pure number. */
        RATIO,
        /** Not converted. */
        OTHER
    }

    public static final Unit KELVIN = new Unit("K", Quantity.TEMPERATURE, 1, 0);
    public static final Unit CELSIUS = new Unit("Cel", Quantity.TEMPERATURE, 1, 273.15);
    /** Not registered for SenML; taken from plain columns only. */
    public static final Unit FAHRENHEIT = new Unit("degF", Quantity.TEMPERATURE, 5.0 / 9.0, 459.67 * 5.0 / 9.0);

    public static final Unit PASCAL = new Unit("Pa", Quantity.PRESSURE, 1, 0);
    public static final Unit HECTOPASCAL = new Unit("hPa", Quantity.PRESSURE, 1e2, 0);
    public static final Unit KILOPASCAL = new Unit("kPa", Quantity.PRESSURE, 1e3, 0);
    public static final Unit MILLIBAR = new Unit("mbar", Quantity.PRESSURE, 1e2, 0);
    public static final Unit BAR = new Unit("bar", Quantity.PRESSURE, 1e5, 0);
    /** Pound-force per square inch: 0.45359237 kg × 9.80665 m/s² / (0.0254 m)², exact by definition. */
    public static final Unit PSI = new Unit("psi", Quantity.PRESSURE, 0.45359237 * 9.80665 / (0.0254 * 0.0254), 0);
    /** Inch of water, conventional (1000 kg/m³ at standard gravity), NIST SP 811 appendix B. */
    public static final Unit INCH_OF_WATER = new Unit("inH2O", Quantity.PRESSURE, 249.08891, 0);

    public static final Unit VOLT = new Unit("V", Quantity.VOLTAGE, 1, 0);
    public static final Unit MILLIVOLT = new Unit("mV", Quantity.VOLTAGE, 1e-3, 0);
    public static final Unit AMPERE = new Unit("A", Quantity.CURRENT, 1, 0);
    public static final Unit MILLIAMPERE = new Unit("mA", Quantity.CURRENT, 1e-3, 0);
    public static final Unit KILOGRAM = new Unit("kg", Quantity.MASS, 1, 0);
    public static final Unit GRAM = new Unit("g", Quantity.MASS, 1e-3, 0);
    public static final Unit METRE = new Unit("m", Quantity.LENGTH, 1, 0);
    public static final Unit MILLIMETRE = new Unit("mm", Quantity.LENGTH, 1e-3, 0);
    /** RFC 8428's symbol for a ratio of two like quantities. */
    public static final Unit RATIO = new Unit("/", Quantity.RATIO, 1, 0);

    public static final Unit NONE = new Unit("", Quantity.RATIO, 1, 0);

    private static final int MAX_SYMBOL_LENGTH = 32;
    private static final Map<String, Unit> KNOWN = new HashMap<>();

    static {
        Unit[] known = {
            KELVIN,
            CELSIUS,
            FAHRENHEIT,
            PASCAL,
            HECTOPASCAL,
            KILOPASCAL,
            MILLIBAR,
            BAR,
            PSI,
            INCH_OF_WATER,
            VOLT,
            MILLIVOLT,
            AMPERE,
            MILLIAMPERE,
            KILOGRAM,
            GRAM,
            METRE,
            MILLIMETRE,
            RATIO,
            NONE
        };
        for (Unit unit : known) {
            KNOWN.put(unit.symbol, unit);
        }
    }

    public Unit {
        if (symbol.length() > MAX_SYMBOL_LENGTH) {
            throw new IllegalArgumentException("unit \"" + symbol + "\" is longer than " + MAX_SYMBOL_LENGTH);
        }
        if (!Double.isFinite(factor) || factor == 0 || !Double.isFinite(offset)) {
            throw new IllegalArgumentException("unit \"" + symbol + "\" has no usable conversion");
        }
    }

    /** The unit of that symbol; one that Bankfire does not know is kept by name and never converted. */
    public static Unit ofSymbol(String symbol) {
        Unit known = KNOWN.get(symbol);
        return known != null ? known : new Unit(symbol, Quantity.OTHER, 1, 0);
    }

    /** {@code value} of this unit in the coherent SI unit of its quantity. */
    public double toSi(double value) {
        return value * factor + offset;
    }

    /** A value of the coherent SI unit in this unit. */
    public double fromSi(double siValue) {
        return (siValue - offset) / factor;
    }

    /** {@code value} of this unit in {@code target}, to the last digit unchanged when both are the same. */
    public double convert(double value, Unit target) {
        if (equals(target)) {
            return value;
        }
        if (quantity != target.quantity || quantity == Quantity.OTHER) {
            throw new IllegalArgumentException("\"" + symbol + "\" cannot be converted to \"" + target.symbol + "\"");
        }
        return target.fromSi(toSi(value));
    }
}
