/**
 * Alarms as in ISA-18.2 / IEC 62682: their ids, priorities and states, and the event-timed state machine that moves
 * them. It sees times only as arguments, so a replay gives the same transitions.
 */
@NullMarked
package org.bankfire.analysis.alarm;

import org.jspecify.annotations.NullMarked;
