package org.bankfire.analysis.monitor;

import org.jspecify.annotations.Nullable;

/** Tells why an alarm is raised or cleared, when only the part that judges it knows. Asked at transitions only. */
interface ConditionWords {
    /** Why it is raised; null leaves it to {@link AlarmWords}. */
    @Nullable
    String raised(double value);

    /** Why it has cleared; null leaves it to {@link AlarmWords}. */
    @Nullable
    String cleared(double value);
}
