package org.bankfire.daemon.store;

/** The store could not do what was asked; the message names the store and what to look at. */
public class StoreException extends Exception {
    private static final long serialVersionUID = 1L;

    public StoreException(String message, Throwable cause) {
        super(message, cause);
    }

    public StoreException(String message) {
        super(message);
    }
}
