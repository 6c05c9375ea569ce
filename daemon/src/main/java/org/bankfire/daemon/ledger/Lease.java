package org.bankfire.daemon.ledger;

/**
 * The right of one run of the ledger thread to tell, to keep and to show. It is taken for good from a run that hung, so
 * that its thread, should it wake, cannot speak into the work of its successor. It says besides which forge the run has in
 * hand, so that whoever ends it knows whose work hung.
 */
public final class Lease {
    private static final String NONE = "";

    private volatile boolean ended;
    private volatile String inHand = NONE;

    /** Whether the run may still act. */
    boolean held() {
        return !ended;
    }

    /** Takes the right away; for good. */
    void end() {
        ended = true;
    }

    /** The run turns to a forge, until it turns to the next. */
    void takeUp(String forge) {
        inHand = forge;
    }

    /** The run turns to what concerns no forge by itself. */
    void putDown() {
        inHand = NONE;
    }

    /** The forge that the run is at; empty when it is at none. */
    String inHand() {
        return inHand;
    }

    /**
     * To be called before anything that others see.
     *
     * @throws LeaseEndedException when another run has taken over
     */
    public void check() {
        if (ended) {
            throw new LeaseEndedException();
        }
    }

    /** Ends the thread of a run that was given up. */
    static final class LeaseEndedException extends RuntimeException {
        private static final long serialVersionUID = 1;

        LeaseEndedException() {
            super("another run of the ledger thread has taken over");
        }
    }
}
