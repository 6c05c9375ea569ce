package org.bankfire.dashboard.api;

import org.jspecify.annotations.Nullable;

/** A request that cannot be answered, in words for the one who asked. */
public class ApiException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    private final int status;
    private final @Nullable String field;
    private final @Nullable String value;
    private final @Nullable String allowed;

    /** A refusal that no single field explains. */
    public ApiException(int status, String message) {
        this(status, message, null, null, null);
    }

    /**
     * A refusal because of one field.
     *
     * @param status HTTP status, 400 to 599
     * @param message what is wrong
     * @param field parameter, header or key of the body
     * @param value what it was; null when missing
     * @param allowed what would be taken
     */
    public ApiException(
            int status, String message, @Nullable String field, @Nullable String value, @Nullable String allowed) {
        super(message);
        this.status = status;
        this.field = field;
        this.value = value;
        this.allowed = allowed;
    }

    /** A parameter or key that cannot be used. */
    public static ApiException bad(String field, @Nullable String value, String allowed) {
        String was = value == null ? "is missing" : "is \"" + shortened(value) + "\"";
        return new ApiException(400, field + " " + was + "; allowed: " + allowed, field, value, allowed);
    }

    /** Something that is asked for by name and is not there. */
    public static ApiException unknown(String field, String value, String allowed) {
        String message = "no " + field + " \"" + shortened(value) + "\"; known: " + allowed;
        return new ApiException(404, message, field, value, allowed);
    }

    public int status() {
        return status;
    }

    public @Nullable String field() {
        return field;
    }

    public @Nullable String value() {
        return value == null ? null : shortened(value);
    }

    public @Nullable String allowed() {
        return allowed;
    }

    // Long enough to recognise what was sent, short enough not to hand a whole body back.
    private static String shortened(String value) {
        return value.length() <= 100 ? value : value.substring(0, 100) + "…";
    }
}
