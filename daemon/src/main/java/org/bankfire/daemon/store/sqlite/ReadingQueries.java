package org.bankfire.daemon.store.sqlite;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.PriorityQueue;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Consumer;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.TimeRange;

/**
 * Queries of readings and roll-ups. Long ranges are read page by page, each its own short transaction, so that a slow
 * taker of the readings holds no connection and does not make the write-ahead log grow.
 */
final class ReadingQueries {
    /** Readings in memory for each channel that is read at once: about 100 kB. */
    private static final int PAGE = 1_024;

    private static final String COLUMNS = "time_us, value, unit_id, quality_id, uncertainty, received_us";

    private final Path path;
    private final ReadConnections connections;
    // Rows of these tables never change, so what was read once holds. As many entries as the tables have rows.
    private final Map<Integer, Unit> units = new ConcurrentHashMap<>();
    private final Map<Integer, Quality> qualities = new ConcurrentHashMap<>();

    ReadingQueries(Path path, ReadConnections connections) {
        this.path = path;
        this.connections = connections;
    }

    void readings(Channel channel, TimeRange range, Consumer<Reading> sink) throws StoreException {
        PagedChannel pages = new PagedChannel(channel, range);
        while (pages.load()) {
            sink.accept(pages.next());
        }
    }

    void readings(String forge, TimeRange range, Consumer<Reading> sink) throws StoreException {
        PriorityQueue<PagedChannel> byNextReading =
                new PriorityQueue<>(Comparator.<PagedChannel>comparingLong(pages -> pages.nextTimeUs())
                        .thenComparing(pages -> pages.channel.name()));
        for (Channel channel : channels(forge)) {
            PagedChannel pages = new PagedChannel(channel, range);
            if (pages.load()) {
                byNextReading.add(pages);
            }
        }
        PagedChannel first = byNextReading.poll();
        while (first != null) {
            sink.accept(first.next());
            if (first.load()) {
                byNextReading.add(first);
            }
            first = byNextReading.poll();
        }
    }

    Optional<Reading> latest(Channel channel) throws StoreException {
        return connections.query("find the latest reading of " + channel, connection -> {
            Optional<Integer> id = channelId(connection, channel);
            if (id.isEmpty()) {
                return Optional.empty();
            }
            try (PreparedStatement select = connection.prepareStatement(
                    "SELECT " + COLUMNS + " FROM reading WHERE channel_id = ? ORDER BY time_us DESC LIMIT 1")) {
                select.setInt(1, id.get());
                try (ResultSet rows = select.executeQuery()) {
                    return rows.next() ? Optional.of(reading(connection, channel, rows)) : Optional.empty();
                }
            }
        });
    }

