package org.bankfire.daemon.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import org.bankfire.daemon.store.Rollup;

/** Lists buckets that are to be joined with what the server has, within the caller's transaction. */
final class LateMarks {
    private final PreparedStatement mark;
    private final PreparedStatement forgetLogBook;

    LateMarks(Connection connection) throws SQLException {
        mark = connection.prepareStatement("INSERT INTO late (channel_id, start_us, touched) VALUES (?, ?, ?)"
                + " ON CONFLICT (channel_id, start_us) DO UPDATE SET touched = touched + excluded.touched");
        forgetLogBook =
                connection.prepareStatement("DELETE FROM spool_state WHERE name = '" + SpoolTable.LOG_BOOK_TOLD + "'");
    }

    /** Readings of the bucket of a time are stored that the server does not get as lines. */
    void mark(int channelId, long timeUs, long readings) throws SQLException {
        long width = Rollup.Width.FIVE_MINUTES.micros();
        mark.setInt(1, channelId);
        mark.setLong(2, Math.floorDiv(timeUs, width) * width);
        mark.setLong(3, readings);
        mark.executeUpdate();
    }

    /** Entries were stored that the server does not get: it is to be told the whole log book. */
    void tellLogBookAgain() throws SQLException {
        forgetLogBook.executeUpdate();
    }
}
