package org.bankfire.daemon.store.sqlite;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.util.List;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.ReadingStoreContract;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.TimeRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SqliteStoreTest extends ReadingStoreContract {
    @TempDir
    Path folder;

    @Override
    protected ReadingStore create() throws Exception {
        return SqliteStore.open(file());
    }

    @Override
    protected ReadingStore reopen(ReadingStore store) throws Exception {
        store.close();
        return SqliteStore.open(file());
    }

    @Test
    void twoTransitionsOfOneMomentKeepTheirOrder() throws Exception {
        var given = List.of(
                transition(0, AlarmId.NO_DATA, AlarmState.UNACKNOWLEDGED),
                transition(0, AlarmId.NO_DATA, AlarmState.ACKNOWLEDGED),
                transition(0, AlarmId.NO_DATA, AlarmState.NORMAL));
        store().append(new StoreBatch(List.of(), List.of(), List.of(), given, List.of()));
        assertThat(store().alarmTransitions("shed", TimeRange.ALL)).isEqualTo(given);
        assertThat(store().latestAlarmTransitions("shed", 1)).containsExactly(given.get(2));
    }

    @Test
    void theFileIsInWalModeFullySyncedAndSaysWhoseItIs() throws Exception {
        try (Connection connection = sqlite(file())) {
            assertThat(pragma(connection, "journal_mode")).isEqualTo("wal");
            assertThat(pragma(connection, "application_id")).isEqualTo(String.valueOf(0x426B6672));
            assertThat(pragma(connection, "user_version")).isEqualTo("5");
        }
        try (DatabaseFile other = DatabaseFile.claim(folder.resolve("other.db"));
                Connection writer = other.openWriter()) {
            assertThat(pragma(writer, "synchronous")).isEqualTo("2"); // FULL, sqlite.org/pragma.html
            assertThat(pragma(writer, "foreign_keys")).isEqualTo("1");
            assertThat(pragma(writer, "busy_timeout")).isEqualTo("5000");
        }
    }

    @Test
    void aFileFromBeforeThereWereFitsIsBroughtUpWithItsReadings() throws Exception {
        append(List.of(at(CHAMBER, 0, 900)));
        store().close();
        try (Connection connection = sqlite(file());
                Statement statement = connection.createStatement()) {
            for (String table : List.of("fit", "spool", "late", "refused", "spool_state")) {
                statement.execute("DROP TABLE " + table);
            }
            statement.execute("PRAGMA user_version = 1");
        }
        assertThatThrownBy(() -> SqliteStore.openReadOnly(file()))
                .isInstanceOf(StoreException.class)
                .hasMessageContaining("version 1, this program reads version 5");
        try (SqliteStore again = SqliteStore.open(file())) {
            assertThat(again.latest(CHAMBER)).contains(at(CHAMBER, 0, 900));
            assertThat(again.fit("shed-1")).isEmpty();
            assertThat(again.losses("shed", 10)).isEmpty();
        }
    }

    @Test
    void aSecondDaemonIsRefusedWithTheHoldersName() throws Exception {
        assertThatThrownBy(() -> SqliteStore.open(file()))
                .isInstanceOf(StoreException.class)
                .hasMessageContaining(file().toString())
                .hasMessageContaining("in use by this process");
        Path link = Files.createSymbolicLink(folder.resolve("link.db"), file());
        assertThatThrownBy(() -> SqliteStore.open(link)).hasMessageContaining("in use");
        append(List.of(at(CHAMBER, 0, 1)));
        store().close();
        SqliteStore.open(link).close();
    }

    @Test
    void aReaderMayLookWhileTheDaemonWritesButNotWrite() throws Exception {
        append(List.of(at(CHAMBER, 0, 1)));
        try (SqliteStore reader = SqliteStore.openReadOnly(file())) {
            append(List.of(at(CHAMBER, 1, 2)));
            assertThat(reader.latest(CHAMBER)).contains(at(CHAMBER, 1, 2));
            assertThatThrownBy(() -> reader.append(StoreBatch.ofReadings(List.of(at(CHAMBER, 2, 3)))))
                    .isInstanceOf(StoreException.class)
                    .hasMessageContaining("for reading only");
            assertThatThrownBy(() -> reader.prune(TimeRange.ALL)).hasMessageContaining("for reading only");
        }
        store().close();
        try (SqliteStore reader = SqliteStore.openReadOnly(file())) {
            assertThat(reader.latest(CHAMBER)).contains(at(CHAMBER, 1, 2));
        }
        assertThatThrownBy(() -> SqliteStore.openReadOnly(folder.resolve("none.db")))
                .isInstanceOf(StoreException.class)
                .hasMessageContaining("no such file");
    }

    @Test
    void aFileThatIsNoDatabaseIsLeftAsItIs() throws Exception {
        Path text = Files.writeString(folder.resolve("letter.db"), "Dear neighbour, ".repeat(100));
        byte[] before = Files.readAllBytes(text);
        assertRefused(text, "is not a database");
        assertThat(Files.readAllBytes(text)).isEqualTo(before);
        Path shortText =
                Files.write(folder.resolve("short.db"), "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII));
        assertRefused(shortText, "is not a database");
    }

    @Test
    void anotherProgramsDatabaseIsLeftAsItIs() throws Exception {
        for (String mode : List.of("DELETE", "WAL")) {
            for (int applicationId : new int[] {0, 0x0F055112}) {
                Path foreign = folder.resolve("foreign" + mode + applicationId + ".db");
                try (Connection connection = sqlite(foreign);
                        Statement statement = connection.createStatement()) {
                    statement.execute("PRAGMA journal_mode = " + mode);
                    statement.execute("PRAGMA application_id = " + applicationId);
                    statement.execute("CREATE TABLE recipe (name TEXT)");
                }
                byte[] before = Files.readAllBytes(foreign);
                assertRefused(foreign, "another program");
                assertThat(Files.readAllBytes(foreign)).isEqualTo(before);
            }
        }
    }

    @Test
    void anEmptyFileAndAnEmptyDatabaseAreTakenAsNew() throws Exception {
        Path empty = Files.createFile(folder.resolve("empty file.db"));
        Path database = folder.resolve("empty 100% database?#.db");
        try (Connection connection = sqlite(database);
                Statement statement = connection.createStatement()) {
            statement.execute("PRAGMA journal_mode = WAL");
        }
        assertThat(Files.size(database)).isPositive();
        for (Path path : List.of(empty, database)) {
            try (SqliteStore opened = SqliteStore.open(path)) {
                opened.append(StoreBatch.ofReadings(List.of(at(CHAMBER, 0, 1))));
                assertThat(opened.latest(CHAMBER)).contains(at(CHAMBER, 0, 1));
            }
        }
    }

    @Test
    void aPathThatCannotBeAFileIsRefused() {
        assertRefused(folder, "is a folder");
        assertRefused(folder.resolve("missing").resolve("a.db"), "folder does not exist");
    }

    @Test
    void aDatabaseOfANewerVersionIsLeftAsItIs() throws Exception {
        store().close();
        try (Connection connection = sqlite(file());
                Statement statement = connection.createStatement()) {
            statement.execute("PRAGMA user_version = 99");
        }
        byte[] before = Files.readAllBytes(file());
        assertRefused(file(), "is of version 99");
        assertThat(Files.readAllBytes(file())).isEqualTo(before);
        assertThatThrownBy(() -> SqliteStore.openReadOnly(file())).hasMessageContaining("is of version 99");
    }

    @Test
    void aFileThatVanishedIsReportedAndNothingIsWrittenIntoNowhere() throws Exception {
        append(List.of(at(CHAMBER, 0, 1)));
        Path aside = Files.move(file(), folder.resolve("aside.db"));
        assertThatThrownBy(() -> append(List.of(at(CHAMBER, 1, 2))))
                .isInstanceOf(StoreException.class)
                .hasMessageContaining("moved");
        Files.move(aside, file());
        append(List.of(at(CHAMBER, 1, 2)));
        assertThat(readings(CHAMBER, TimeRange.ALL)).hasSize(2);
    }

    @Test
    void aFailedBatchLeavesNothingBehindAndTheNextOneIsStored() throws Exception {
        // Another program makes the last table of the transaction refuse.
        execute("CREATE TRIGGER refuse BEFORE INSERT ON burn BEGIN SELECT RAISE(ABORT, 'refused'); END");
        StoreBatch batch = new StoreBatch(
                List.of(at(GAS, 0, 1), at(OTHER, 0, 2)),
                List.of(),
                List.of(),
                List.of(),
                List.of(new org.bankfire.analysis.burn.Burn("b", "attic", T0, null, 0, 0)));
        assertThatThrownBy(() -> store().append(batch))
                .isInstanceOf(StoreException.class)
                .hasMessageContaining(file().toString())
                .hasMessageContaining("store a batch of 2 readings");
        assertThat(store().forges()).isEmpty();
        assertThat(readings(GAS, TimeRange.ALL)).isEmpty();

        execute("DROP TRIGGER refuse");
        store().append(batch);
        assertThat(store().forges()).containsExactly("attic", "shed", "yard");
        assertThat(readings(GAS, TimeRange.ALL)).containsExactly(at(GAS, 0, 1));
        assertThat(store().rollups(GAS, TimeRange.ALL, Rollup.Width.TEN_SECONDS))
                .containsExactly(new Rollup(T0, 1, 1, 1, 1));
    }

    @Test
    void pruningDeletesABoundedNumberAtOnce() throws Exception {
        var many = new java.util.ArrayList<org.bankfire.analysis.reading.Reading>();
        for (int i = 0; i < SqliteStore.PRUNE_LIMIT + 500; i++) {
            many.add(at(i % 2 == 0 ? CHAMBER : GAS, i, i));
        }
        append(many);
        // All of these stand in one 10 s bucket for each channel.
        assertThat(store().prune(TimeRange.ALL)).isEqualTo(SqliteStore.PRUNE_LIMIT + 2);
        assertThat(store().prune(TimeRange.ALL)).isEqualTo(500);
        assertThat(store().prune(TimeRange.ALL)).isZero();
    }

    @Test
    void aClosedStoreSaysSo() throws Exception {
        store().close();
        store().close();
        assertThatThrownBy(() -> append(List.of(at(CHAMBER, 0, 1)))).hasMessageContaining("is closed");
        assertThatThrownBy(() -> store().forges()).hasMessageContaining("is closed");
    }

    private Path file() {
        return folder.resolve("bankfire.db");
    }

    private void assertRefused(Path path, String words) {
        assertThatThrownBy(() -> SqliteStore.open(path))
                .isInstanceOf(StoreException.class)
                .hasMessageContaining(path.toString())
                .hasMessageContaining(words);
        assertThat(path.resolveSibling(path.getFileName() + ".lock"))
                .satisfies(lock -> assertThat(Files.exists(lock) && !path.equals(file()))
                        .as("a lock file beside what is not ours")
                        .isFalse());
    }

    private void execute(String sql) throws Exception {
        try (Connection connection = sqlite(file());
                Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }

    private static Connection sqlite(Path path) throws Exception {
        return DriverManager.getConnection("jdbc:sqlite:" + path);
    }

    private static String pragma(Connection connection, String name) throws Exception {
        try (Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery("PRAGMA " + name)) {
            assertThat(rows.next()).isTrue();
            return rows.getString(1);
        }
    }
}
