package org.bankfire.daemon.store;

/**
 * Keeps everything that a forge's log book holds. Keys: readings by channel and source time; notes and settings by
 * forge, time and name; alarm transitions by forge, time, alarm and state; burns by id, of which
 * a forge has one for each moment that a burn began at; fits by burn. Storing twice is storing once: the first reading, note, setting or transition of a key stays; a burn or fit is replaced by its later state.
 *
 * <p>{@link #append} is called by one thread; queries may come from any.
 */
public interface ReadingStore extends StoreQueries, AutoCloseable {
    /** Stores all of the batch or nothing; durable when it returns. */
    void append(StoreBatch batch) throws StoreException;

    /**
     * Deletes raw readings and 10 s roll-ups of the range; 5 min roll-ups and all else stay. One call deletes a bounded
     * number, so that an append never waits long for it; any thread may call it. A reading that was deleted and is stored
     * again counts again in its 5 min roll-up.
     *
     * @return how many were deleted, 0 when nothing is left to delete
     */
    long prune(TimeRange range) throws StoreException;

    @Override
    void close() throws StoreException;
}
