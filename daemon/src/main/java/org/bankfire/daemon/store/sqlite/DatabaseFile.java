package org.bankfire.daemon.store.sqlite;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Arrays;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreInUseException;
import org.jspecify.annotations.Nullable;
import org.sqlite.SQLiteConfig;

/**
 * The database's file on disk: whether it is ours, whether it is free, and connections to it.
 *
 * <p>A second file, {@code NAME.lock}, carries an operating-system lock for as long as a daemon uses the database; the
 * system lets go of it when the process ends in any way. SQLite's own locks last only as long as a transaction, so they
 * would let two daemons write to one file by turns.
 */
final class DatabaseFile implements AutoCloseable {
    /** SQLite's mark of whose file it is, at a fixed place in the header: "Bkfr". */
    static final int APPLICATION_ID = 0x426B6672;

    // https://www.sqlite.org/fileformat.html, section 1.3
    private static final byte[] MAGIC = "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII);
    private static final int HEADER_LENGTH = 100;
    private static final int APPLICATION_ID_OFFSET = 68;

    /**
     * How long SQLite waits for another program's lock. Within one daemon nobody waits; a backup or a look with a shell
     * holds the lock for moments.
     */
    private static final int BUSY_TIMEOUT_MS = (int) TimeUnit.SECONDS.toMillis(5);

    /** The write-ahead log shrinks to this after a long reader has let it grow, so that it cannot fill a small card. */
    private static final int JOURNAL_SIZE_LIMIT_BYTES = 16 * 1024 * 1024;

    /** Where the lock stands in the lock file: beyond the process id, which others must be able to read. */
    private static final long LOCK_POSITION = 1L << 32;

    private final Path path;
    private final @Nullable FileChannel lockChannel;
    /** The file's identity on its disk; null where the system has none, or before the file exists. */
    private @Nullable Object identity;

    private DatabaseFile(Path path, @Nullable FileChannel lockChannel) {
        this.path = path;
        this.lockChannel = lockChannel;
    }

    /** Claims the file for one writer. Nothing is created or changed unless the file is ours, empty or absent. */
    static DatabaseFile claim(Path given) throws StoreException {
        Path path = resolve(given);
        requireOurs(path);
        return new DatabaseFile(path, lock(path));
    }

    /** An existing file for reading beside whoever writes it. */
    static DatabaseFile forReading(Path given) throws StoreException {
        Path path = resolve(given);
        if (!Files.exists(path)) {
            throw new StoreException("store " + path + ": there is no such file; check [store] path");
        }
        requireOurs(path);
        return new DatabaseFile(path, null);
    }

    Path path() {
        return path;
    }

    boolean readOnly() {
        return lockChannel == null;
    }

    Connection openWriter() throws SQLException {
        SQLiteConfig config = commonConfig();
        // FULL syncs the log at every commit: a pulled plug loses at most what was not committed.
        config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
        config.setJournalSizeLimit(JOURNAL_SIZE_LIMIT_BYTES);
        return config.createConnection(url());
    }

    Connection openReader() throws SQLException {
        SQLiteConfig config = commonConfig();
        config.setReadOnly(readOnly());
        Connection connection = config.createConnection(url());
        try (Statement statement = connection.createStatement()) {
            statement.execute("PRAGMA query_only = ON");
        } catch (SQLException e) {
            connection.close();
            throw e;
        }
        return connection;
    }

    /** Notes which file the path leads to, so that {@link #requireSameFile} can tell when it leads elsewhere. */
    void rememberIdentity() throws StoreException {
        identity = currentIdentity();
    }

    /**
     * Refuses to go on when the path no longer leads to the file that was opened: SQLite would go on writing to the
     * deleted file, and all of it would vanish at the end of the process.
     */
    void requireSameFile() throws StoreException {
        if (!Objects.equals(identity, currentIdentity())) {
            throw new StoreException(
                    "store " + path + ": the file was moved, deleted or replaced while in use; put it back,"
                            + " or restart to begin a new one");
        }
    }

    @Override
    public void close() throws StoreException {
        if (lockChannel != null) {
            try {
                lockChannel.close();
            } catch (IOException e) {
                throw new StoreException("store " + path + ": could not let go of its lock file: " + e.getMessage(), e);
            }
        }
    }

    private String url() {
        return "jdbc:sqlite:" + path;
    }

    private static SQLiteConfig commonConfig() {
        SQLiteConfig config = new SQLiteConfig();
        config.setBusyTimeout(BUSY_TIMEOUT_MS);
        config.enforceForeignKeys(true);
        return config;
    }

