package org.bankfire.analysis.alarm;

/** What an alarm asks of its surroundings at the moment of a transition, and whom it tells. */
public interface AlarmContext {
    /** Priority of the alarm as the forge now stands. */
    Priority priority(AlarmId alarm);

    /** Why it is raised: one or two sentences with numbers and units. */
    String raised(AlarmId alarm, double value);

    /** Why it has cleared. */
    String cleared(AlarmId alarm, double value);

    /**
     * It went into another state, or stays in it at a graver priority.
     *
     * @param atMicros event time, µs
     * @param value the value that decided; NaN when there is none
     */
    void onTransition(AlarmId alarm, AlarmState state, Priority priority, long atMicros, double value, String why);
}
