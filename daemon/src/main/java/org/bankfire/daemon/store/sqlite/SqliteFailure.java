package org.bankfire.daemon.store.sqlite;

import java.nio.file.Path;
import java.sql.SQLException;
import org.bankfire.daemon.store.StoreException;
import org.sqlite.SQLiteErrorCode;

/** Turns what SQLite reports into a message that names the file and says what to do. */
final class SqliteFailure {
    /** SQLite's extended result codes carry the primary code in the low byte (sqlite.org/rescode.html). */
    private static final int PRIMARY_CODE_MASK = 0xFF;

    private SqliteFailure() {}

    /** @param what the thing that was tried, to stand after "could not" */
    static StoreException of(Path file, String what, SQLException cause) {
        return new StoreException(
                "store " + file + ": could not " + what + ": " + advice(cause) + " (" + cause.getMessage() + ")",
                cause);
    }

    private static String advice(SQLException cause) {
        int primary = cause.getErrorCode() & PRIMARY_CODE_MASK;
        if (primary == SQLiteErrorCode.SQLITE_FULL.code) {
            return "the disk is full; free some space, or move the database to a larger disk";
        }
        if (primary == SQLiteErrorCode.SQLITE_READONLY.code
                || primary == SQLiteErrorCode.SQLITE_PERM.code
                || primary == SQLiteErrorCode.SQLITE_CANTOPEN.code) {
            return "it cannot be written; check owner and permissions of the file and its folder, and whether the disk is"
                    + " mounted for writing";
        }
        if (primary == SQLiteErrorCode.SQLITE_BUSY.code || primary == SQLiteErrorCode.SQLITE_LOCKED.code) {
            return "another program holds it locked; close that program";
        }
        if (primary == SQLiteErrorCode.SQLITE_NOTADB.code || primary == SQLiteErrorCode.SQLITE_CORRUPT.code) {
            return "it is damaged; keep a copy of it with its -wal file, move both away and start again with a new file";
        }
        if (primary == SQLiteErrorCode.SQLITE_IOERR.code) {
            return "the disk does not answer as it should; check its cable or card, and the system's log";
        }
        return "unexpected, please report it";
    }
}
