package org.bankfire.analysis.burn;

import java.util.Locale;
import org.bankfire.analysis.reading.WallTime;

/**
 * A moment at which a burn passes from one stage to the next.
 *
 * @param forge the forge's id
 * @param burnId the burn that it belongs to
 * @param time event time
 * @param stage what begins
 * @param chamberC chamber temperature then, °C; NaN when not known
 * @param why the reason in words
 */
public record BurnBoundary(String forge, String burnId, WallTime time, Stage stage, double chamberC, String why) {
    /** Stages that scripts see. */
    public enum Stage {
        LIT,
        /** The chamber holds its temperature, working or idling. */
        STEADY,
        /** Turned down. */
        IDLE,
        OUT;

        /** Lower-case name for events. */
        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }
}
