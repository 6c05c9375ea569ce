package org.bankfire.daemon.store;

import java.time.Duration;
import java.util.List;

/** A database on a server, as the forwarder and the queries beside the local file see it. Any thread may call. */
public interface ServerTarget extends StoreQueries, AutoCloseable {
    /** Whether {@link #setUp} is to be called before anything else. */
    boolean needsSetUp();

    /**
     * Makes the server ready to be written to and asked. Doing it again changes nothing.
     *
     * @param keepReadings how long it keeps readings and 10 s roll-ups
     * @throws ServerAwayException when it cannot be reached
     */
    void setUp(Duration keepReadings) throws StoreException;

    /**
     * Hands over lines of a {@link NewsEncoder}; the server has them when it returns. Handing over the same lines again
     * changes nothing.
     *
     * @throws ServerAwayException when it could not be told whether the server took them, or it cannot take any now: the
     *     same lines are to be handed over again later
     * @throws ServerRefusedException when the server does not want some of these lines, or so many at once, and will not
     *     want them later either
     */
    void write(List<String> lines) throws StoreException;

    /**
     * Deletes readings and 10 s roll-ups of a part of the range.
     *
     * @return how many, 0 when nothing is left to delete
     */
    long prune(TimeRange range) throws StoreException;

    @Override
    void close();
}
