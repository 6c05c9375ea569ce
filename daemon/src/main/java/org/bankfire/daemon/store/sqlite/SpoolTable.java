package org.bankfire.daemon.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.zip.DataFormatException;
import java.util.zip.Inflater;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.TimeRange;

/**
 * What a store holds for a server: lines in the order in which they were stored, stretches that are to be joined with what
 * the server has, and lines that it refused. It is written by {@link SqliteStore#append} and emptied by one forwarder; each
 * call is one short transaction, so that neither waits long for the other.
 */
public final class SpoolTable {
    /** Refused lines that are kept to be looked at, the newest: some 200 kB. The count goes on. */
    static final int MOST_REFUSED = 1_000;

    /** Before every channel. */
    public static final int NO_CHANNEL = 0;

    /** Bytes that a row takes. */
    static final String SIZE = "length(payload) + ifnull(length(buckets), 0)";

    static final String DROPPED = "dropped";
    static final String LOG_BOOK_TOLD = "log-book-told";
    private static final String REFUSED = "refused";
    private static final String PART_ID = "part-id";
    private static final String PART_DONE = "part-done";
    private static final String TAKEN_UP = "taken-up ";
    private static final String OWN_UNTIL = "own-until";
    private static final String LOCAL_FROM = "local-from";
    private static final String LATE_BEFORE = "late-before";

    private final SqliteStore store;
    private final Spooling spooling;
    private final SpoolGauge gauge = new SpoolGauge();
    private volatile SpoolZones zones = new SpoolZones(new WallTime(0), new WallTime(0), new WallTime(0));

    SpoolTable(SqliteStore store, Spooling spooling) {
        this.store = store;
        this.spooling = spooling;
    }

    /** How much waits. Asks no disk. */
    public SpoolCounts counts() {
        return gauge.counts();
    }

    /** Where readings are to be asked for. */
    public SpoolZones zones() {
        return zones;
    }

    /**
     * The rows that wait longest, in order.
     *
     * @param mostLength bytes of lines in all of them; one row may have more
     */
    public List<SpoolRow> oldest(int most, long mostLength) throws StoreException {
        return store.query("read the spool", connection -> {
            List<SpoolRow> rows = new ArrayList<>();
            long length = 0;
            long partId = value(connection, PART_ID).orElse(-1L);
            int partDone = value(connection, PART_DONE).orElse(0L).intValue();
            try (PreparedStatement select = connection.prepareStatement(
                    "SELECT id, rows, made_us, length, payload FROM spool ORDER BY id LIMIT ?")) {
                select.setInt(1, most);
                try (ResultSet found = select.executeQuery()) {
                    while (found.next()) {
                        int lineBytes = found.getInt(4);
                        length += lineBytes;
                        if (length > mostLength && !rows.isEmpty()) {
                            break;
                        }
                        long id = found.getLong(1);
                        rows.add(new SpoolRow(
                                id,
                                found.getInt(2),
                                new WallTime(found.getLong(3)),
                                inflate(found.getBytes(5), lineBytes),
                                id == partId ? partDone : 0));
                    }
                }
            }
            return rows;
        });
    }

    /**
     * Deletes rows that the server has.
     *
     * @param refused lines in them that it did not want: they are kept to be looked at, and counted
     */
    public void remove(List<Long> ids, List<RefusedLine> refused) throws StoreException {
        // Before another append looks how much room there is: it would drop for what is gone already.
        store.write(
                "delete from the spool",
                connection -> {
                    refuse(connection, refused);
                    return removeIn(connection, ids);
                },
                change -> gauge.changed(change, refused.size()));
    }

    /**
     * Notes how far the server was brought with a row that it does not take as a whole. Known of one row at a time.
     *
     * @param done how many of its lines, from the first, it has taken or refused
     * @param refused of those the ones that it did not want and that were not told yet
     */
    public void partDone(long id, int done, List<RefusedLine> refused) throws StoreException {
        store.write("note what the server has of the spool", connection -> {
            refuse(connection, refused);
            set(connection, PART_ID, id);
            set(connection, PART_DONE, done);
            return done;
        });
        gauge.changed(SpoolGauge.Change.NONE, refused.size());
    }

