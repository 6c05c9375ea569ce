package org.bankfire.daemon.store;

/** Another process, most likely a running daemon, holds the store. */
public final class StoreInUseException extends StoreException {
    private static final long serialVersionUID = 1L;

    public StoreInUseException(String message) {
        super(message);
    }

    public StoreInUseException(String message, Throwable cause) {
        super(message, cause);
    }
}
