package org.bankfire.daemon.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.sql.Types;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoredFit;
import org.jspecify.annotations.Nullable;

/**
 * Writes batches over one connection, each in one transaction. After a failure it is to be thrown away with its
 * connection, because ids that it remembers may have been rolled back.
 */
final class BatchWriter implements AutoCloseable {
    /** Rows handed to the driver at once; it keeps their bound values in memory until then. */
    private static final int CHUNK = 1_000;

    /** Of a table and its column of time: outside every 5 min bucket that is marked as late. */
    private static final String NOT_LATE = " AND NOT EXISTS (SELECT 1 FROM late WHERE late.channel_id = %1$s.channel_id"
            + " AND %1$s.%2$s >= late.start_us AND %1$s.%2$s < late.start_us + "
            + Rollup.Width.FIVE_MINUTES.micros() + ")";

    private final Connection connection;
    private final Statement control;
    private final PreparedStatement insertReading;
    private final PreparedStatement upsertTenSeconds;
    private final PreparedStatement upsertFiveMinutes;
    private final LogWriter log;

    private final RollupBuffer tenSeconds = new RollupBuffer(Rollup.Width.TEN_SECONDS);
    private final RollupBuffer fiveMinutes = new RollupBuffer(Rollup.Width.FIVE_MINUTES);

    // As many entries as there are forges, channels, units and qualities; the first two are named by the configuration
    // and the sources, and each has a row in the database anyway.
    private final Map<String, Integer> forgeIds = new HashMap<>();
    private final Map<Channel, ChannelState> channels = new HashMap<>();
    private final Map<String, Integer> unitIds = new HashMap<>();
    private final Map<String, Integer> qualityIds = new HashMap<>();

    private final Map<Integer, Channel> channelsById = new HashMap<>();
    private final @Nullable SpoolWriter spool;

    private final @Nullable LateMarks marks;

    /**
     * Writes over {@code connection}.
     *
     * @param table takes what is new, in the same transactions; null when nothing is to be told to a server
     */
    BatchWriter(Connection connection, @Nullable SpoolTable table) throws SQLException {
        this.connection = connection;
        // A file that has spooled and is written without a server for a while must not leave a gap there.
        marks = table == null && SpoolTable.zones(connection).isPresent() ? new LateMarks(connection) : null;
        spool = table == null ? null : new SpoolWriter(connection, table.spooling(), table);
        control = connection.createStatement();
        insertReading = connection.prepareStatement(
                "INSERT INTO reading (channel_id, time_us, value, unit_id, quality_id, uncertainty, received_us)"
                        + " VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING");
        upsertTenSeconds = connection.prepareStatement(upsert("rollup_10s", spool));
        upsertFiveMinutes = connection.prepareStatement(upsert("rollup_5min", spool));
        log = new LogWriter(connection);
    }

    /** Writes all of it or nothing. */
    void write(StoreBatch batch) throws SQLException {
        control.execute("BEGIN IMMEDIATE");
        List<Placed> readings = byChannel(batch.readings());
        for (int from = 0; from < readings.size(); from += CHUNK) {
            insert(readings.subList(from, Math.min(readings.size(), from + CHUNK)));
        }
        flush(tenSeconds, upsertTenSeconds, Rollup.Width.TEN_SECONDS);
        flush(fiveMinutes, upsertFiveMinutes, Rollup.Width.FIVE_MINUTES);
        writeEntries(batch, spool);
        if (spool != null) {
            spool.write(batch.burns(), batch.fits());
        } else if (marks != null && batch.size() > readings.size()) {
            marks.tellLogBookAgain();
        }
        control.execute("COMMIT");
        if (spool != null) {
            spool.committed();
        }
    }

    /**
     * Writes entries that the server has already, and lists channels that it has readings of; all of it or nothing, and
     * without telling the server.
     */
    void takeUp(StoreBatch entries, List<Channel> known) throws SQLException {
        control.execute("BEGIN IMMEDIATE");
        writeEntries(entries, null);
        for (Channel channel : known) {
            channel(channel);
        }
        control.execute("COMMIT");
    }

    /** Adds entries to the spool without storing them; all of it or nothing. */
    void tellAgain(StoreBatch entries) throws SQLException {
        SpoolWriter told = Objects.requireNonNull(spool, "keeps nothing for a server");
        control.execute("BEGIN IMMEDIATE");
        entries.notes().forEach(told::took);
        entries.settings().forEach(told::took);
        entries.transitions().forEach(told::took);
        told.write(entries.burns(), entries.fits());
        control.execute("COMMIT");
        told.committed();
    }

