package org.bankfire.daemon.export;

import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.TimeRange;
import org.jspecify.annotations.Nullable;

/** A forge's stored readings one by one, so that several forges can be merged in time order with little memory. */
final class StoredReadings implements AutoCloseable {
    /** Enough to keep both sides busy, little enough for a fleet of forges. */
    private static final int AHEAD = 1_024;

    /** Empty: the end. */
    private final BlockingQueue<Optional<Reading>> queue = new ArrayBlockingQueue<>(AHEAD);

    private final Thread thread;
    private volatile @Nullable StoreException failure;
    private @Nullable Reading head;

    StoredReadings(ReadingStore store, String forge, TimeRange range) throws StoreException, InterruptedException {
        thread = new Thread(() -> read(store, forge, range), "export-" + forge);
        thread.setDaemon(true);
        thread.start();
        advance();
    }

    /** The next reading without taking it; null at the end. */
    @Nullable
    Reading head() {
        return head;
    }

    /** Takes the next reading. */
    void advance() throws StoreException, InterruptedException {
        head = queue.take().orElse(null);
        StoreException failed = failure;
        if (head == null && failed != null) {
            throw failed;
        }
    }

    private void read(ReadingStore store, String forge, TimeRange range) {
        try {
            store.readings(forge, range, reading -> put(Optional.of(reading)));
        } catch (StoreException failed) {
            failure = failed;
        } catch (StoppedException stopped) {
            return;
        }
        try {
            put(Optional.empty());
        } catch (StoppedException stopped) {
            return; // nobody waits for the end any more
        }
    }

    private void put(Optional<Reading> reading) {
        try {
            queue.put(reading);
        } catch (InterruptedException interrupted) {
            throw new StoppedException();
        }
    }

    /** Ends a query from inside. */
    private static final class StoppedException extends RuntimeException {
        private static final long serialVersionUID = 1L;
    }

    @Override
    public void close() {
        thread.interrupt();
    }
}
