package org.bankfire.analysis.correction;

/**
 * A pressure transducer: a straight line through two points of its output.
 *
 * @param channel name of the pressure it gives
 * @param output what its output is measured as
 * @param low output at {@code lowPa}: V, A, or a ratio of the supply; not used for {@link Output#PRESSURE}
 * @param lowPa gauge pressure, Pa
 * @param high output at {@code highPa}, not {@code low}
 * @param highPa gauge pressure, Pa, not {@code lowPa}; NaN only for {@link Output#PRESSURE}
 * @param supplyV supply of a ratiometric transducer whose voltage is measured absolutely, V; NaN otherwise
 * @param shuntOhm resistor across which a current loop is measured as voltage, Ω; NaN otherwise
 * @param zero output with the hose off, in the unit of {@code low} (Pa for {@link Output#PRESSURE}); NaN when never
 *     captured
 * @param accuracyOfSpan standard uncertainty over span, 1; NaN when not known
 */
public record PressureCalibration(
        String channel,
        Output output,
        double low,
        double lowPa,
        double high,
        double highPa,
        double supplyV,
        double shuntOhm,
        double zero,
        double accuracyOfSpan)
        implements ChannelCalibration {
    /** Supply of automotive-type transducers, V. */
    public static final double USUAL_SUPPLY_V = 5;

    // ±1.5 % of span over everything, rectangular: what inexpensive transducers promise. Common practice, no source.
    private static final double USUAL_ACCURACY_OF_SPAN = 0.015 / Math.sqrt(3);
    // A perfect vacuum, and four times what a full propane cylinder reaches in the sun.
    private static final double MIN_PA = -101_325;
    private static final double MAX_PA = 1e7;

    /** What the transducer gives. */
    public enum Output {
        /** Volts, in proportion to the supply. */
        RATIOMETRIC_VOLTS,
        /** Output over supply. */
        RATIO,
        /** 4–20 mA, measured in ampere or as volts across a shunt. */
        CURRENT_LOOP,
        /** Already a pressure; only the zero is taken. */
        PRESSURE
    }

    public PressureCalibration {
        Checks checks = new Checks(channel);
        if (output == Output.PRESSURE) {
            checks.withinOrUnknown("low pressure", lowPa, MIN_PA, MAX_PA, "Pa");
            checks.withinOrUnknown("high pressure", highPa, MIN_PA, MAX_PA, "Pa");
            checks.withinOrUnknown("zero", zero, MIN_PA, MAX_PA, "Pa");
        } else {
            double largest = largest(output);
            checks.within("low output", low, 0, largest, unit(output));
            checks.within("high output", high, 0, largest, unit(output));
            checks.within("low pressure", lowPa, MIN_PA, MAX_PA, "Pa");
            checks.within("high pressure", highPa, MIN_PA, MAX_PA, "Pa");
            checks.differ("high output", high, "the low output", low);
            checks.withinOrUnknown("zero", zero, 0, largest, unit(output));
        }
        checks.differ("high pressure", highPa, "the low pressure", lowPa);
        checks.withinOrUnknown("supply", supplyV, 0.5, 50, "V");
        checks.withinOrUnknown("shunt", shuntOhm, 0.1, 1e5, "Ω");
        checks.withinOrUnknown("accuracy", accuracyOfSpan, 0, 1, "of span");
    }

    /** 0.5–4.5 V at a supply of 5 V for 0 to {@code highPa}. */
    public static PressureCalibration ratiometric(String channel, double highPa) {
        return new PressureCalibration(
                channel,
                Output.RATIOMETRIC_VOLTS,
                0.5,
                0,
                4.5,
                highPa,
                USUAL_SUPPLY_V,
                Double.NaN,
                Double.NaN,
                USUAL_ACCURACY_OF_SPAN);
    }

    /** 4–20 mA for 0 to {@code highPa}, across {@code shuntOhm}; NaN when the source reports the current. */
    public static PressureCalibration currentLoop(String channel, double highPa, double shuntOhm) {
        return new PressureCalibration(
                channel,
                Output.CURRENT_LOOP,
                4e-3,
                0,
                20e-3,
                highPa,
                Double.NaN,
                shuntOhm,
                Double.NaN,
                USUAL_ACCURACY_OF_SPAN);
    }

    /** A source that reports a pressure, of which nothing else is known. */
    public static PressureCalibration alreadyPressure(String channel) {
        return new PressureCalibration(
                channel,
                Output.PRESSURE,
                Double.NaN,
                0,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Double.NaN);
    }

    /** The same transducer with that output at 0 Pa gauge. */
    public PressureCalibration withZero(double newZero) {
        return new PressureCalibration(
                channel, output, low, lowPa, high, highPa, supplyV, shuntOhm, newZero, accuracyOfSpan);
    }

    private static double largest(Output output) {
        return switch (output) {
            case RATIOMETRIC_VOLTS -> 50;
            case RATIO -> 1;
            case CURRENT_LOOP -> 0.05;
            case PRESSURE -> MAX_PA;
        };
    }

    private static String unit(Output output) {
        return switch (output) {
            case RATIOMETRIC_VOLTS -> "V";
            case RATIO -> "of the supply";
            case CURRENT_LOOP -> "A";
            case PRESSURE -> "Pa";
        };
    }
}
