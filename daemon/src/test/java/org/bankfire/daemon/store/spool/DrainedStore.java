package org.bankfire.daemon.store.spool;

import static org.awaitility.Awaitility.await;

import java.time.Duration;
import org.bankfire.daemon.store.AskingStore;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.TimeRange;

/** A spooled store whose readings are all on the server, and no longer in the file, whenever they are asked for. */
final class DrainedStore extends AskingStore {
    private static final TimeRange NOTHING = new TimeRange(TimeRange.ALL.from(), TimeRange.ALL.from());

    private static final Duration DRAINED = Duration.ofMinutes(2);

    private final SpooledStore store;

    /** @param store keeps nothing here, and its clock is beyond all that is stored */
    DrainedStore(SpooledStore store) {
        super(store);
        this.store = store;
    }

    @Override
    public void append(StoreBatch batch) throws StoreException {
        store.append(batch);
        // A server that is overrun for a moment counts as away, and gets it later.
        await().pollInSameThread().pollDelay(Duration.ZERO).atMost(DRAINED).until(() -> store.drain(rows -> {}) == 0);
        store.prune(NOTHING);
        long left = store.prune(NOTHING);
        while (left > 0) {
            left = store.prune(NOTHING);
        }
    }

    @Override
    public long prune(TimeRange range) throws StoreException {
        return store.prune(range);
    }

    @Override
    public void close() throws StoreException {
        store.close();
    }
}
