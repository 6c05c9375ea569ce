package org.bankfire.analysis.alarm;

import org.bankfire.analysis.reading.WallTime;

/**
 * One step of one alarm of one forge. Forge, time and alarm and state together are its key in the store.
 *
 * @param forge the forge's id
 * @param time event time of the step
 * @param alarm which alarm
 * @param state the state that it went into
 * @param priority its priority at that moment
 * @param value the measured value that decided, in the reader's unit of that quantity (°C, Pa …); NaN when there is none
 * @param why the reason in words, one sentence
 */
public record AlarmTransition(
        String forge, WallTime time, AlarmId alarm, AlarmState state, Priority priority, double value, String why) {}
