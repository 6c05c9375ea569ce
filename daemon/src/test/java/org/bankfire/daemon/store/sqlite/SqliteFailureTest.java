package org.bankfire.daemon.store.sqlite;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import org.bankfire.daemon.store.StoreException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.sqlite.SQLiteConfig;

/** Each message is made from what SQLite itself throws in that situation. */
class SqliteFailureTest {
    @TempDir
    Path folder;

    @Test
    void aFullDiskIsCalledFull() throws Exception {
        try (Connection connection = open()) {
            execute(connection, "PRAGMA max_page_count = 3");
            assertThat(message(connection, "CREATE TABLE b (x); INSERT INTO a VALUES (zeroblob(100000))"))
                    .contains("the disk is full; free some space");
        }
    }

    @Test
    void aFileThatCannotBeWrittenIsCalledThat() throws Exception {
        open().close();
        SQLiteConfig config = new SQLiteConfig();
        config.setReadOnly(true);
        try (Connection connection = config.createConnection("jdbc:sqlite:" + file())) {
            assertThat(message(connection, "INSERT INTO a VALUES (1)")).contains("cannot be written; check owner");
        }
    }

    @Test
    void aLockedFileIsCalledLocked() throws Exception {
        try (Connection holder = open();
                Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file())) {
            execute(connection, "PRAGMA busy_timeout = 1");
            execute(holder, "BEGIN EXCLUSIVE");
            assertThat(message(connection, "INSERT INTO a VALUES (1)")).contains("another program holds it locked");
        }
    }

    @Test
    void aDamagedFileIsCalledDamaged() throws Exception {
        Files.writeString(file(), "no database ".repeat(1_000));
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file())) {
            assertThat(message(connection, "INSERT INTO a VALUES (1)")).contains("it is damaged; keep a copy");
        }
    }

    private String message(Connection connection, String sql) {
        SQLException cause = catchThrowableOfType(SQLException.class, () -> execute(connection, sql));
        StoreException failure = SqliteFailure.of(file(), "store 3 readings", cause);
        assertThat(failure)
                .hasCause(cause)
                .hasMessageStartingWith("store " + file() + ": could not store 3 readings: ");
        return String.valueOf(failure.getMessage());
    }

    private Path file() {
        return folder.resolve("f.db");
    }

    private Connection open() throws SQLException {
        Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
        execute(connection, "CREATE TABLE a (x)");
        return connection;
    }

    private static void execute(Connection connection, String sql) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            statement.executeUpdate(sql);
        }
    }
}
