package org.bankfire.analysis.monitor;

import java.util.Locale;

/** What the instrument can say about the flame. */
public enum FlameState {
    /** No gas, so no flame. */
    OFF,
    /** Gas flows and nothing shows yet whether it burns. */
    LIGHTING,
    BURNING,
    /** Gas flows and the flame is out. */
    OUT,
    /** It cannot be judged: a sensor is bad or silent. */
    UNAVAILABLE;

    /** Lower-case name for the page. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }
}
