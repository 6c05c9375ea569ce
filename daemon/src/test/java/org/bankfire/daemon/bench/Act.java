package org.bankfire.daemon.bench;

import java.util.Locale;

/**
 * Something that befalls a forge.
 *
 * @param timeS since the first reading
 * @param deed what
 * @param value see {@link Deed}; 0 where it has none
 * @param extra see {@link Deed}; 0 where it has none
 */
record Act(double timeS, Deed deed, double value, double extra) {
    /** What hands, weather and burner do. */
    enum Deed {
        GAS_ON,
        LIGHT,
        /** Turn the regulator to {@code value} Pa gauge, evenly within {@code extra} s. */
        TURN,
        /** Put in {@code extra} cold bars of {@code value} m diameter. */
        STOCK_IN,
        STOCK_OUT,
        PLUG_OUT,
        PLUG_IN,
        /** Open the front to {@code value} times its area. */
        FRONT_OPEN,
        FRONT_SHUT,
        /** A draught of {@code value} kg/s begins; of 0, it ends. */
        DRAUGHT,
        /** The flame flutters {@code value} times as much as usual. */
        FLUTTER,
        GAS_OFF,
        /** The flame blows out while the gas flows. */
        FLAME_OUT
    }

    Act(double timeS, Deed deed) {
        this(timeS, deed, 0, 0);
    }

    /** Whether it is done at the gas: a user who has lost the flame does none of these until he notices. */
    boolean atTheGas() {
        return switch (deed) {
            case GAS_ON, LIGHT, TURN, GAS_OFF -> true;
            default -> false;
        };
    }

    /** For the reader, such as {@code turn 85000 1.5 at 1203.4 s}. */
    String words() {
        String name = deed.name().toLowerCase(Locale.ROOT).replace('_', '-');
        String size = value == 0 && extra == 0 ? "" : String.format(Locale.ROOT, " %.4g %.4g", value, extra);
        return String.format(Locale.ROOT, "%s%s at %.1f s", name, size, timeS);
    }
}