    private void writeEntries(StoreBatch batch, @Nullable SpoolWriter told) throws SQLException {
        for (Note note : batch.notes()) {
            if (log.insert(forgeId(note.forge()), note) && told != null) {
                told.took(note);
            }
        }
        for (Setting setting : batch.settings()) {
            if (log.insert(forgeId(setting.forge()), setting) && told != null) {
                told.took(setting);
            }
        }
        for (AlarmTransition transition : batch.transitions()) {
            if (log.insert(forgeId(transition.forge()), transition) && told != null) {
                told.took(transition);
            }
        }
        for (Burn burn : batch.burns()) {
            log.upsert(forgeId(burn.forge()), burn);
        }
        for (StoredFit fit : batch.fits()) {
            log.upsert(forgeId(fit.forge()), fit);
        }
    }

    private static String upsert(String table, @Nullable SpoolWriter spool) {
        return spool == null ? RollupBuffer.upsertInto(table) : RollupBuffer.upsertAndTell(table);
    }

    private void flush(RollupBuffer buffer, PreparedStatement upsert, Rollup.Width width) throws SQLException {
        if (spool == null) {
            buffer.flush(upsert);
            return;
        }
        buffer.flush(
                upsert,
                (channelId, row) -> spool.changed(
                        channelId,
                        Objects.requireNonNull(channelsById.get(channelId)),
                        width,
                        ReadingQueries.rollup(row)));
    }

    /**
     * Deletes readings and 10 s roll-ups from {@code fromUs} until before {@code toUs}, at most {@code limit} of each, in
     * one transaction.
     *
     * @return how many
     */
    long prune(long fromUs, long toUs, int limit) throws SQLException {
        control.execute("BEGIN IMMEDIATE");
        long deleted = delete("reading", "time_us", "", fromUs, toUs, limit)
                + delete("rollup_10s", "start_us", "", fromUs, toUs, limit);
        control.execute("COMMIT");
        return deleted;
    }

    /** As {@link #prune}, 5 min roll-ups too, but nothing of a stretch in which late readings wait for the server. */
    long forget(long fromUs, long toUs, int limit) throws SQLException {
        control.execute("BEGIN IMMEDIATE");
        long deleted = delete("reading", "time_us", NOT_LATE, fromUs, toUs, limit)
                + delete("rollup_10s", "start_us", NOT_LATE, fromUs, toUs, limit)
                + delete("rollup_5min", "start_us", NOT_LATE, fromUs, toUs, limit);
        control.execute("COMMIT");
        return deleted;
    }

    /** Does something over the writer's connection in one transaction. */
    <T> T inTransaction(SqliteStore.Work<T> work) throws SQLException {
        control.execute("BEGIN IMMEDIATE");
        T result = work.on(connection);
        control.execute("COMMIT");
        return result;
    }

    /** Closes the connection too; an open transaction is rolled back by that. */
    @Override
    public void close() throws SQLException {
        connection.close();
    }

    private long delete(String table, String timeColumn, String andWhere, long fromUs, long toUs, int limit)
            throws SQLException {
        long deleted = 0;
        String sql = "DELETE FROM " + table + " WHERE channel_id = ? AND " + timeColumn + " >= ? AND " + timeColumn
                + " < ?" + String.format(andWhere, table, timeColumn) + " LIMIT ?";
        try (PreparedStatement ids = connection.prepareStatement("SELECT id FROM channel ORDER BY id");
                ResultSet rows = ids.executeQuery();
                PreparedStatement delete = connection.prepareStatement(sql)) {
            while (deleted < limit && rows.next()) {
                delete.setInt(1, rows.getInt(1));
                delete.setLong(2, fromUs);
                delete.setLong(3, toUs);
                delete.setLong(4, limit - deleted);
                deleted += delete.executeUpdate();
            }
        }
        return deleted;
    }

    /**
     * The readings in the order in which the table keeps channels, each channel's as they came. Readings of many forges
     * come mixed; a page that a transaction comes back to again and again costs several times what one visit does.
     */
    private List<Placed> byChannel(List<Reading> readings) throws SQLException {
        List<Placed> placed = new ArrayList<>(readings.size());
        for (Reading reading : readings) {
            placed.add(new Placed(channel(reading.channel()), reading));
        }
        placed.sort(Comparator.comparingInt(each -> each.state.id));
        return placed;
    }

