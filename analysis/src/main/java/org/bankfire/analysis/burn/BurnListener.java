package org.bankfire.analysis.burn;

/** Hears of the stages of burns. */
public interface BurnListener {
    /** A stage began, at {@code atMicros} of event time. */
    void onStage(BurnBoundary.Stage stage, long atMicros, String why);

    /** A burn began, ended, or its totals moved on. */
    void onProgress(long atMicros);
}