    private static void refuse(Connection connection, List<RefusedLine> lines) throws SQLException {
        if (lines.isEmpty()) {
            return;
        }
        try (PreparedStatement insert =
                        connection.prepareStatement("INSERT INTO refused (at_us, line, why) VALUES (?, ?, ?)");
                PreparedStatement bound = connection.prepareStatement(
                        "DELETE FROM refused WHERE id <= (SELECT max(id) FROM refused) - " + MOST_REFUSED)) {
            for (RefusedLine line : lines) {
                insert.setLong(1, line.at().epochMicros());
                insert.setString(2, line.line());
                insert.setString(3, line.why());
                insert.executeUpdate();
            }
            bound.executeUpdate();
            addToCount(connection, REFUSED, lines.size());
        }
    }

    /** Whether the server was told all entries of the time before the file spooled. */
    public boolean logBookTold() throws StoreException {
        return store.query("look what the server was told", connection -> value(connection, LOG_BOOK_TOLD))
                .isPresent();
    }

    /** Notes that it was. */
    public void noteLogBookTold() throws StoreException {
        store.write("note what the server was told", connection -> {
            set(connection, LOG_BOOK_TOLD, 1);
            return LOG_BOOK_TOLD;
        });
    }

    /** Whether the forge's log book was taken up from the server. */
    public boolean takenUp(String forge) throws StoreException {
        return store.query("look what was taken up", connection -> value(connection, TAKEN_UP + forge))
                .isPresent();
    }

    /** Notes that it was. */
    public void noteTakenUp(String forge) throws StoreException {
        store.write("note what was taken up", connection -> {
            set(connection, TAKEN_UP + forge, 1);
            return forge;
        });
    }

    /** The newest lines that the server did not want, newest first. */
    public List<RefusedLine> refused(int limit) throws StoreException {
        return store.query("read what the server refused", connection -> {
            List<RefusedLine> lines = new ArrayList<>();
            try (PreparedStatement select =
                    connection.prepareStatement("SELECT at_us, line, why FROM refused ORDER BY id DESC LIMIT ?")) {
                select.setInt(1, limit);
                try (ResultSet found = select.executeQuery()) {
                    while (found.next()) {
                        lines.add(new RefusedLine(
                                new WallTime(found.getLong(1)), found.getString(2), found.getString(3)));
                    }
                }
            }
            return lines;
        });
    }

    /**
     * A stretch that is to be joined with what the server has, and of which nothing waits as lines: these may tell of
     * roll-ups as they stood before the late readings came, and must not be the last word.
     *
     * @param afterChannelId channels take turns: those beyond this one come first, {@link #NO_CHANNEL} for the first turn
     * @param mostBuckets of 5 min
     */
    public Optional<LateStretch> late(int afterChannelId, int mostBuckets) throws StoreException {
        return store.query("look for late readings", connection -> {
            Optional<LateStretch> beyond = lateBeyond(connection, afterChannelId, mostBuckets);
            return beyond.isPresent() ? beyond : lateBeyond(connection, NO_CHANNEL, mostBuckets);
        });
    }