    private @Nullable Object currentIdentity() throws StoreException {
        try {
            return Files.readAttributes(path, BasicFileAttributes.class).fileKey();
        } catch (NoSuchFileException e) {
            throw new StoreException(
                    "store " + path
                            + ": the file was moved or deleted while in use; put it back, or restart to begin a new"
                            + " one",
                    e);
        } catch (IOException e) {
            throw new StoreException("store " + path + ": cannot be looked at: " + e.getMessage(), e);
        }
    }

    /** One name for one file, whatever links lead to it, so that its lock file is one too. */
    private static Path resolve(Path given) throws StoreException {
        Path absolute = given.toAbsolutePath().normalize();
        try {
            if (Files.isDirectory(absolute)) {
                throw new StoreException("store " + absolute + ": is a folder; [store] path must name a file");
            }
            if (Files.exists(absolute)) {
                return absolute.toRealPath();
            }
            Path folder = absolute.getParent();
            Path name = absolute.getFileName();
            if (folder == null || name == null || !Files.isDirectory(folder)) {
                throw new StoreException(
                        "store " + absolute + ": its folder does not exist; create it, or correct [store]" + " path");
            }
            return folder.toRealPath().resolve(name);
        } catch (IOException e) {
            throw new StoreException("store " + absolute + ": cannot be looked at: " + e.getMessage(), e);
        }
    }

    private static void requireOurs(Path path) throws StoreException {
        byte[] header;
        try {
            if (!Files.exists(path) || Files.size(path) == 0) {
                return;
            }
            try (var in = Files.newInputStream(path)) {
                header = in.readNBytes(HEADER_LENGTH);
            }
        } catch (IOException e) {
            throw new StoreException(
                    "store " + path + ": cannot be read: " + e.getMessage() + "; check owner and permissions", e);
        }
        if (header.length < HEADER_LENGTH || !Arrays.equals(header, 0, MAGIC.length, MAGIC, 0, MAGIC.length)) {
            throw new StoreException(
                    "store " + path + ": is not a database; it was left as it is. Give [store] path another name");
        }
        int applicationId = ByteBuffer.wrap(header).getInt(APPLICATION_ID_OFFSET);
        if (applicationId != APPLICATION_ID && !(applicationId == 0 && isEmptyDatabase(path))) {
            throw new StoreException("store " + path
                    + ": is a database of another program; it was left as it is. Give [store] path another name");
        }
    }

    /** A database without a table: made by hand, or what is left when the plug was pulled at the very first start. */
    private static boolean isEmptyDatabase(Path path) throws StoreException {
        // immutable: SQLite takes no lock and makes no file beside it
        String url = "jdbc:sqlite:" + path.toUri().toString().replaceFirst("^file:///", "file:/") + "?immutable=1";
        SQLiteConfig config = new SQLiteConfig();
        config.setReadOnly(true);
        config.setOpenMode(org.sqlite.SQLiteOpenMode.OPEN_URI);
        try (Connection connection = config.createConnection(url);
                Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery("SELECT count(*) FROM sqlite_master")) {
            return rows.next() && rows.getLong(1) == 0;
        } catch (SQLException e) {
            throw SqliteFailure.of(path, "look into it", e);
        }
    }

    private static FileChannel lock(Path path) throws StoreException {
        Path lockPath = path.resolveSibling(path.getFileName() + ".lock");
        FileChannel channel = null;
        try {
            channel = FileChannel.open(
                    lockPath, StandardOpenOption.CREATE, StandardOpenOption.READ, StandardOpenOption.WRITE);
            FileLock lock = channel.tryLock(LOCK_POSITION, 1, false);
            if (lock == null) {
                String holder = Files.readString(lockPath).strip();
                channel.close();
                throw inUse(path, holder.isEmpty() ? "another process" : "process " + holder, null);
            }
            channel.truncate(0);
            channel.write(ByteBuffer.wrap((ProcessHandle.current().pid() + "\n").getBytes(StandardCharsets.US_ASCII)));
            return channel;
        } catch (OverlappingFileLockException e) {
            closeQuietly(channel);
            throw inUse(path, "this process itself", e);
        } catch (IOException e) {
            closeQuietly(channel);
            throw new StoreException(
                    "store " + path + ": its lock file " + lockPath + " cannot be made: " + e.getMessage()
                            + "; check owner and permissions of the folder",
                    e);
        }
    }

    private static StoreException inUse(Path path, String holder, @Nullable Exception cause) {
        String message = "store " + path + ": is in use by " + holder
                + "; stop that daemon first, or give this one another [store] path";
        return cause == null ? new StoreInUseException(message) : new StoreInUseException(message, cause);
    }

    private static void closeQuietly(@Nullable FileChannel channel) {
        if (channel != null) {
            try {
                channel.close();
            } catch (IOException e) {
                // The failure that led here is the one to report.
            }
        }
    }
}
