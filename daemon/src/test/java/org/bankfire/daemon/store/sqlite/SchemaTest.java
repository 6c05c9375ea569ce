package org.bankfire.daemon.store.sqlite;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.daemon.store.StoreException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SchemaTest {
    private static final List<String> FIRST = List.of("CREATE TABLE a (x)");
    private static final List<String> SECOND = List.of("ALTER TABLE a ADD COLUMN y", "CREATE TABLE b (x)");
    private static final List<String> BROKEN = List.of("CREATE TABLE c (x)", "CREATE TABLE a (x)");

    @TempDir
    Path folder;

    @Test
    void aFileIsBroughtUpStepByStepWithItsRows() throws Exception {
        try (Connection connection = open()) {
            upgrade(connection, List.of(FIRST));
            execute(connection, "INSERT INTO a (x) VALUES (42)");
            upgrade(connection, List.of(FIRST, SECOND));
            assertThat(strings(connection, "SELECT x FROM a WHERE y IS NULL")).containsExactly("42");
            assertThat(version(connection)).isEqualTo("2");
            upgrade(connection, List.of(FIRST, SECOND));
            assertThat(tables(connection)).containsExactly("a", "b");
        }
    }

    @Test
    void aStepThatFailsLeavesTheOldVersionWhole() throws Exception {
        try (Connection connection = open()) {
            upgrade(connection, List.of(FIRST));
            assertThatThrownBy(() -> upgrade(connection, List.of(FIRST, SECOND, BROKEN)))
                    .isInstanceOf(SQLException.class);
            assertThat(version(connection)).isEqualTo("1");
            assertThat(tables(connection)).containsExactly("a");
            upgrade(connection, List.of(FIRST, SECOND));
            assertThat(version(connection)).isEqualTo("2");
        }
    }

    @Test
    void aNewerVersionIsRefused() throws Exception {
        try (Connection connection = open()) {
            upgrade(connection, List.of(FIRST, SECOND));
            assertThatThrownBy(() -> upgrade(connection, List.of(FIRST)))
                    .isInstanceOf(StoreException.class)
                    .hasMessageContaining("version 2, this program knows up to version 1");
            assertThat(tables(connection)).containsExactly("a", "b");
        }
    }

    @Test
    void anOlderVersionIsNotReadWithoutBringingItUp() throws Exception {
        try (Connection connection = open()) {
            assertThatThrownBy(() -> Schema.requireCurrent(folder, connection))
                    .isInstanceOf(StoreException.class)
                    .hasMessageContaining("let the daemon open it once");
            Schema.bringUpToDate(folder, connection);
            Schema.requireCurrent(folder, connection);
        }
    }

    private Connection open() throws SQLException {
        return DriverManager.getConnection("jdbc:sqlite:" + folder.resolve("steps.db"));
    }

    private void upgrade(Connection connection, List<List<String>> steps) throws SQLException, StoreException {
        Schema.upgrade(folder.resolve("steps.db"), connection, steps);
    }

    private static void execute(Connection connection, String sql) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }

    private static List<String> tables(Connection connection) throws SQLException {
        return strings(connection, "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name");
    }

    private static String version(Connection connection) throws SQLException {
        return strings(connection, "PRAGMA user_version").get(0);
    }

    private static List<String> strings(Connection connection, String sql) throws SQLException {
        List<String> found = new ArrayList<>();
        try (Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery(sql)) {
            while (rows.next()) {
                found.add(rows.getString(1));
            }
        }
        return found;
    }
}
