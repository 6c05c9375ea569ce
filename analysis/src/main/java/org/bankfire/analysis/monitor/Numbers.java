package org.bankfire.analysis.monitor;

/** Numbers that people and programs write into notes and settings. */
final class Numbers {
    private Numbers() {}

    /** The number that is written; NaN when it is none, and then nothing follows from it. */
    static double of(String text) {
        try {
            return Double.parseDouble(text.strip());
        } catch (NumberFormatException e) {
            return Double.NaN;
        }
    }
}
