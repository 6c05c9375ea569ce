package org.bankfire.daemon.store.sqlite;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import org.bankfire.daemon.store.StoreException;

/**
 * The tables and how a file of an older version becomes one of this version. The version stands in SQLite's
 * {@code user_version}; all steps that a file needs run in one transaction, so a file is of one version or of the other.
 *
 * <p>Columns of measured values have no declared type on purpose: SQLite keeps a double bit by bit there, while a
 * {@code REAL} column would turn −0.0 into 0. NaN is stored as NULL.
 */
final class Schema {
    /**
     * Step <i>n</i> leads from version <i>n</i> to <i>n</i>+1. Steps are only ever added: files of every version that was
     * ever released are about.
     */
    private static final List<List<String>> STEPS =
            List.of(firstTables(), fits(), spool(), spoolByTime(), spoolBuckets());

    static final int VERSION = STEPS.size();

    private Schema() {}

    private static List<String> firstTables() {
        return List.of(
                "PRAGMA application_id = " + DatabaseFile.APPLICATION_ID,
                "CREATE TABLE forge (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE)",
                """
            CREATE TABLE channel (
              id INTEGER PRIMARY KEY,
              forge_id INTEGER NOT NULL REFERENCES forge (id),
              name TEXT NOT NULL,
              UNIQUE (forge_id, name))
            """,
                "CREATE TABLE unit (id INTEGER PRIMARY KEY, symbol TEXT NOT NULL UNIQUE)",
                "CREATE TABLE quality (id INTEGER PRIMARY KEY, code TEXT NOT NULL UNIQUE)",
                // Clustered by channel and time: a chart reads neighbouring pages, and no second index has to be kept.
                """
            CREATE TABLE reading (
              channel_id INTEGER NOT NULL REFERENCES channel (id),
              time_us INTEGER NOT NULL,
              value,
              unit_id INTEGER NOT NULL,
              quality_id INTEGER NOT NULL,
              uncertainty,
              received_us INTEGER NOT NULL,
              PRIMARY KEY (channel_id, time_us)) WITHOUT ROWID
            """,
                rollup("rollup_10s"),
                rollup("rollup_5min"),
                """
            CREATE TABLE note (
              forge_id INTEGER NOT NULL REFERENCES forge (id),
              time_us INTEGER NOT NULL,
              name TEXT NOT NULL,
              text TEXT NOT NULL,
              PRIMARY KEY (forge_id, time_us, name)) WITHOUT ROWID
            """,
                """
            CREATE TABLE setting (
              forge_id INTEGER NOT NULL REFERENCES forge (id),
              time_us INTEGER NOT NULL,
              name TEXT NOT NULL,
              value TEXT NOT NULL,
              unit TEXT NOT NULL,
              PRIMARY KEY (forge_id, time_us, name)) WITHOUT ROWID
            """,
                "CREATE INDEX setting_by_name ON setting (forge_id, name, time_us)",
                // The id keeps the order of two steps of one moment.
                """
            CREATE TABLE alarm_transition (
              id INTEGER PRIMARY KEY,
              forge_id INTEGER NOT NULL REFERENCES forge (id),
              time_us INTEGER NOT NULL,
              alarm TEXT NOT NULL,
              state TEXT NOT NULL,
              priority TEXT NOT NULL,
              value,
              why TEXT NOT NULL,
              UNIQUE (forge_id, time_us, alarm, state))
            """,
                """
            CREATE TABLE burn (
              id TEXT PRIMARY KEY,
              forge_id INTEGER NOT NULL REFERENCES forge (id),
              start_us INTEGER NOT NULL,
              end_us INTEGER,
              gas_used_kg,
              peak_c) WITHOUT ROWID
            """,
                "CREATE INDEX burn_by_start ON burn (forge_id, start_us)");
    }

    /** The long text stands last, so that a look at the losses does not read it. */
    private static List<String> fits() {
        return List.of("""
            CREATE TABLE fit (
              burn_id TEXT NOT NULL PRIMARY KEY,
              forge_id INTEGER NOT NULL REFERENCES forge (id),
              start_us INTEGER NOT NULL,
              finished_us INTEGER NOT NULL,
              loss_at_c,
              loss,
              loss_low95,
              loss_high95,
              json TEXT NOT NULL)
            """, "CREATE INDEX fit_by_start ON fit (forge_id, start_us)");
    }

