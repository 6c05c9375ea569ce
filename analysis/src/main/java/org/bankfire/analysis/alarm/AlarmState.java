package org.bankfire.analysis.alarm;

import java.util.Locale;
import java.util.Optional;

/** States of one alarm, as in ISA-18.2 / IEC 62682. */
public enum AlarmState {
    NORMAL,
    UNACKNOWLEDGED,
    ACKNOWLEDGED,
    /** The cause has gone before anybody acknowledged. */
    RETURNED_UNACKNOWLEDGED,
    /** The cause of a latched alarm has gone; it stays until acknowledged. */
    LATCHED_UNACKNOWLEDGED,
    SHELVED,
    SUPPRESSED,
    OUT_OF_SERVICE;

    /** Stable name for store, wire and events. */
    public String code() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** Whether it calls for the user: it sounds and stands on the alarm strip until acknowledged. */
    public boolean callsForAttention() {
        return this == UNACKNOWLEDGED || this == RETURNED_UNACKNOWLEDGED || this == LATCHED_UNACKNOWLEDGED;
    }

    public static Optional<AlarmState> ofCode(String code) {
        for (AlarmState state : values()) {
            if (state.code().equals(code)) {
                return Optional.of(state);
            }
        }
        return Optional.empty();
    }
}
