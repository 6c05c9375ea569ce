package org.bankfire.analysis.alarm;

/**
 * One alarm as an event-timed state machine after ISA-18.2 / IEC 62682. It knows times only as arguments, in
 * microseconds of one continuous time line that must not run backwards; whoever owns it calls {@link #fire} at every
 * {@link #due} before the next input, so that its steps do not depend on how often anybody looks at a clock.
 *
 * <p>Shelved, suppressed and out of service lie over the state underneath, the last named over the first. While one of
 * them holds, the alarm is followed silently; when the last of them ends, a condition that still holds and was not
 * acknowledged calls again, and a latched alarm that was not acknowledged stands again. What came and went meanwhile is
 * normal. So is what had returned before the user put it on the shelf or out of service; what had returned before it was
 * suppressed, which nobody asked for, still waits to be acknowledged.
 *
 * <p>An alarm whose priority becomes graver while it stands calls again, even when it was acknowledged or shelved: the
 * user took note of something milder. The priority is not lowered while it stands.
 */
public final class Alarm {
    /** No deadline. */
    public static final long NEVER = Long.MAX_VALUE;

    /** Longest shelf, s: one working day, so that nothing is shelved and forgotten. */
    public static final double LONGEST_SHELF_S = 8 * 3600;

    /**
     * Longest shelf of an alarm that is critical, s: the time that somebody stays at the forge because of what he has
     * shelved. Common practice, no source. A jet of 0.8 mm at 1 bar passes 0.2 kg of propane in it; evenly mixed into
     * 40 m³ that is a seventh of the lower explosive limit of 2.1 %.
     */
    public static final double LONGEST_CRITICAL_SHELF_S = 15 * 60;

    private static final double MICROS_PER_S = 1e6;

    private final AlarmId id;
    private final AlarmContext context;
    private final long onDelay;
    private final long offDelay;
    private final boolean holdsWhenChattering;
    private final Chatter chatter = new Chatter();
    private final Calls calls;
    private final Shelf shelf = new Shelf();

    private AlarmState beneath = AlarmState.NORMAL;
    private AlarmState shown = AlarmState.NORMAL;
    private boolean condition;
    private boolean active;
    /** Whether what stands underneath was told openly and the user has neither acknowledged it nor put it away since. */
    private boolean heard;

    private long delayDue = NEVER;
    private long gone;
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
     * @param holdsWhenChattering whether its off-delay is stretched when it chatters or too much calls at once
     */
    public Alarm(AlarmId id, AlarmDelays delays, boolean holdsWhenChattering, AlarmContext context) {
        this(id, delays, holdsWhenChattering, context, new Calls());
    }

