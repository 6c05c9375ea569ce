package org.bankfire.daemon.figures;

/**
 * One line of the table.
 *
 * @param what was measured
 * @param ours with its unit
 * @param beside what it was held against, with its unit; empty when there is none
 * @param ratio ours over the other, as speed; empty when there is none
 * @param target in words; empty when there is none
 * @param verdict whether the target was reached
 */
record Figure(String what, String ours, String beside, String ratio, String target, Verdict verdict) {
    enum Verdict {
        MET("yes"),
        MISSED("**no**"),
        NO_TARGET("");

        private final String word;

        Verdict(String word) {
            this.word = word;
        }

        static Verdict of(boolean met) {
            return met ? MET : MISSED;
        }
    }

    /** A figure that is only told. */
    static Figure told(String what, String ours) {
        return new Figure(what, ours, "", "", "", Verdict.NO_TARGET);
    }

    /** A figure that stands alone before its target. */
    static Figure aimed(String what, String ours, String target, boolean met) {
        return new Figure(what, ours, "", "", target, Verdict.of(met));
    }

    /** As a row of a Markdown table. */
    String row() {
        return "| " + String.join(" | ", what, ours, beside, ratio, target, verdict.word) + " |";
    }
}
