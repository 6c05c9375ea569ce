package org.bankfire.daemon.ledger;

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

    /**
     * Gives the present thread up and goes on with a new one, without what was under way.
     *
     * @param why in words
     */
    void replace(String why);
}
