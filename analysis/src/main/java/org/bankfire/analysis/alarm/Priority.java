package org.bankfire.analysis.alarm;

import java.util.Locale;

/** Alarm priorities, the gravest first (ISA-18.2). */
public enum Priority {
    CRITICAL,
    HIGH,
    MEDIUM,
    LOW;

    /** Lower-case name for store, wire and page. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }
}
