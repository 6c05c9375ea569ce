package org.bankfire.daemon.store.sqlite;

import java.io.ByteArrayOutputStream;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.Deflater;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.store.ChannelRollup;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreNews;
import org.bankfire.daemon.store.StoredFit;

/**
 * Gathers what a batch newly brings while it is written, and adds it to the spool in the same transaction. Like
 * {@link BatchWriter} it is thrown away after a failure.
 */
final class SpoolWriter {
    /** Readings, roll-ups or entries in one row: some 600 kB of lines, so that whoever posts them can do so bit by bit. */
    static final int MOST_IN_A_ROW = 5_000;

    /** What {@link SpoolRow} tells of, in this order. */
    static final String INSERT =
            "INSERT INTO spool (rows, entries, oldest_us, made_us, length, payload, buckets) VALUES (?, ?, ?, ?, ?, ?, ?)";

    private final Connection connection;
    private final Spooling spooling;
    private final SpoolTable table;
    private final PreparedStatement insert;
    private final LateMarks marks;

    private final List<Taken> readings = new ArrayList<>();
    private final Map<RollupKey, ChannelRollup> rollups = new LinkedHashMap<>();
    private final List<Note> notes = new ArrayList<>();
    private final List<Setting> settings = new ArrayList<>();
    private final List<AlarmTransition> transitions = new ArrayList<>();

    // What the gauge is told once the transaction is through.
    private SpoolGauge.Change change = SpoolGauge.Change.NONE;

    private record Taken(int channelId, Reading reading) {}

    private record RollupKey(int channelId, Rollup.Width width, long startUs) {}

    SpoolWriter(Connection connection, Spooling spooling, SpoolTable table) throws SQLException {
        this.connection = connection;
        this.spooling = spooling;
        this.table = table;
        insert = connection.prepareStatement(INSERT);
        marks = new LateMarks(connection);
    }

    void took(int channelId, Reading reading) throws SQLException {
        long timeUs = reading.sourceTime().epochMicros();
        if (table.zones().isLate(timeUs)) {
            marks.mark(channelId, timeUs, 1);
            change = change.plus(new SpoolGauge.Change(0, 0, 0, 1));
        } else {
            readings.add(new Taken(channelId, reading));
        }
    }

    /** A roll-up as it stands now; one that was told before in this batch is forgotten. */
    void changed(int channelId, Channel channel, Rollup.Width width, Rollup rollup) {
        long startUs = rollup.start().epochMicros();
        if (!table.zones().isLate(startUs)) {
            rollups.put(new RollupKey(channelId, width, startUs), new ChannelRollup(channel, width, rollup));
        }
    }

    void took(Note note) {
        notes.add(note);
    }

    void took(Setting setting) {
        settings.add(setting);
    }

    void took(AlarmTransition transition) {
        transitions.add(transition);
    }

    /** Adds all that was gathered, with burns and fits as they stand, and drops what is too much. */
    void write(List<Burn> burns, List<StoredFit> fits) throws SQLException {
        List<ChannelRollup> changed = List.copyOf(rollups.values());
        for (int from = 0; from < Math.max(readings.size(), changed.size()); from += MOST_IN_A_ROW) {
            insertReadings(chunk(readings, from), chunk(changed, from));
        }
        int entries = Math.max(Math.max(notes.size(), settings.size()), Math.max(transitions.size(), burns.size()));
        for (int from = 0; from < entries; from += MOST_IN_A_ROW) {
            insertEntries(new StoreBatch(
                    List.of(),
                    chunk(notes, from),
                    chunk(settings, from),
                    chunk(transitions, from),
                    chunk(burns, from)));
        }
        // A fit is as long as a thousand readings and more.
        for (StoredFit fit : fits) {
            insertEntries(new StoreBatch(List.of(), List.of(), List.of(), List.of(), List.of(), List.of(fit)));
        }
        dropTooMuch();
        readings.clear();
        rollups.clear();
        notes.clear();
        settings.clear();
        transitions.clear();
    }

    /** After the commit. */
    void committed() {
        table.gauge().changed(change);
        change = SpoolGauge.Change.NONE;
    }

