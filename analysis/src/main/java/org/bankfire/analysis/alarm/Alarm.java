package org.bankfire.analysis.alarm;

/**
 * One alarm as an event-timed state machine after ISA-18.2 / IEC 62682. It knows times only as arguments, in
 * microseconds of one continuous time line that must not run backwards; whoever owns it calls {@link #fire} at every
 * {@link #due} before the next input, so that its steps do not depend on how often anybody looks at a clock.
 *
 * <p>Shelved, suppressed and out of service lie over the state underneath, the last named over the first. While one of
 * them holds, the alarm is followed silently; when it ends, a condition that still holds and was not acknowledged calls
 * again, a latched alarm that was not acknowledged stands again, and anything else is normal.
 *
 * <p>An alarm whose priority becomes graver while it stands calls again, even when it was acknowledged: the user
 * acknowledged something milder. The priority is not lowered while it stands.
 */
public final class Alarm {
    /** No deadline. */
    public static final long NEVER = Long.MAX_VALUE;

    /** Longest shelf, s: one working day, so that nothing is shelved and forgotten. */
    public static final double MAX_SHELF_S = 8 * 3600;

    private static final double MICROS_PER_S = 1e6;

    /**
     * An alarm raised this often within {@link #CHATTER_WINDOW} chatters: it then holds for {@link #CHATTER_HOLD} after
     * its condition has gone, so that one loose contact cannot use up the ten annunciations in ten minutes that EEMUA 191
     * calls manageable. Latched alarms are exempt: each of their raises is news.
     */
    private static final int CHATTER_RAISES = 3;

    private static final long CHATTER_WINDOW = 600_000_000L;
    private static final long CHATTER_HOLD = 300_000_000L;

    private final AlarmId id;
    private final AlarmContext context;
    private final long onDelay;
    private final long offDelay;
    private final boolean holdsWhenChattering;
    private final long[] raises = new long[CHATTER_RAISES];
    private int raiseCount;

    private AlarmState beneath = AlarmState.NORMAL;
    private AlarmState shown = AlarmState.NORMAL;
    private boolean condition;
    private boolean active;
    private long delayDue = NEVER;
    private long shelfDue = NEVER;
    private boolean shelved;
    private boolean suppressed;
    private boolean outOfService;

    private Priority priority;
    private long since;
    private double value = Double.NaN;
    private double decided = Double.NaN;
    private String why = "";

    /**
     * In normal state.
     *
     * @param holdsWhenChattering whether its off-delay is stretched when it chatters
     */
    public Alarm(AlarmId id, AlarmDelays delays, boolean holdsWhenChattering, AlarmContext context) {
        this.id = id;
        this.context = context;
        this.onDelay = Math.round(delays.onS() * MICROS_PER_S);
        this.offDelay = Math.round(delays.offS() * MICROS_PER_S);
        this.holdsWhenChattering = holdsWhenChattering && !id.latched();
        this.priority = id.usualPriority();
    }

    /**
     * Tells whether the condition holds now. Called with every reading; allocates nothing unless the state changes.
     *
     * @param value the value that decides; NaN when there is none
     */
    public void condition(boolean holds, long atMicros, double value) {
        this.value = value;
        if (holds != condition) {
            condition = holds;
            if (holds == active) {
                delayDue = NEVER;
            } else {
                long delay = holds ? onDelay : offDelayNow(atMicros);
                if (delay == 0) {
                    follow(atMicros);
                } else {
                    delayDue = atMicros + delay;
                }
            }
        } else if (active && beneath != AlarmState.NORMAL && holds) {
            raisePriority(atMicros);
        }
    }

    /** When {@link #fire} must be called next, µs; {@link #NEVER} when nothing is pending. */
    public long due() {
        return Math.min(delayDue, shelfDue);
    }

    /** Takes the step that is due at {@code atMicros}, which must be {@link #due}. */
    public void fire(long atMicros) {
        if (delayDue <= atMicros) {
            follow(atMicros);
        } else if (shelfDue <= atMicros) {
            unshelve(atMicros, "The time on the shelf is over.");
        }
    }

    /**
     * The user takes note.
     *
     * @param by who, in words
     * @return false when it does not call for it
     */
    public boolean acknowledge(long atMicros, String by) {
        if (!shown.callsForAttention()) {
            return false;
        }
        move(AlarmInput.ACKNOWLEDGE.after(beneath, id.latched()), atMicros, "Acknowledged by " + by + ".");
        return true;
    }

    /**
     * Silences it for a time.
     *
     * @param seconds more than 0, at most {@link #MAX_SHELF_S}
     */
    public void shelve(long atMicros, double seconds, String by) {
        if (!(seconds > 0 && seconds <= MAX_SHELF_S)) {
            throw new IllegalArgumentException(
                    id.code() + ": shelve for " + seconds + " s; allowed is more than 0 and at most " + MAX_SHELF_S);
        }
        shelved = true;
        shelfDue = atMicros + Math.round(seconds * MICROS_PER_S);
        show(atMicros, "Shelved for " + Math.round(seconds / 60) + " min by " + by + ".");
    }

