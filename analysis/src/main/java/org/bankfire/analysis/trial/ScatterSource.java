package org.bankfire.analysis.trial;

/** Where the scatter from burn to burn comes from. */
public enum ScatterSource {
    /** From what burns usually differ by: nothing was repeated. */
    USUAL("usual"),
    /** From repeated burns of all trials, and the usual one since they are few. */
    MIXED("mixed"),
    /** From repeated burns of all trials. */
    POOLED("pooled"),
    /** From the repeated burns of each of the two trials by itself. */
    WELCH("welch");

    private final String code;

    ScatterSource(String code) {
        this.code = code;
    }

    /** As scripts know it. */
    public String code() {
        return code;
    }

    /** For the reader. */
    public String words() {
        return switch (this) {
            case USUAL -> "what burns usually differ by";
            case MIXED -> "repeated burns and what burns usually differ by";
            case POOLED -> "the repeated burns of all trials";
            case WELCH -> "the repeated burns of both trials";
        };
    }
}
