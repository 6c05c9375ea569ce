package org.bankfire.analysis.alarm;

/** What may happen to one alarm. */
public enum AlarmInput {
    /** Its condition has held for the on-delay. */
    RAISE,
    /** Its condition has been gone for the off-delay. */
    CLEAR,
    /** The user has taken note. */
    ACKNOWLEDGE;

    /**
     * The state that follows {@code state}; the same state when the input means nothing there. Shelved, suppressed and
     * out of service lie over these five states and do not move by these inputs.
     *
     * <p>The state diagram of ISA-18.2 / IEC 62682 (from memory): A normal, B unacknowledged, C acknowledged, D returned
     * unacknowledged, E latched unacknowledged. Its F, latched and acknowledged, awaits a reset by hand; here the
     * acknowledgement of a latched alarm whose cause has gone is that reset.
     *
     * @param latched whether the alarm stays raised after its cause has gone
     */
    public AlarmState after(AlarmState state, boolean latched) {
        return switch (state) {
            case NORMAL -> this == RAISE ? AlarmState.UNACKNOWLEDGED : state;
            case UNACKNOWLEDGED ->
                switch (this) {
                    case RAISE -> state;
                    case CLEAR -> latched ? AlarmState.LATCHED_UNACKNOWLEDGED : AlarmState.RETURNED_UNACKNOWLEDGED;
                    case ACKNOWLEDGE -> AlarmState.ACKNOWLEDGED;
                };
            case ACKNOWLEDGED -> this == CLEAR ? AlarmState.NORMAL : state;
            case RETURNED_UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED ->
                switch (this) {
                    case RAISE -> AlarmState.UNACKNOWLEDGED;
                    case CLEAR -> state;
                    case ACKNOWLEDGE -> AlarmState.NORMAL;
                };
            case SHELVED, SUPPRESSED, OUT_OF_SERVICE -> state;
        };
    }
}
