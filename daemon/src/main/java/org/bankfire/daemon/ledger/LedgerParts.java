package org.bankfire.daemon.ledger;

/**
 * What one run of the ledger thread works with. Nothing of it is shared with another run, but what is made to be.
 *
 * @param pipeline corrects and watches
 * @param output what {@code pipeline} sends to
 * @param kept the part of {@code output} that keeps and counts
 * @param upkeep what is looked at regularly
 */
public record LedgerParts(Pipeline pipeline, PipelineOutput output, StoreOutput kept, Ledger.Upkeep upkeep) {
    /** Makes the parts of a run. */
    @FunctionalInterface
    public interface Maker {
        /**
         * Makes them anew, with the alarms that stand and the settings in force; must not wait for any store.
         *
         * @param lease the run's right to act
         */
        LedgerParts make(Lease lease);
    }
}
