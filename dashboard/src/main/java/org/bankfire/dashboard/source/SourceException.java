package org.bankfire.dashboard.source;

/** The daemon could not answer; the message is fit for the reader. */
public class SourceException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    public SourceException(String message) {
        super(message);
    }

    public SourceException(String message, Throwable cause) {
        super(message, cause);
    }
}
