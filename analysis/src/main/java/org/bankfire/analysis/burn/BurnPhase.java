package org.bankfire.analysis.burn;

import java.util.Locale;

/** What the forge is doing. */
public enum BurnPhase {
    /** No gas, chamber near the surroundings. */
    COLD,
    /** Gas flows, not yet known to burn. */
    LIGHTING,
    /** Burning, temperature rising. */
    HEATING,
    /** Burning, temperature constant within the steady band, not turned down. */
    STEADY,
    /** Burning, turned down; steady besides, or not. */
    IDLING,
    /** No gas or no flame, chamber still hot. */
    COOLING;

    /** Lower-case name for store, wire and page. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    public boolean isBurning() {
        return this == HEATING || this == STEADY || this == IDLING;
    }
}
