package org.bankfire.daemon.store;

/**
 * The server will not take some of what it was sent, now or later. It took the rest of it; which part is told only by
 * sending parts.
 */
public final class ServerRefusedException extends StoreException {
    private static final long serialVersionUID = 1L;

    private final boolean tooLarge;

    public ServerRefusedException(String message, boolean tooLarge, Throwable cause) {
        super(message, cause);
        this.tooLarge = tooLarge;
    }

    /** Whether it was too much at once, and nothing of it was taken. */
    public boolean isTooLarge() {
        return tooLarge;
    }
}
