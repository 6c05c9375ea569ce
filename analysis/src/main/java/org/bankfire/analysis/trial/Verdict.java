package org.bankfire.analysis.trial;

/** Whether a difference is more than chance. */
public enum Verdict {
    /** Chance alone would hardly make it. */
    REAL("real"),
    /** Chance alone would; a difference worth noticing would have shown. */
    WITHIN_NOISE("within-noise"),
    /** Even a difference worth noticing might not have shown. */
    CANNOT_TELL("cannot-tell");

    private final String code;

    Verdict(String code) {
        this.code = code;
    }

    /** As scripts know it. */
    public String code() {
        return code;
    }
}
