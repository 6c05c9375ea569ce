package org.bankfire.analysis.logbook;

/** An entry that cannot be written down; says which part, what it was and what is allowed. */
public final class BadEntryException extends Exception {
    private static final long serialVersionUID = 1L;

    private final String field;
    private final String value;
    private final String allowed;

    /**
     * A refusal.
     *
     * @param field {@code name}, {@code value} or {@code unit}
     * @param value what it was
     * @param allowed what would be taken
     */
    public BadEntryException(String field, String value, String allowed) {
        super(field + " is \"" + value + "\"; allowed: " + allowed);
        this.field = field;
        this.value = value;
        this.allowed = allowed;
    }

    public String field() {
        return field;
    }

    public String value() {
        return value;
    }

    public String allowed() {
        return allowed;
    }
}
