package org.bankfire.daemon.notify;

import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.alarm.Priority;

/**
 * An alarm that is to be told.
 *
 * @param latest its latest step
 * @param gravest the gravest priority of the steps that it stands for
 * @param steps how many steps it stands for, 1 or more
 * @param atNanos when the latest step came, by the monotonic clock
 * @param again whether it stood before the daemon started
 */
record Telling(AlarmTransition latest, Priority gravest, int steps, long atNanos, boolean again) {
    /** An alarm of a forge. */
    record Key(String forge, AlarmId alarm) {}

    static Telling of(AlarmTransition transition, long nowNanos, boolean again) {
        return new Telling(transition, transition.priority(), 1, nowNanos, again);
    }

    Key key() {
        return new Key(latest.forge(), latest.alarm());
    }

    boolean isCritical() {
        return gravest == Priority.CRITICAL;
    }

    /** Both as one: the state of {@code later}, the weight of the graver. */
    Telling then(Telling later) {
        Priority graver = gravest.compareTo(later.gravest) < 0 ? gravest : later.gravest;
        return new Telling(later.latest, graver, steps + later.steps, later.atNanos, again && later.again);
    }
}