    private void insert(List<Placed> chunk) throws SQLException {
        for (Placed placed : chunk) {
            Reading reading = placed.reading;
            insertReading.setInt(1, placed.state.id);
            insertReading.setLong(2, reading.sourceTime().epochMicros());
            setDouble(insertReading, 3, reading.value());
            insertReading.setInt(4, id(unitIds, "unit", "symbol", reading.unit().symbol()));
            insertReading.setInt(
                    5, id(qualityIds, "quality", "code", reading.quality().code()));
            setDouble(insertReading, 6, reading.standardUncertainty());
            insertReading.setLong(7, reading.receiptTime().epochMicros());
            insertReading.addBatch();
        }
        int[] inserted = insertReading.executeBatch();
        for (int i = 0; i < inserted.length; i++) {
            if (inserted[i] <= 0) {
                continue;
            }
            ChannelState state = chunk.get(i).state;
            Reading reading = chunk.get(i).reading;
            if (!reading.quality().isBad()) {
                state.add(reading);
            }
            if (spool != null) {
                spool.took(state.id, reading);
            } else if (marks != null) {
                marks.mark(state.id, reading.sourceTime().epochMicros(), 1);
            }
        }
    }

    private ChannelState channel(Channel channel) throws SQLException {
        ChannelState known = channels.get(channel);
        if (known != null) {
            return known;
        }
        int forgeId = forgeId(channel.forge());
        try (PreparedStatement insert = connection.prepareStatement(
                        "INSERT INTO channel (forge_id, name) VALUES (?, ?) ON CONFLICT DO NOTHING");
                PreparedStatement select =
                        connection.prepareStatement("SELECT id FROM channel WHERE forge_id = ? AND name = ?")) {
            insert.setInt(1, forgeId);
            insert.setString(2, channel.name());
            insert.executeUpdate();
            select.setInt(1, forgeId);
            select.setString(2, channel.name());
            ChannelState state = new ChannelState(onlyInt(select));
            channels.put(channel, state);
            channelsById.put(state.id, channel);
            return state;
        }
    }

    private int forgeId(String name) throws SQLException {
        return id(forgeIds, "forge", "name", name);
    }

    /** The id of {@code text} in a table of names, which is added when it is new. */
    private int id(Map<String, Integer> known, String table, String column, String text) throws SQLException {
        Integer id = known.get(text);
        if (id == null) {
            try (PreparedStatement insert = connection.prepareStatement(
                            "INSERT INTO " + table + " (" + column + ") VALUES (?) ON CONFLICT DO NOTHING");
                    PreparedStatement select =
                            connection.prepareStatement("SELECT id FROM " + table + " WHERE " + column + " = ?")) {
                insert.setString(1, text);
                insert.executeUpdate();
                select.setString(1, text);
                id = onlyInt(select);
                known.put(text, id);
            }
        }
        return id;
    }

    private static int onlyInt(PreparedStatement select) throws SQLException {
        try (ResultSet rows = select.executeQuery()) {
            if (!rows.next()) {
                throw new SQLException("the row that was just inserted is missing");
            }
            return rows.getInt(1);
        }
    }

    /** NaN, which SQL does not have, is NULL. */
    static void setDouble(PreparedStatement statement, int index, double value) throws SQLException {
        if (Double.isNaN(value)) {
            statement.setNull(index, Types.DOUBLE);
        } else {
            statement.setDouble(index, value);
        }
    }

    /** A reading and where it belongs. */
    private record Placed(ChannelState state, Reading reading) {}

    /** A channel's id and the buckets that its last value went into. */
    private final class ChannelState {
        private final int id;
        private RollupBuffer.@Nullable Bucket lastTenSeconds;
        private RollupBuffer.@Nullable Bucket lastFiveMinutes;

        private ChannelState(int id) {
            this.id = id;
        }

        private void add(Reading reading) {
            long timeUs = reading.sourceTime().epochMicros();
            lastTenSeconds = tenSeconds.add(lastTenSeconds, id, timeUs, reading.value());
            lastFiveMinutes = fiveMinutes.add(lastFiveMinutes, id, timeUs, reading.value());
        }
    }
}
