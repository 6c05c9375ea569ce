package org.bankfire.daemon.notify;

/** A message that did not arrive. The words are fit for the reader and hold no secret. */
final class CarryException extends Exception {
    private static final long serialVersionUID = 1L;

    private final boolean lasting;
    private final double waitS;

    private CarryException(String words, boolean lasting, double waitS) {
        super(words);
        this.lasting = lasting;
        this.waitS = waitS;
    }

    /** Another attempt may do better. */
    static CarryException passing(String words) {
        return new CarryException(words, false, 0);
    }

    /**
     * Another attempt may do better, but not before a time.
     *
     * @param waitS the least wait until then, s
     */
    static CarryException passing(String words, double waitS) {
        return new CarryException(words, false, waitS);
    }

    /** The same message would be refused again. */
    static CarryException lasting(String words) {
        return new CarryException(words, true, 0);
    }

    String words() {
        return String.valueOf(getMessage());
    }

    boolean isLasting() {
        return lasting;
    }

    /** Least wait until the next attempt, s; 0 when the peer did not ask for one. */
    double waitS() {
        return waitS;
    }
}
