package org.bankfire.daemon.command;

import java.io.IOException;
import java.util.List;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.Worded;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.StoreException;
import org.jspecify.annotations.Nullable;

/** Where a command writes entries of one forge's log: the store, or the daemon that holds it. */
interface LogDesk extends AutoCloseable {
    /** Where that is, in words. */
    String where();

    /** What names the entries that were first written down from {@code from} to before {@code to}, in order of time. */
    List<EntryKey> entries(WallTime from, WallTime to) throws StoreException, IOException;

    /**
     * Writes an entry down.
     *
     * @param name as {@code EntryRules} knows it, and {@code value} as it keeps it
     * @param time when it applies; null for now
     * @return what names it
     */
    EntryKey write(String name, Worded value, @Nullable WallTime time) throws StoreException, IOException;

    /** Writes a correction down of an entry that is there; it is stamped anew. */
    void correct(Correction correction) throws StoreException, IOException;

    @Override
    void close() throws StoreException;
}