    /** What waits for a server. The long payload stands last, so that adding up what waits does not read it. */
    private static List<String> spool() {
        return List.of(
                // AUTOINCREMENT: an id is never used again, so nothing is deleted that was not sent.
                """
            CREATE TABLE spool (
              id INTEGER PRIMARY KEY AUTOINCREMENT,
              rows INTEGER NOT NULL,
              entries INTEGER NOT NULL,
              oldest_us INTEGER,
              made_us INTEGER NOT NULL,
              length INTEGER NOT NULL,
              payload BLOB NOT NULL)
            """,
                """
            CREATE TABLE late (
              channel_id INTEGER NOT NULL REFERENCES channel (id),
              start_us INTEGER NOT NULL,
              touched INTEGER NOT NULL,
              PRIMARY KEY (channel_id, start_us)) WITHOUT ROWID
            """,
                """
            CREATE TABLE refused (
              id INTEGER PRIMARY KEY AUTOINCREMENT,
              at_us INTEGER NOT NULL,
              line TEXT NOT NULL,
              why TEXT NOT NULL)
            """,
                "CREATE TABLE spool_state (name TEXT PRIMARY KEY, value INTEGER NOT NULL) WITHOUT ROWID");
    }

    /** What waits may be gigabytes, and is not to be read through to find the oldest of it. */
    private static List<String> spoolByTime() {
        return List.of("CREATE INDEX spool_by_oldest ON spool (oldest_us)");
    }

    /** Of which channels and times the readings of a row are, so that it can be brought from the file when it is dropped. */
    private static List<String> spoolBuckets() {
        return List.of("ALTER TABLE spool ADD COLUMN buckets BLOB");
    }

    /** Brings the file to this version; an empty one gets all tables. */
    static void bringUpToDate(Path path, Connection connection) throws SQLException, StoreException {
        upgrade(path, connection, STEPS);
    }

    /** As {@link #bringUpToDate} with other steps, for the tests of the stepping itself. */
    static void upgrade(Path path, Connection connection, List<List<String>> steps)
            throws SQLException, StoreException {
        if (requireNotNewer(path, version(connection), steps.size()) == steps.size()) {
            return;
        }
        try (Statement statement = connection.createStatement()) {
            statement.execute("BEGIN IMMEDIATE");
            try {
                // Read again under the lock: another process may have upgraded in between.
                int version = requireNotNewer(path, version(connection), steps.size());
                for (List<String> step : steps.subList(version, steps.size())) {
                    for (String sql : step) {
                        statement.execute(sql);
                    }
                }
                statement.execute("PRAGMA user_version = " + steps.size());
                statement.execute("COMMIT");
            } catch (SQLException | StoreException e) {
                rollBack(statement, e);
                throw e;
            }
        }
    }

    /** Refuses a file that cannot be read as it is; for those who may not change it. */
    static void requireCurrent(Path path, Connection connection) throws SQLException, StoreException {
        int version = requireNotNewer(path, version(connection), VERSION);
        if (version < VERSION) {
            throw new StoreException("store " + path + ": is of version " + version + ", this program reads version "
                    + VERSION + "; let the daemon open it once, which brings it up to date");
        }
    }

    private static int requireNotNewer(Path path, int found, int known) throws StoreException {
        if (found > known) {
            throw new StoreException(
                    "store " + path + ": is of version " + found + ", this program knows up to version " + known
                            + "; it was left as it is. Use the newer program that made it, or another [store] path");
        }
        return found;
    }

    private static int version(Connection connection) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery("PRAGMA user_version")) {
            return rows.next() ? rows.getInt(1) : 0;
        }
    }

    private static void rollBack(Statement statement, Exception first) {
        try {
            statement.execute("ROLLBACK");
        } catch (SQLException e) {
            first.addSuppressed(e);
        }
    }

    private static String rollup(String table) {
        return "CREATE TABLE " + table + " (" + """
                  channel_id INTEGER NOT NULL REFERENCES channel (id),
                  start_us INTEGER NOT NULL,
                  min NOT NULL,
                  sum,
                  max NOT NULL,
                  count INTEGER NOT NULL,
                  PRIMARY KEY (channel_id, start_us)) WITHOUT ROWID
                """;
    }
}
