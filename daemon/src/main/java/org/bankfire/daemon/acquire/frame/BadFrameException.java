package org.bankfire.daemon.acquire.frame;

/** A frame that cannot be used. The message names the field, its value and what is allowed. */
public final class BadFrameException extends Exception {
    private static final long serialVersionUID = 1L;

    public BadFrameException(String message) {
        super(message);
    }
}
