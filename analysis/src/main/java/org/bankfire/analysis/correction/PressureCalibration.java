package org.bankfire.analysis.correction;

/**
 * A pressure transducer: a straight line through two points of its output.
 *
 * @param channel name of the pressure it gives
 * @param output what its output is measured as
 * @param low output at {@code lowPa}: V, A, or a ratio of the supply
 * @param lowPa gauge pressure, Pa
 * @param high output at {@code highPa}, not {@code low}
 * @param highPa gauge pressure, Pa
 * @param supplyV supply of a ratiometric transducer whose voltage is measured absolutely, V; NaN otherwise
 * @param shuntOhm resistor across which a current loop is measured as voltage, Ω; NaN otherwise
 * @param zero output with the hose off, in the unit of {@code low}; NaN when never captured
 * @param accuracyOfSpan standard uncertainty over span, 1
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
}
