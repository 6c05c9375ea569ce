package org.bankfire.analysis.correction;

import java.util.Locale;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;

/** What came of taking a transducer's present output as its zero. */
public sealed interface ZeroCapture {
    /** The channel that was asked for. */
    String channel();

    /** What came of it, for the reader. */
    String words();

    /** Name of the setting under which a zero is kept, such as {@code setting-zero-gas}. */
    static String settingName(String channel) {
        return Setting.PREFIX + "zero-" + channel;
    }

    /**
     * A zero that can be used.
     *
     * @param channel the pressure
     * @param zero output with the hose off, in {@code unit}
     * @param unit V, A, / or Pa, by what the transducer gives
     * @param standardUncertainty of the zero, in {@code unit}: of the mean, and of the coarsest converter's step
     * @param shiftPa how far the zero lies from the one before, as pressure, Pa
     * @param standardUncertaintyPa the same uncertainty as pressure, Pa
     * @param readings how many were averaged
     */
    record Captured(
            String channel,
            double zero,
            Unit unit,
            double standardUncertainty,
            double shiftPa,
            double standardUncertaintyPa,
            int readings)
            implements ZeroCapture {
        @Override
        public String words() {
            return String.format(
                    Locale.ROOT,
                    "zero of %s taken as %.6g %s from %d readings: it moves by %.0f Pa, known to ±%.0f Pa (95 %%)",
                    channel,
                    zero,
                    unit.symbol(),
                    readings,
                    shiftPa,
                    2 * standardUncertaintyPa);
        }
    }

    /**
     * No zero was taken.
     *
     * @param channel the channel
     * @param reason what stood against it
     * @param words the same for the reader, with the figures
     */
    record Refused(String channel, Reason reason, String words) implements ZeroCapture {}

    /** What stands against a zero. */
    enum Reason {
        /** The channel is no pressure, or the configuration does not say what its output means. */
        NOT_A_PRESSURE,
        /** Too few good readings. */
        TOO_FEW,
        /** The output moves more than a transducer at rest. */
        TOO_NOISY,
        /** The output is not near the low end: the hose is on, or the transducer is broken. */
        TOO_FAR
    }
}
