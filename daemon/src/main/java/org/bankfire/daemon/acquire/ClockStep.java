package org.bankfire.daemon.acquire;

import org.bankfire.analysis.reading.WallTime;

/**
 * The system clock was set, or the machine slept.
 *
 * @param before what the time would have been
 * @param after what it was set to
 */
public record ClockStep(WallTime before, WallTime after) {
    /** How far it was set forward, seconds; negative when it was set back. */
    public double seconds() {
        return after.secondsSince(before);
    }
}
