package org.bankfire.daemon.store.sqlite;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;
import org.jspecify.annotations.Nullable;

/**
 * The log book in one SQLite file in WAL mode: one connection writes, up to {@value ReadConnections#LIMIT} read beside it.
 *
 * <p>Values and times come back bit by bit as they were given. Units are kept by symbol and come back as
 * {@link org.bankfire.analysis.reading.Unit#ofSymbol} knows them. Text is kept as UTF-8.
 *
 * <p>After a failed append the connection is opened anew by the next one, so that a full or unplugged disk that comes
 * back is written to again without a restart.
 */
public final class SqliteStore implements ReadingStore {
    /**
     * Rows that one call of {@link #prune} deletes at most from each table: some 10 ms of work and one sync, so that an
     * append waits for it no longer than for another append.
     */
    static final int PRUNE_LIMIT = 10_000;

    private final DatabaseFile file;
    private final ReadConnections connections;
    private final ReadingQueries readings;
    private final LogQueries log;

    /**
     * Held while the writer's connection is in use: by the appending thread, by whoever prunes, by whoever empties the
     * spool. Fair, so that one who does one short transaction after another lets an append in between.
     */
    private final ReentrantLock writing = new ReentrantLock(true);

    private final @Nullable SpoolTable spool;
    private @Nullable BatchWriter writer;
    private boolean closed;

    private SqliteStore(DatabaseFile file, @Nullable Spooling spooling) {
        this.file = file;
        spool = spooling == null ? null : new SpoolTable(this, spooling);
        connections = new ReadConnections(file);
        readings = new ReadingQueries(file.path(), connections);
        log = new LogQueries(file.path(), connections);
    }

    /**
     * Opens the database at {@code path} for this process alone, and creates it when there is none.
     *
     * @throws StoreException when the file is not a Bankfire database, is of a newer version, is in use by another
     *     daemon, or cannot be read and written; the file is then as it was
     */
    public static SqliteStore open(Path path) throws StoreException {
        return claim(path, null);
    }

    /**
     * As {@link #open(Path)}; what is newly stored is kept for a server too, in the same transactions: see {@link #spool}.
     */
    public static SqliteStore open(Path path, Spooling spooling) throws StoreException {
        return claim(path, spooling);
    }

    private static SqliteStore claim(Path path, @Nullable Spooling spooling) throws StoreException {
        DatabaseFile file = DatabaseFile.claim(path);
        try {
            SqliteStore store = new SqliteStore(file, spooling);
            store.prepare();
            return store;
        } catch (StoreException | RuntimeException e) {
            try {
                file.close();
            } catch (StoreException closing) {
                e.addSuppressed(closing);
            }
            throw e;
        }
    }

    /** Opens an existing database to look at, also while a daemon writes to it; appending and pruning are refused. */
    public static SqliteStore openReadOnly(Path path) throws StoreException {
        DatabaseFile file = DatabaseFile.forReading(path);
        SqliteStore store = new SqliteStore(file, null);
        store.connections.query("open it", connection -> {
            Schema.requireCurrent(file.path(), connection);
            return Schema.VERSION;
        });
        return store;
    }

    @Override
    public void append(StoreBatch batch) throws StoreException {
        writing.lock();
        try {
            withWriter("store a batch of " + batch.readings().size() + " readings", current -> {
                current.write(batch);
                return 0;
            });
        } finally {
            writing.unlock();
        }
    }

    /**
     * What waits for a server.
     *
     * @throws IllegalStateException when the store was opened without spooling
     */
    public SpoolTable spool() {
        SpoolTable known = spool;
        if (known == null) {
            throw new IllegalStateException("store " + file.path() + " keeps nothing for a server");
        }
        return known;
    }

    /** Where readings of a file that spools, or did once, are to be asked for; empty for one that never did. */
    public Optional<SpoolZones> zones() throws StoreException {
        SpoolTable known = spool;
        return known != null ? Optional.of(known.zones()) : query("look where readings are", SpoolTable::zones);
    }

    /**
     * Stores entries and lists channels that the server told of, and does not tell it again: all or nothing. Readings in
     * the batch are not stored.
     */
    public void takeUp(StoreBatch entries, List<Channel> channels) throws StoreException {
        writing.lock();
        try {
            withWriter("take up the server's log book", current -> {
                current.takeUp(entries, channels);
                return 0;
            });
        } finally {
            writing.unlock();
        }
    }

    /** Has entries that are stored already told to the server. */
    public void tellAgain(StoreBatch entries) throws StoreException {
        writing.lock();
        try {
            withWriter("have entries wait for the server", current -> {
                current.tellAgain(entries);
                return 0;
            });
        } finally {
            writing.unlock();
        }
    }

    @Override
    public long prune(TimeRange range) throws StoreException {
        return delete(
                current -> current.prune(range.from().epochMicros(), range.to().epochMicros(), PRUNE_LIMIT));
    }

    /**
     * As {@link #prune}, and deletes 5 min roll-ups too: for what a server has. What came late and waits to be joined with
     * what the server has is left.
     */
    public long forget(TimeRange range) throws StoreException {
        return delete(
                current -> current.forget(range.from().epochMicros(), range.to().epochMicros(), PRUNE_LIMIT));
    }

    private long delete(Write<Long> deletion) throws StoreException {
        writing.lock();
        try {
            return withWriter("delete old readings", deletion);
        } finally {
            writing.unlock();
        }
    }

    @Override
    public void readings(String forge, TimeRange range, Consumer<Reading> sink) throws StoreException {
        readings.readings(forge, range, sink);
    }