    private void insertReadings(List<Taken> some, List<ChannelRollup> changed) throws SQLException {
        long oldestUs = Long.MAX_VALUE;
        SpoolBuckets buckets = new SpoolBuckets();
        for (Taken taken : some) {
            long timeUs = taken.reading.sourceTime().epochMicros();
            oldestUs = Math.min(oldestUs, timeUs);
            buckets.add(taken.channelId, timeUs, 1);
        }
        for (ChannelRollup rollup : changed) {
            oldestUs = Math.min(oldestUs, rollup.rollup().start().epochMicros());
        }
        StoreBatch readingsAlone =
                StoreBatch.ofReadings(some.stream().map(Taken::reading).toList());
        insert(new StoreNews(readingsAlone, changed), some.size(), false, oldestUs, buckets.bytes());
    }

    private void insertEntries(StoreBatch entries) throws SQLException {
        insert(new StoreNews(entries, List.of()), (int) entries.size(), true, Long.MAX_VALUE, new byte[0]);
    }

    private void insert(StoreNews news, int rows, boolean entries, long oldestUs, byte[] buckets) throws SQLException {
        byte[] lines = spooling.encoder().encode(news);
        byte[] payload = deflate(lines);
        insert.setInt(1, rows);
        insert.setBoolean(2, entries);
        if (oldestUs == Long.MAX_VALUE) {
            insert.setNull(3, Types.INTEGER);
        } else {
            insert.setLong(3, oldestUs);
        }
        insert.setLong(4, spooling.clock().get().epochMicros());
        insert.setInt(5, lines.length);
        insert.setBytes(6, payload);
        insert.setBytes(7, buckets);
        insert.executeUpdate();
        change = change.plus(new SpoolGauge.Change(rows, payload.length + buckets.length, 0, 0));
    }

    /**
     * The oldest readings go first, since new ones tell of today's burn. The file has them, and keeps them until the server
     * does: their buckets are joined when it is back, each at a few bytes where the lines of 3,000 readings were.
     */
    private void dropTooMuch() throws SQLException {
        long tooMuch = table.gauge().counts().bytes() + change.bytes() - spooling.limitBytes();
        if (tooMuch <= 0) {
            return;
        }
        long rows = 0;
        long bytes = 0;
        long marked = 0;
        try (PreparedStatement oldest = connection.prepareStatement(
                        "SELECT id, rows, " + SpoolTable.SIZE + ", buckets FROM spool WHERE entries = 0 ORDER BY id");
                PreparedStatement delete = connection.prepareStatement("DELETE FROM spool WHERE id = ?")) {
            List<Long> ids = new ArrayList<>();
            try (ResultSet found = oldest.executeQuery()) {
                while (bytes < tooMuch && found.next()) {
                    ids.add(found.getLong(1));
                    rows += found.getLong(2);
                    bytes += found.getLong(3);
                    byte[] buckets = found.getBytes(4);
                    marked += buckets == null ? 0 : markLate(buckets); // null: of a file of an older version
                }
            }
            for (long id : ids) {
                delete.setLong(1, id);
                delete.executeUpdate();
            }
        }
        change = change.plus(new SpoolGauge.Change(-rows, -bytes, rows, marked));
        SpoolTable.addToCount(connection, SpoolTable.DROPPED, rows);
    }

    private long markLate(byte[] buckets) throws SQLException {
        long[] marked = {0};
        SpoolBuckets.read(buckets, (channelId, startUs, readings) -> {
            marks.mark(channelId, startUs, readings);
            marked[0] += readings;
        });
        return marked[0];
    }

    private static <T> List<T> chunk(List<T> all, int from) {
        return all.subList(Math.min(from, all.size()), Math.min(from + MOST_IN_A_ROW, all.size()));
    }

    static byte[] deflate(byte[] lines) {
        // The fastest level: on lines it leaves a few per cent more than the best, at a third of the work.
        Deflater deflater = new Deflater(Deflater.BEST_SPEED);
        try {
            deflater.setInput(lines);
            deflater.finish();
            ByteArrayOutputStream out = new ByteArrayOutputStream(lines.length / 4 + 64);
            byte[] buffer = new byte[8_192];
            while (!deflater.finished()) {
                out.write(buffer, 0, deflater.deflate(buffer));
            }
            return out.toByteArray();
        } finally {
            deflater.end();
        }
    }
}
