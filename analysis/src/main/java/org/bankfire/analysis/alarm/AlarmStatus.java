package org.bankfire.analysis.alarm;

import org.bankfire.analysis.reading.WallTime;

/**
 * How one alarm stands now.
 *
 * @param alarm which alarm
 * @param state its state, never normal in a list of standing alarms
 * @param priority its priority now
 * @param since when it went into that state
 * @param value the value that decided; NaN when there is none
 * @param why the reason in words
 */
public record AlarmStatus(
        AlarmId alarm, AlarmState state, Priority priority, WallTime since, double value, String why) {}
