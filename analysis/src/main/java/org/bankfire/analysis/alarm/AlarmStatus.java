package org.bankfire.analysis.alarm;

import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * How one alarm stands now.
 *
 * @param alarm which alarm
 * @param state its state, never normal in a list of standing alarms
 * @param priority its priority now
 * @param since when it went into that state
 * @param until when its shelf ends, also while something else lies over the shelf; null when it is not on the shelf
 * @param value the value that decided; NaN when there is none
 * @param why the reason in words
 */
public record AlarmStatus(
        AlarmId alarm,
        AlarmState state,
        Priority priority,
        WallTime since,
        @Nullable WallTime until,
        double value,
        String why) {}
