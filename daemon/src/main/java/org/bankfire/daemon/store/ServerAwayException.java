package org.bankfire.daemon.store;

/** The server cannot be reached, or takes nothing at the moment; what was asked may be asked again later. */
public class ServerAwayException extends StoreException {
    private static final long serialVersionUID = 1L;

    public ServerAwayException(String message, Throwable cause) {
        super(message, cause);
    }

    public ServerAwayException(String message) {
        super(message);
    }
}