    @Override
    public void readings(Channel channel, TimeRange range, Consumer<Reading> sink) throws StoreException {
        readings.readings(channel, range, sink);
    }

    @Override
    public List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width) throws StoreException {
        return readings.rollups(channel, range, width);
    }

    @Override
    public Optional<Reading> latest(Channel channel) throws StoreException {
        return readings.latest(channel);
    }

    @Override
    public List<String> forges() throws StoreException {
        return readings.forges();
    }

    @Override
    public List<Channel> channels(String forge) throws StoreException {
        return readings.channels(forge);
    }

    @Override
    public List<Note> notes(String forge, TimeRange range) throws StoreException {
        return log.notes(forge, range);
    }

    @Override
    public List<Note> notes(String forge, String name, TimeRange range) throws StoreException {
        return log.notes(forge, name, range);
    }

    @Override
    public List<Setting> settings(String forge, TimeRange range) throws StoreException {
        return log.settings(forge, range);
    }

    @Override
    public Optional<Setting> latestSetting(String forge, String name) throws StoreException {
        return log.latestSetting(forge, name);
    }

    @Override
    public List<AlarmTransition> alarmTransitions(String forge, TimeRange range) throws StoreException {
        return log.alarmTransitions(forge, range);
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, int limit) throws StoreException {
        return log.latestAlarmTransitions(forge, limit);
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, AlarmId alarm, int limit) throws StoreException {
        return log.latestAlarmTransitions(forge, alarm, limit);
    }

    @Override
    public Optional<Burn> burn(String id) throws StoreException {
        return log.burn(id);
    }

    @Override
    public List<Burn> burns(String forge, int limit) throws StoreException {
        return log.burns(forge, limit);
    }

    @Override
    public Optional<StoredFit> fit(String burnId) throws StoreException {
        return log.fit(burnId);
    }

    @Override
    public List<BurnLoss> losses(String forge, int limit) throws StoreException {
        return log.losses(forge, limit);
    }

    /** Closes all; doing it twice is doing it once. */
    @Override
    public void close() throws StoreException {
        writing.lock();
        try {
            if (closed) {
                return;
            }
            closed = true;
            try {
                connections.close();
            } finally {
                BatchWriter current = writer;
                writer = null;
                if (current != null) {
                    current.close();
                }
            }
        } catch (SQLException e) {
            throw SqliteFailure.of(file.path(), "close it", e);
        } finally {
            try {
                file.close();
            } finally {
                writing.unlock();
            }
        }
    }

    private void prepare() throws StoreException {
        try (Connection connection = file.openWriter()) {
            // While it is new, the tables come before WAL mode, so that whose file it is stands in the file itself and
            // never only in its log.
            Schema.bringUpToDate(file.path(), connection);
            requireWal(connection);
            if (spool != null) {
                spool.takeUp(connection);
            }
        } catch (SQLException e) {
            throw SqliteFailure.of(file.path(), "open it", e);
        }
        file.rememberIdentity();
        withWriter("open it", current -> 0);
    }

    private void requireWal(Connection connection) throws SQLException, StoreException {
        try (Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery("PRAGMA journal_mode = WAL")) {
            String mode = rows.next() ? rows.getString(1).toLowerCase(Locale.ROOT) : "";
            if (!mode.equals("wal")) {
                throw new StoreException(
                        "store " + file.path() + ": its disk allows no write-ahead log (journal mode \"" + mode
                                + "\"); put it on a local disk, not on a network share");
            }
        }
    }

    /** What is done over a connection. */
    interface Work<T> {
        T on(Connection connection) throws SQLException;
    }

    /** Does something in one transaction of the writer. */
    <T> T write(String what, Work<T> work) throws StoreException {
        return write(what, work, result -> {});
    }

    /**
     * Does something in one transaction of the writer.
     *
     * @param committed hears what came of it before anybody else writes
     */
    <T> T write(String what, Work<T> work, Consumer<T> committed) throws StoreException {
        writing.lock();
        try {
            T result = withWriter(what, current -> current.inTransaction(work));
            committed.accept(result);
            return result;
        } finally {
            writing.unlock();
        }
    }

    <T> T query(String what, ReadConnections.Query<T> query) throws StoreException {
        return connections.query(what, query);
    }

    private interface Write<T> {
        T with(BatchWriter writer) throws SQLException;
    }

    private <T> T withWriter(String what, Write<T> write) throws StoreException {
        if (closed) {
            throw new StoreException("store " + file.path() + ": is closed");
        }
        if (file.readOnly()) {
            throw new StoreException("store " + file.path() + ": is open for reading only");
        }
        file.requireSameFile();
        boolean done = false;
        try {
            BatchWriter current = writer;
            if (current == null) {
                current = newWriter();
                writer = current;
            }
            T result = write.with(current);
            done = true;
            return result;
        } catch (SQLException e) {
            throw SqliteFailure.of(file.path(), what, e);
        } finally {
            if (!done) {
                discardWriter();
            }
        }
    }

    private BatchWriter newWriter() throws SQLException {
        Connection connection = file.openWriter();
        try {
            return new BatchWriter(connection, spool);
        } catch (SQLException e) {
            connection.close();
            throw e;
        }
    }

    private void discardWriter() {
        BatchWriter broken = writer;
        writer = null;
        if (broken != null) {
            try {
                broken.close();
            } catch (SQLException e) {
                // The failure that led here is the one to report; the next append opens a new connection either way.
            }
        }
    }
}