    List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width) throws StoreException {
        String table = switch (width) {
            case TEN_SECONDS -> "rollup_10s";
            case FIVE_MINUTES -> "rollup_5min";
        };
        return connections.query("read roll-ups of " + channel, connection -> {
            List<Rollup> found = new ArrayList<>();
            Optional<Integer> id = channelId(connection, channel);
            if (id.isEmpty()) {
                return found;
            }
            try (PreparedStatement select = connection.prepareStatement("SELECT start_us, min, sum, max, count FROM "
                    + table + " WHERE channel_id = ? AND start_us >= ? AND start_us < ? ORDER BY start_us")) {
                bind(select, id.get(), range);
                try (ResultSet rows = select.executeQuery()) {
                    while (rows.next()) {
                        found.add(rollup(rows));
                    }
                }
            }
            return found;
        });
    }

    List<String> forges() throws StoreException {
        return connections.query("list the forges", connection -> {
            List<String> names = new ArrayList<>();
            try (PreparedStatement select = connection.prepareStatement("SELECT name FROM forge ORDER BY name");
                    ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    names.add(rows.getString(1));
                }
            }
            return names;
        });
    }

    List<Channel> channels(String forge) throws StoreException {
        return connections.query("list the channels of " + forge, connection -> {
            List<Channel> channels = new ArrayList<>();
            try (PreparedStatement select = connection.prepareStatement("SELECT channel.name FROM channel"
                    + " JOIN forge ON forge.id = forge_id WHERE forge.name = ? ORDER BY channel.name")) {
                select.setString(1, forge);
                try (ResultSet rows = select.executeQuery()) {
                    while (rows.next()) {
                        channels.add(new Channel(forge, rows.getString(1)));
                    }
                }
            }
            return channels;
        });
    }

    private static Optional<Integer> channelId(Connection connection, Channel channel) throws SQLException {
        try (PreparedStatement select = connection.prepareStatement("SELECT channel.id FROM channel"
                + " JOIN forge ON forge.id = forge_id WHERE forge.name = ? AND channel.name = ?")) {
            select.setString(1, channel.forge());
            select.setString(2, channel.name());
            try (ResultSet rows = select.executeQuery()) {
                return rows.next() ? Optional.of(rows.getInt(1)) : Optional.empty();
            }
        }
    }

    private static void bind(PreparedStatement select, int channelId, TimeRange range) throws SQLException {
        select.setInt(1, channelId);
        select.setLong(2, range.from().epochMicros());
        select.setLong(3, range.to().epochMicros());
    }

    /** Of a row of start, min, sum, max, count. */
    static Rollup rollup(ResultSet rows) throws SQLException {
        double min = rows.getDouble(2);
        double sum = orNaN(rows, 3);
        double max = rows.getDouble(4);
        long count = rows.getLong(5);
        // Only values near the largest double make the sum overflow; the middle is then as good an answer as any.
        // Rounding may carry the mean of equal values past them by a last digit, which no chart should show.
        double mean = Double.isFinite(sum) ? Math.min(max, Math.max(min, sum / count)) : min / 2 + max / 2;
        return new Rollup(new WallTime(rows.getLong(1)), min, mean, max, count);
    }

    private Reading reading(Connection connection, Channel channel, ResultSet rows)
            throws SQLException, StoreException {
        WallTime sourceTime = new WallTime(rows.getLong(1));
        double value = orNaN(rows, 2);
        Unit unit = unit(connection, rows.getInt(3));
        Quality quality = quality(connection, rows.getInt(4));
        double standardUncertainty = orNaN(rows, 5);
        WallTime receiptTime = new WallTime(rows.getLong(6));
        return new Reading(channel, value, unit, standardUncertainty, quality, sourceTime, receiptTime);
    }

    private Unit unit(Connection connection, int id) throws SQLException, StoreException {
        Unit unit = units.get(id);
        if (unit == null) {
            unit = Unit.ofSymbol(text(connection, "SELECT symbol FROM unit WHERE id = ?", id));
            units.put(id, unit);
        }
        return unit;
    }

    private Quality quality(Connection connection, int id) throws SQLException, StoreException {
        Quality quality = qualities.get(id);
        if (quality == null) {
            String code = text(connection, "SELECT code FROM quality WHERE id = ?", id);
            quality = Quality.ofCode(code).orElseThrow(() -> LogQueries.unknownCode(path, "quality", code));
            qualities.put(id, quality);
        }
        return quality;
    }

    private String text(Connection connection, String sql, int id) throws SQLException, StoreException {
        try (PreparedStatement select = connection.prepareStatement(sql)) {
            select.setInt(1, id);
            try (ResultSet rows = select.executeQuery()) {
                if (!rows.next()) {
                    throw new StoreException("store " + path + ": is damaged, row " + id + " is missing for: " + sql
                            + "; keep a copy of it and start again with a new file");
                }
                return rows.getString(1);
            }
        }
    }

    private static double orNaN(ResultSet rows, int column) throws SQLException {
        double value = rows.getDouble(column);
        return rows.wasNull() ? Double.NaN : value;
    }

    /** One channel's readings in a range, fetched as they are taken. */
    private final class PagedChannel {
        private final Channel channel;
        private final Deque<Reading> page = new ArrayDeque<>();
        private TimeRange rest;
        private boolean ended;

        private PagedChannel(Channel channel, TimeRange range) {
            this.channel = channel;
            this.rest = range;
        }

        /** Makes the next reading ready; false when there is none. */
        private boolean load() throws StoreException {
            if (page.isEmpty() && !ended) {
                connections.query("read " + channel, this::fetch);
            }
            return !page.isEmpty();
        }

        private long nextTimeUs() {
            return page.getFirst().sourceTime().epochMicros();
        }

        private Reading next() {
            return page.removeFirst();
        }

        private int fetch(Connection connection) throws SQLException, StoreException {
            Optional<Integer> id = channelId(connection, channel);
            if (id.isPresent()) {
                try (PreparedStatement select = connection.prepareStatement("SELECT " + COLUMNS
                        + " FROM reading WHERE channel_id = ? AND time_us >= ? AND time_us < ?"
                        + " ORDER BY time_us LIMIT " + PAGE)) {
                    bind(select, id.get(), rest);
                    try (ResultSet rows = select.executeQuery()) {
                        while (rows.next()) {
                            page.add(reading(connection, channel, rows));
                        }
                    }
                }
            }
            ended = page.size() < PAGE;
            if (!ended) {
                rest = new TimeRange(page.getLast().sourceTime().plusMicros(1), rest.to());
            }
            return page.size();
        }
    }
}