    /** @param calls of all alarms of the same forge */
    Alarm(AlarmId id, AlarmDelays delays, boolean holdsWhenChattering, AlarmContext context, Calls calls) {
        this.id = id;
        this.calls = calls;
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
            gone = holds ? gone : atMicros;
            if (holds == active) {
                delayDue = NEVER;
            } else {
                long delay = holds ? onDelay : offDelay(atMicros);
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
        return Math.min(delayDue, shelf.end());
    }

    /** Takes the steps that are due at {@code atMicros}, which must be {@link #due}. */
    public void fire(long atMicros) {
        if (delayDue <= atMicros) {
            follow(atMicros);
        }
        if (shelf.end() <= atMicros) {
            endShelf(atMicros, "The time on the shelf is over.");
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

    /** For how long it may be shelved as it stands now, s. */
    public double longestShelfS() {
        return shelvedPriority() == Priority.CRITICAL ? LONGEST_CRITICAL_SHELF_S : LONGEST_SHELF_S;
    }

    /**
     * Whether it may be shelved for so long.
     *
     * @param seconds more than 0, at most {@link #longestShelfS}
     */
    public boolean allowsShelf(double seconds) {
        return seconds > 0 && seconds <= longestShelfS();
    }

    /**
     * Silences it for a time, or for another time than before. It comes off the shelf earlier when it becomes graver than
     * it was.
     *
     * @param seconds as {@link #allowsShelf} allows
     * @return false when it is out of service
     */
    public boolean shelve(long atMicros, double seconds, String by) {
        if (!allowsShelf(seconds)) {
            throw new IllegalArgumentException(id.code() + ": shelve for " + seconds
                    + " s; allowed is more than 0 and at most " + longestShelfS() + " s");
        }
        if (outOfService) {
            return false;
        }
        priority = shelvedPriority();
        shelf.put(atMicros, Math.round(seconds * MICROS_PER_S), priority);
        putAway();
        if (state() == AlarmState.SHELVED) {
            tell(atMicros, "Shelved for " + inMinutes(seconds) + " min by " + by + ".");
        }
        return true;
    }

    /**
     * Ends the shelf before its time.
     *
     * @return false when it is not on the shelf
     */
    public boolean unshelve(long atMicros, String by) {
        boolean was = shelf.isOccupied();
        endShelf(atMicros, "Taken off the shelf by " + by + ".");
        return was;
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

    /**
     * Takes it out of service for work on its sensor, or back in.
     *
     * @return false when it is so already
     */
    public boolean outOfService(boolean out, long atMicros, String by) {
        if (out == outOfService) {
            return false;
        }
        outOfService = out;
        if (out) {
            putAway();
            show(atMicros, "Taken out of service by " + by + ".");
        } else {
            surface(atMicros, "Put back into service by " + by + ".");
        }
        return true;
    }

    /**
     * Takes up one of its transitions of before a restart, the oldest first, without telling anybody; {@link #begin} must
     * follow before anything else happens to it. How long a shelf was to last is not in a transition: one that {@link
     * #restoreShelf} says nothing of ends when time begins. Better heard twice than not.
     */
    public void restore(AlarmTransition step, long atMicros) {
        AlarmState stood = step.state();
        outOfService = stood == AlarmState.OUT_OF_SERVICE;
        suppressed = stood == AlarmState.SUPPRESSED;
        shelf.clear();
        switch (stood) {
            case NORMAL, UNACKNOWLEDGED, ACKNOWLEDGED, RETURNED_UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED -> {
                beneath = stood;
                active = stood == AlarmState.UNACKNOWLEDGED || stood == AlarmState.ACKNOWLEDGED;
                condition = active;
                heard = stood.callsForAttention();
            }
            case SHELVED -> {
                shelf.put(atMicros, 0, step.priority());
                putAway();
            }
            case OUT_OF_SERVICE -> putAway();
            case SUPPRESSED -> {}
        }
        shown = stood;
        priority = step.priority();
        since = atMicros;
        decided = step.value();
        why = step.why();
    }

    /**
     * Takes up that it was shelved, if the transitions do not say that the shelf has ended since. When it ended while the
     * daemon was down, what was shelved stands again as soon as time begins.
     *
     * @param atMicros when it was shelved
     * @param seconds for how long
     */
    public void restoreShelf(long atMicros, double seconds) {
        if (shown != beneath && seconds > 0 && seconds <= LONGEST_SHELF_S) {
            Priority shelved = shown == AlarmState.SHELVED ? priority : id.usualPriority();
            shelf.put(atMicros, Math.round(seconds * MICROS_PER_S), shelved);
        }
    }

    /**
     * Time begins. What held it back is judged anew by whoever held it, and a restored condition that nobody confirms by
     * {@code dueMicros} is taken to be gone.
     */
    public void begin(long atMicros, long dueMicros) {
        shelf.begin(atMicros);
        suppress(false, atMicros, "It is judged anew after a restart.");
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
        return shelf.isOccupied() ? AlarmState.SHELVED : beneath;
    }

    /** The state under whatever lies over it. */
    AlarmState beneath() {
        return beneath;
    }

    /** Whether that state was told openly and the user has neither acknowledged it nor put it away since. */
    boolean isHeard() {
        return heard;
    }

    /** Whether it is on the shelf, whatever lies over that. */
    public boolean isShelved() {
        return shelf.isOccupied();
    }

    boolean isSuppressed() {
        return suppressed;
    }

    boolean isOutOfService() {
        return outOfService;
    }

    /** When its shelf ends, µs; {@link #NEVER} when it is not on the shelf. */
    public long shelfEndMicros() {
        return shelf.end();
    }

    /** Whether its condition holds now, whatever the delays. */
    public boolean conditionHolds() {
        return condition;
    }

    /** When its condition last ended, µs; meaningful while it does not hold. */
    public long goneMicros() {
        return gone;
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

    private long offDelay(long at) {
        return holdsWhenChattering ? calls.offDelay(chatter.offDelay(offDelay, at), at) : offDelay;
    }

    /** The delay is over: the alarm follows its condition. */
    private void follow(long at) {
        delayDue = NEVER;
        active = condition;
        if (active) {
            chatter.raised(at);
            priority = context.priority(id);
            breakShelf();
            move(AlarmInput.RAISE.after(beneath, id.latched()), at, context.raised(id, value));
        } else {
            move(AlarmInput.CLEAR.after(beneath, id.latched()), at, context.cleared(id, value));
        }
    }

    private void raisePriority(long at) {
        Priority now = context.priority(id);
        if (now.compareTo(priority) < 0) {
            priority = now;
            breakShelf();
            beneath = AlarmState.UNACKNOWLEDGED;
            if (!isHidden()) {
                tell(at, context.raised(id, value));
            }
        }
    }

    private void move(AlarmState next, long at, String reason) {
        if (next != beneath) {
            beneath = next;
            forgetWhatNobodyHeard();
            show(at, reason);
        }
    }

    /** What came and went unheard leaves nothing to acknowledge, unless it is latched. */
    private void forgetWhatNobodyHeard() {
        if (beneath == AlarmState.RETURNED_UNACKNOWLEDGED && !heard) {
            beneath = AlarmState.NORMAL;
        }
        heard &= beneath.callsForAttention();
    }

    /** The user puts it away knowing how it stands. */
    private void putAway() {
        heard = false;
        forgetWhatNobodyHeard();
    }

    /** The priority that is put away by a shelf. */
    private Priority shelvedPriority() {
        Priority now = context.priority(id);
        return beneath == AlarmState.NORMAL || now.compareTo(priority) < 0 ? now : priority;
    }

    private void breakShelf() {
        if (shelf.isTooMildFor(priority)) {
            shelf.clear();
        }
    }

    private void endShelf(long at, String reason) {
        if (shelf.isOccupied()) {
            shelf.clear();
            surface(at, reason);
        }
    }

    /** Something that lay over the alarm has ended. */
    private void surface(long at, String reason) {
        // While it stands only because its off-delay runs, the value of now would not explain why it was raised.
        boolean explains = !isHidden() && beneath == AlarmState.UNACKNOWLEDGED && condition;
        show(at, explains ? context.raised(id, value) : reason);
    }

    private boolean isHidden() {
        return shelf.isOccupied() || suppressed || outOfService;
    }

    private void show(long at, String reason) {
        AlarmState next = state();
        if (next != shown) {
            tell(at, reason);
        }
    }

    private void tell(long at, String reason) {
        shown = state();
        heard |= shown.callsForAttention();
        if (shown == AlarmState.UNACKNOWLEDGED) {
            calls.called(at);
        }
        since = at;
        decided = value;
        why = reason;
        context.onTransition(id, shown, priority, at, value, reason);
    }

    private static String inMinutes(double seconds) {
        double minutes = Math.rint(seconds / 6) / 10;
        return minutes == Math.rint(minutes) ? Long.toString((long) minutes) : Double.toString(minutes);
    }
}
