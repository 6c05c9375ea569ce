package org.bankfire.daemon.store;

/** The server does not want what it was given, or a part of it; the message holds its words. */
public class ServerRefusedException extends StoreException {
    private static final long serialVersionUID = 1L;

    public ServerRefusedException(String message) {
        super(message);
    }

    public ServerRefusedException(String message, Throwable cause) {
        super(message, cause);
    }
}
