package org.bankfire.daemon.ledger;

import java.util.Set;

/** A thread that is given up and replaced when it hangs or has ended. Safe for use by many threads. */
interface Supervised {
    /** The thread and what it is there for, such as {@code the thread that judges the readings}. */
    String thread();

    /** Beats with the thread. */
    Heart heart();

    /** Whether the thread runs. */
    boolean isAlive();

    /** Whether it is about to end in order. */
    boolean isStopping();

    /** Where the thread is now; the topmost call first. */
    StackTraceElement[] stack();

    /** Times that the thread was replaced. */
    long restarts();

    /** The forge that the thread has in hand; empty when it has none. */
    default String inHand() {
        return "";
    }

    /** The forges that the thread watches. */
    default Set<String> watched() {
        return Set.of();
    }

    /**
     * From the next {@link #replace} on, what comes of {@code forge} is kept and not judged.
     *
     * @param forge one that is {@link #watched}
     * @param why in words, what to do included
     */
    default void setAside(String forge, String why) {
        throw new IllegalArgumentException(thread() + " watches no forge " + forge);
    }

    /**
     * Gives the present thread up and goes on with a new one, without what was under way.
     *
     * @param why in words
     */
    void replace(String why);
}
