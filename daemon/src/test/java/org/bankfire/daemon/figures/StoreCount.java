package org.bankfire.daemon.figures;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;

/** Counts in a daemon's database, past the daemon's own code. */
final class StoreCount {
    private StoreCount() {}

    /** Readings of the channels that {@link ForgeValues} has. */
    static long sentReadings(Path database) throws SQLException {
        return count(
                database,
                "SELECT count(*) FROM reading JOIN channel ON channel.id = reading.channel_id"
                        + " WHERE channel.name IN ('chamber', 'gas', 'shell', 'ambient')");
    }

    /** Running numbers of lines in a daemon's database. */
    static long lines(Path database) throws SQLException {
        return count(
                database,
                "SELECT count(DISTINCT value) FROM reading JOIN channel ON channel.id = reading.channel_id"
                        + " WHERE channel.name = 'seq'");
    }

    /** Running numbers of lines in the database that the script makes. */
    static long linesOfScript(Path database) throws SQLException {
        return count(database, "SELECT count(DISTINCT value) FROM reading WHERE name = 'seq'");
    }

    /** All readings. */
    static long readings(Path database) throws SQLException {
        return count(database, "SELECT count(*) FROM reading");
    }

    private static long count(Path database, String query) throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + database);
                Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery(query)) {
            return rows.next() ? rows.getLong(1) : 0;
        }
    }
}
