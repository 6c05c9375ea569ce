package org.bankfire.daemon.store;

/** The server cannot be reached, or will not take or tell anything now; the same may succeed later. */
public final class ServerAwayException extends StoreException {
    private static final long serialVersionUID = 1L;

    public ServerAwayException(String message) {
        super(message);
    }

    public ServerAwayException(String message, Throwable cause) {
        super(message, cause);
    }
}
