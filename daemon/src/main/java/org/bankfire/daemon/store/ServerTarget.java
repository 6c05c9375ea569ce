package org.bankfire.daemon.store;

/** A database on a server, as the forwarder and the queries beside the local file see it. Any thread may call. */
public interface ServerTarget extends StoreQueries, NewsEncoder, AutoCloseable {
    /**
     * Makes the server ready to take readings. Doing it again changes nothing.
     *
     * @throws ServerAwayException when it cannot be reached
     */
    void setUp() throws StoreException;

    /**
     * Hands over lines that {@link #encode} made; the server has them when it returns. Handing over the same lines again
     * changes nothing.
     *
     * @throws ServerAwayException when it could not be told whether the server took them, or it cannot take any now: the
     *     same lines are to be handed over again later
     * @throws ServerRefusedException when the server does not want these lines, or some of them, and will not want them
     *     later either
     */
    void write(byte[] lines) throws StoreException;

    /** Deletes readings and 10 s roll-ups of the range, where the server does not do so by itself. */
    long prune(TimeRange range) throws StoreException;

    @Override
    void close() throws StoreException;
}