    /** Ends the shelf before its time. */
    public void unshelve(long atMicros, String reason) {
        if (shelved) {
            shelved = false;
            shelfDue = NEVER;
            surface(atMicros, reason);
        }
    }

    /** Holds it back because it would only be the consequence of another cause, or lets it go. */
    public void suppress(boolean suppress, long atMicros, String reason) {
        if (suppress == suppressed) {
            return;
        }
        suppressed = suppress;
        if (suppress) {
            show(atMicros, reason);
        } else {
            surface(atMicros, reason);
        }
    }

    /** Takes it out of service for work on its sensor, or back in. */
    public void outOfService(boolean out, long atMicros, String by) {
        if (out == outOfService) {
            return;
        }
        outOfService = out;
        if (out) {
            show(atMicros, "Taken out of service by " + by + ".");
        } else {
            surface(atMicros, "Put back into service by " + by + ".");
        }
    }

    /**
     * Takes up what the store last said of it, without telling anybody. What stood as active is expected to be confirmed
     * by {@link #condition}; see {@link #expectConfirmation}.
     */
    public void restore(AlarmTransition last, long sinceMicros) {
        switch (last.state()) {
            case UNACKNOWLEDGED, ACKNOWLEDGED -> {
                condition = true;
                active = true;
                beneath = last.state();
            }
            case RETURNED_UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED -> beneath = last.state();
            case OUT_OF_SERVICE -> outOfService = true;
            // The shelf's end and the cause of a suppression are not known any more: better heard twice than not.
            case NORMAL, SHELVED, SUPPRESSED -> {}
        }
        shown = state();
        priority = last.priority();
        since = sinceMicros;
        decided = last.value();
        why = last.why();
    }

    /** A restored condition that nobody confirms by {@code dueMicros} is taken to be gone. */
    public void expectConfirmation(long dueMicros) {
        if (active && condition && delayDue == NEVER) {
            condition = false;
            delayDue = dueMicros;
        }
    }

    public AlarmId id() {
        return id;
    }

    /** The state that the user sees. */
    public AlarmState state() {
        if (outOfService) {
            return AlarmState.OUT_OF_SERVICE;
        }
        if (suppressed) {
            return AlarmState.SUPPRESSED;
        }
        return shelved ? AlarmState.SHELVED : beneath;
    }

    /** Whether its condition holds now, whatever the delays. */
    public boolean conditionHolds() {
        return condition;
    }

    /** Whether its condition holds, delays included, whatever the user has done about it. */
    public boolean isActive() {
        return active;
    }

    public Priority priority() {
        return priority;
    }

    /** When it went into its state, µs of event time. */
    public long sinceMicros() {
        return since;
    }

    /** The value last given with its condition. */
    public double latestValue() {
        return value;
    }

    /** The value that decided at its last step. */
    public double value() {
        return decided;
    }

    public String why() {
        return why;
    }

    private long offDelayNow(long at) {
        boolean chatters = holdsWhenChattering
                && raiseCount >= CHATTER_RAISES
                && at - raises[raiseCount % CHATTER_RAISES] < CHATTER_WINDOW;
        return chatters ? Math.max(offDelay, CHATTER_HOLD) : offDelay;
    }

    /** The delay is over: the alarm follows its condition. */
    private void follow(long at) {
        delayDue = NEVER;
        active = condition;
        if (active) {
            raises[raiseCount % CHATTER_RAISES] = at;
            raiseCount++;
            priority = context.priority(id);
            move(AlarmInput.RAISE.after(beneath, id.latched()), at, context.raised(id, value));
        } else {
            move(AlarmInput.CLEAR.after(beneath, id.latched()), at, context.cleared(id, value));
        }
    }

    private void raisePriority(long at) {
        Priority now = context.priority(id);
        if (now.compareTo(priority) < 0) {
            priority = now;
            beneath = AlarmState.UNACKNOWLEDGED;
            if (!isHidden()) {
                tell(at, context.raised(id, value));
            }
        }
    }

    private void move(AlarmState next, long at, String reason) {
        if (next != beneath) {
            beneath = next;
            show(at, reason);
        }
    }

    /** Something that lay over the alarm has ended. */
    private void surface(long at, String reason) {
        if (!isHidden()) {
            if (active) {
                if (beneath != AlarmState.ACKNOWLEDGED) {
                    beneath = AlarmState.UNACKNOWLEDGED;
                    show(at, context.raised(id, value));
                    return;
                }
            } else if (beneath != AlarmState.LATCHED_UNACKNOWLEDGED) {
                beneath = AlarmState.NORMAL;
            }
        }
        show(at, reason);
    }

    private boolean isHidden() {
        return shelved || suppressed || outOfService;
    }

    private void show(long at, String reason) {
        AlarmState next = state();
        if (next != shown) {
            tell(at, reason);
        }
    }

    private void tell(long at, String reason) {
        shown = state();
        since = at;
        decided = value;
        why = reason;
        context.onTransition(id, shown, priority, at, value, reason);
    }
}
