package org.bankfire.daemon.ledger;

import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.store.StoreException;

/** Where a {@link RecordedRun} sends what passes through it. */
public interface RecordSink extends PipelineOutput {
    /** A pack as the record has it, before it is corrected. */
    void onRecord(Pack recorded);

    /** A pack has passed. */
    void afterPack() throws StoreException;

    /** The record has ended. */
    void atEnd() throws StoreException;
}
