package org.bankfire.daemon.store.sqlite;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import org.bankfire.daemon.store.StoreException;
import org.jspecify.annotations.Nullable;

/** A few connections for queries, lent one query at a time. In WAL mode they and the writer never wait for each other. */
final class ReadConnections implements AutoCloseable {
    /** More queries at once than a small computer's cores serve is of no use; each connection has its page cache of 2 MB. */
    static final int LIMIT = 4;

    /** A query takes milliseconds, one over years a second or so; who waits longer than this is better told. */
    private static final long WAIT_S = 10;

    private final DatabaseFile file;
    private final Semaphore permits = new Semaphore(LIMIT, true);
    private final Deque<Connection> idle = new ArrayDeque<>();
    private boolean closed;

    ReadConnections(DatabaseFile file) {
        this.file = file;
    }

    /** What a query does with its connection. */
    interface Query<T> {
        T on(Connection connection) throws SQLException, StoreException;
    }

    /** @param what the thing asked for, to stand after "could not" */
    <T> T query(String what, Query<T> query) throws StoreException {
        acquire(what);
        try {
            Connection connection = take();
            boolean sound = false;
            try {
                T result = query.on(connection);
                sound = true;
                return result;
            } finally {
                giveBack(connection, sound);
            }
        } catch (SQLException e) {
            throw SqliteFailure.of(file.path(), what, e);
        } finally {
            permits.release();
        }
    }

    /** Queries under way finish; later ones are refused. */
    @Override
    public void close() throws SQLException {
        SQLException failure = null;
        synchronized (idle) {
            closed = true;
            while (!idle.isEmpty()) {
                try {
                    idle.pop().close();
                } catch (SQLException e) {
                    failure = e;
                }
            }
        }
        if (failure != null) {
            throw failure;
        }
    }

    private void acquire(String what) throws StoreException {
        try {
            if (!permits.tryAcquire(WAIT_S, TimeUnit.SECONDS)) {
                throw new StoreException("store " + file.path() + ": could not " + what + " within " + WAIT_S
                        + " s, because " + LIMIT + " other queries are running; try again");
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new StoreException("store " + file.path() + ": interrupted while waiting to " + what, e);
        }
    }

    private Connection take() throws SQLException, StoreException {
        Connection connection;
        synchronized (idle) {
            if (closed) {
                throw new StoreException("store " + file.path() + ": is closed");
            }
            connection = idle.poll();
        }
        return connection != null ? connection : file.openReader();
    }

    private void giveBack(@Nullable Connection connection, boolean sound) throws SQLException {
        if (connection == null) {
            return;
        }
        synchronized (idle) {
            if (sound && !closed) {
                idle.push(connection);
                return;
            }
        }
        connection.close();
    }
}