    private static Optional<LateStretch> lateBeyond(Connection connection, int channelId, int mostBuckets)
            throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement("SELECT channel_id, forge.name, channel.name, start_us, touched FROM late"
                        + " JOIN channel ON channel.id = channel_id JOIN forge ON forge.id = forge_id"
                        + " WHERE channel_id > ? AND start_us <= ? ORDER BY channel_id, start_us LIMIT ?")) {
            select.setInt(1, channelId);
            select.setLong(
                    2, least(connection, "SELECT min(oldest_us) FROM spool") - Rollup.Width.FIVE_MINUTES.micros());
            select.setInt(3, mostBuckets);
            try (ResultSet found = select.executeQuery()) {
                return stretch(found);
            }
        }
    }

    /** The server has it; readings that came since it was looked up go on waiting. */
    public void lateDone(LateStretch stretch) throws StoreException {
        store.write("note what the server has", connection -> done(connection, stretch), gauge::changed);
    }

    /**
     * The server does not take it as a whole, so what it was to be told of it waits as lines.
     *
     * @param rows readings that these tell
     */
    public void lateWaits(LateStretch stretch, byte[] lines, int rows) throws StoreException {
        store.write(
                "have late readings wait",
                connection -> {
                    byte[] payload = SpoolWriter.deflate(lines);
                    SpoolBuckets of = new SpoolBuckets();
                    stretch.buckets()
                            .forEach(bucket ->
                                    of.add(stretch.channelId(), bucket.start().epochMicros(), bucket.touched()));
                    byte[] buckets = of.bytes();
                    try (PreparedStatement insert = connection.prepareStatement(SpoolWriter.INSERT)) {
                        insert.setInt(1, rows);
                        insert.setBoolean(2, false);
                        insert.setLong(3, stretch.range().from().epochMicros());
                        insert.setLong(4, spooling.clock().get().epochMicros());
                        insert.setInt(5, lines.length);
                        insert.setBytes(6, payload);
                        insert.setBytes(7, buckets);
                        insert.executeUpdate();
                    }
                    return done(connection, stretch)
                            .plus(new SpoolGauge.Change(rows, payload.length + buckets.length, 0, 0));
                },
                gauge::changed);
    }

    private static SpoolGauge.Change done(Connection connection, LateStretch stretch) throws SQLException {
        try (PreparedStatement reduce = connection.prepareStatement(
                        "UPDATE late SET touched = touched - ? WHERE channel_id = ? AND start_us = ?");
                PreparedStatement delete = connection.prepareStatement(
                        "DELETE FROM late WHERE channel_id = ? AND start_us = ? AND touched <= 0")) {
            long total = 0;
            for (LateStretch.Bucket bucket : stretch.buckets()) {
                reduce.setLong(1, bucket.touched());
                reduce.setInt(2, stretch.channelId());
                reduce.setLong(3, bucket.start().epochMicros());
                reduce.executeUpdate();
                delete.setInt(1, stretch.channelId());
                delete.setLong(2, bucket.start().epochMicros());
                delete.executeUpdate();
                total += bucket.touched();
            }
            return new SpoolGauge.Change(0, 0, 0, -total);
        }
    }

    /**
     * Lets queries before {@code cut} be answered by the server, as far as nothing from then waits for it. What is older
     * may be deleted from the file afterwards; a while later, for queries under way still read it.
     */
    public void advance(WallTime cut) throws StoreException {
        SpoolZones next = store.write("note what the server has", connection -> {
            WallTime allowed = new WallTime(Math.min(
                    cut.epochMicros(),
                    least(
                            connection,
                            "SELECT min(v) FROM (SELECT min(oldest_us) AS v FROM spool UNION ALL"
                                    + " SELECT min(start_us) FROM late)")));
            // A cut in the future is one of a clock that is ahead.
            WallTime now = spooling.clock().get();
            SpoolZones advanced = zones.broughtBack(now).advanced(allowed.isAfter(now) ? now : allowed);
            if (!advanced.equals(zones)) {
                keep(connection, advanced);
            }
            return advanced;
        });
        zones = next;
    }

    SpoolGauge gauge() {
        return gauge;
    }

    Spooling spooling() {
        return spooling;
    }

    /** At opening: what waits already, and where readings are. */
    void takeUp(Connection connection) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            statement.execute("BEGIN IMMEDIATE");
            if (value(connection, OWN_UNTIL).isEmpty()) {
                boolean holdsReadings = least(connection, "SELECT EXISTS (SELECT 1 FROM reading)") != 0;
                keep(connection, SpoolZones.begin(spooling.clock().get(), holdsReadings));
            }
            zones = zones(connection).orElseThrow().broughtBack(spooling.clock().get());
            keep(connection, zones);
            try (ResultSet found = statement.executeQuery("SELECT ifnull(sum(rows), 0), ifnull(sum(" + SIZE + "), 0),"
                    + " (SELECT ifnull(sum(touched), 0) FROM late) FROM spool")) {
                found.next();
                gauge.set(new SpoolCounts(
                        found.getLong(1),
                        found.getLong(2),
                        found.getLong(3),
                        value(connection, DROPPED).orElse(0L),
                        value(connection, REFUSED).orElse(0L)));
            }
            statement.execute("COMMIT");
        }
    }

    /** Empty when the file never spooled. */
    static Optional<SpoolZones> zones(Connection connection) throws SQLException {
        Optional<Long> ownUntil = value(connection, OWN_UNTIL);
        if (ownUntil.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new SpoolZones(
                new WallTime(ownUntil.get()),
                new WallTime(value(connection, LOCAL_FROM).orElseThrow()),
                new WallTime(value(connection, LATE_BEFORE).orElseThrow())));
    }

    static void addToCount(Connection connection, String name, long more) throws SQLException {
        set(connection, name, value(connection, name).orElse(0L) + more);
    }

    private static SpoolGauge.Change removeIn(Connection connection, List<Long> ids) throws SQLException {
        long rows = 0;
        long bytes = 0;
        try (PreparedStatement look = connection.prepareStatement("SELECT rows, " + SIZE + " FROM spool WHERE id = ?");
                PreparedStatement delete = connection.prepareStatement("DELETE FROM spool WHERE id = ?")) {
            for (long id : ids) {
                look.setLong(1, id);
                try (ResultSet found = look.executeQuery()) {
                    // One that is not there was dropped in between, and counted then.
                    if (found.next()) {
                        rows += found.getLong(1);
                        bytes += found.getLong(2);
                    }
                }
                delete.setLong(1, id);
                delete.executeUpdate();
            }
        }
        return new SpoolGauge.Change(-rows, -bytes, 0, 0);
    }

    /** The first bucket and those of the same channel that follow without a gap. */
    private static Optional<LateStretch> stretch(ResultSet found) throws SQLException {
        if (!found.next()) {
            return Optional.empty();
        }
        int channelId = found.getInt(1);
        Channel channel = new Channel(found.getString(2), found.getString(3));
        List<LateStretch.Bucket> buckets = new ArrayList<>();
        long endUs = found.getLong(4);
        do {
            if (found.getInt(1) != channelId || found.getLong(4) != endUs) {
                break;
            }
            buckets.add(new LateStretch.Bucket(new WallTime(endUs), found.getLong(5)));
            endUs += Rollup.Width.FIVE_MINUTES.micros();
        } while (found.next());
        return Optional.of(new LateStretch(
                channelId, channel, new TimeRange(buckets.get(0).start(), new WallTime(endUs)), buckets));
    }

    private static void keep(Connection connection, SpoolZones zones) throws SQLException {
        set(connection, OWN_UNTIL, zones.ownUntil().epochMicros());
        set(connection, LOCAL_FROM, zones.localFrom().epochMicros());
        set(connection, LATE_BEFORE, zones.lateBefore().epochMicros());
    }

    private static void set(Connection connection, String name, long value) throws SQLException {
        try (PreparedStatement set =
                connection.prepareStatement("INSERT OR REPLACE INTO spool_state (name, value) VALUES (?, ?)")) {
            set.setString(1, name);
            set.setLong(2, value);
            set.executeUpdate();
        }
    }

    private static Optional<Long> value(Connection connection, String name) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement("SELECT value FROM spool_state WHERE name = ?")) {
            select.setString(1, name);
            try (ResultSet found = select.executeQuery()) {
                return found.next() ? Optional.of(found.getLong(1)) : Optional.empty();
            }
        }
    }

    /** A number that SQL finds; the greatest of all when it finds none. */
    private static long least(Connection connection, String sql) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet found = statement.executeQuery(sql)) {
            long value = found.next() ? found.getLong(1) : Long.MAX_VALUE;
            return found.wasNull() ? Long.MAX_VALUE : value;
        }
    }

    private static byte[] inflate(byte[] payload, int length) throws StoreException {
        Inflater inflater = new Inflater();
        try {
            inflater.setInput(payload);
            byte[] lines = new byte[length];
            int done = 0;
            while (done < length) {
                int more = inflater.inflate(lines, done, length - done);
                if (more == 0) {
                    throw new DataFormatException("it ends after " + done + " bytes of " + length);
                }
                done += more;
            }
            return lines;
        } catch (DataFormatException damaged) {
            throw new StoreException("the spool is damaged: " + damaged.getMessage(), damaged);
        } finally {
            inflater.end();
        }
    }
}
