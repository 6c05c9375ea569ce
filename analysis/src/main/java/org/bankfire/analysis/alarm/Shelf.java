package org.bankfire.analysis.alarm;

/** The place where one alarm may lie for a time that always has an end. Times are event times, µs. */
final class Shelf {
    private boolean occupied;
    private long end = Alarm.NEVER;
    private long length;
    private Priority priority = Priority.LOW;

    /** @param shelved the priority that the user put away */
    void put(long at, long lengthMicros, Priority shelved) {
        occupied = true;
        end = at + lengthMicros;
        length = lengthMicros;
        priority = shelved;
    }

    void clear() {
        occupied = false;
        end = Alarm.NEVER;
    }

    boolean isOccupied() {
        return occupied;
    }

    /** When it must be cleared; {@link Alarm#NEVER} while it is empty. */
    long end() {
        return end;
    }

    /** Whether an alarm of that priority is more than what was put away. */
    boolean isTooMildFor(Priority now) {
        return occupied && now.compareTo(priority) < 0;
    }

    /** Time has begun anew, perhaps by another clock: what is left is never longer than the whole. */
    void begin(long at) {
        if (occupied) {
            end = Math.min(end, at + length);
        }
    }
}
