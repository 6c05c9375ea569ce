package org.bankfire.daemon.store.influx;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.TimeRange;
import org.influxdb.dto.QueryResult;

/** Queries of readings and roll-ups. Long ranges are read page by page, so that memory is bounded for any range. */
final class ServerReadings {
    /** Readings in memory at once: some megabytes, at about 200 bytes each. */
    private static final int PAGE = 20_000;

    // What InfluxDB can hold: nanoseconds in 64 bits.
    private static final long FIRST_MICROS = -9_223_372_036_854_774L;
    private static final long END_MICROS = 9_223_372_036_854_774L;

    private static final String COLUMNS = "value, unit, received, quality, uncertainty, channel::tag";

    private final ServerConnection server;
    private final Supplier<String> policy;

    /** @param policy of readings and 10 s roll-ups; empty for the default one */
    ServerReadings(ServerConnection server, Supplier<String> policy) {
        this.server = server;
        this.policy = policy;
    }

    void readings(Channel channel, TimeRange range, Consumer<Reading> sink) throws StoreException {
        read(channel.forge(), Optional.of(channel.name()), range, sink);
    }

    void readings(String forge, TimeRange range, Consumer<Reading> sink) throws StoreException {
        read(forge, Optional.empty(), range, sink);
    }

    private void read(String forge, Optional<String> channel, TimeRange range, Consumer<Reading> sink)
            throws StoreException {
        Map<String, Object> bound = new HashMap<>(Map.of("forge", forge));
        channel.ifPresent(name -> bound.put("channel", name));
        String where = "forge = $forge" + (channel.isPresent() ? " AND channel = $channel" : "");
        WallTime from = range.from();
        int limit = PAGE;
        while (true) {
            List<Reading> page = new ArrayList<>();
            Rows rows = Rows.of(server.query(
                    "SELECT " + COLUMNS + " FROM " + from(LineEncoder.READING) + " WHERE " + where + " AND "
                            + during(new TimeRange(from, range.to())) + " ORDER BY time LIMIT " + limit,
                    bound));
            while (rows.next()) {
                page.add(reading(forge, rows));
            }
            boolean ended = page.size() < limit;
            page.sort(Comparator.comparing(Reading::sourceTime)
                    .thenComparing(reading -> reading.channel().name()));
            WallTime last = ended ? range.to() : page.get(page.size() - 1).sourceTime();
            for (Reading reading : page) {
                // A page may end amid the channels of one moment: that moment begins the next page.
                if (ended || reading.sourceTime().isBefore(last)) {
                    sink.accept(reading);
                }
            }
            if (ended) {
                return;
            }
            // More channels of one moment than a page holds: the page must grow.
            limit = last.equals(from) ? limit * 2 : PAGE;
            from = last;
        }
    }

    Optional<Reading> latest(Channel channel) throws StoreException {
        Rows rows = Rows.of(server.query(
                "SELECT " + COLUMNS + " FROM " + from(LineEncoder.READING)
                        + " WHERE forge = $forge AND channel = $channel ORDER BY time DESC LIMIT 1",
                Map.of("forge", channel.forge(), "channel", channel.name())));
        return rows.next() ? Optional.of(reading(channel.forge(), rows)) : Optional.empty();
    }

    List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width) throws StoreException {
        String measurement = LineEncoder.measurement(width);
        String query = "SELECT min, mean, max, count FROM "
                + (width == Rollup.Width.TEN_SECONDS ? from(measurement) : '"' + measurement + '"')
                + " WHERE forge = $forge AND channel = $channel AND ";
        List<Rollup> rollups = new ArrayList<>();
        WallTime from = range.from();
        while (true) {
            Rows rows = Rows.of(server.query(
                    query + during(new TimeRange(from, range.to())) + " ORDER BY time LIMIT " + PAGE,
                    Map.of("forge", channel.forge(), "channel", channel.name())));
            while (rows.next()) {
                rollups.add(new Rollup(
                        rows.time(), rows.number("min"), rows.number("mean"), rows.number("max"), rows.whole("count")));
            }
            if (rows.size() < PAGE) {
                return rollups;
            }
            from = rollups.get(rollups.size() - 1).start().plusMicros(1);
        }
    }

    List<String> forges() throws StoreException {
        return tagValues("SHOW TAG VALUES WITH KEY = \"forge\"", Map.of());
    }

    List<Channel> channels(String forge) throws StoreException {
        List<Channel> channels = new ArrayList<>();
        for (String name :
                tagValues("SHOW TAG VALUES WITH KEY = \"channel\" WHERE forge = $forge", Map.of("forge", forge))) {
            channels.add(new Channel(forge, name));
        }
        return channels;
    }

    private List<String> tagValues(String query, Map<String, Object> bound) throws StoreException {
        TreeSet<String> found = new TreeSet<>();
        for (QueryResult.Series measurement : server.query(query, bound)) {
            Rows rows = Rows.of(List.of(measurement));
            while (rows.next()) {
                found.add(rows.text("value"));
            }
        }
        return List.copyOf(found);
    }

    /**
     * Deletes the first day's worth of readings and 10 s roll-ups in the range: a bounded piece of work.
     *
     * @return how many there were
     */
    long prune(TimeRange range) throws StoreException {
        return prune(LineEncoder.READING, "received", range) + prune(LineEncoder.ROLLUP_10S, "count", range);
    }

    private long prune(String measurement, String everyPointsField, TimeRange range) throws StoreException {
        Rows first = Rows.of(server.query(
                "SELECT " + everyPointsField + " FROM " + from(measurement) + " WHERE " + during(range)
                        + " ORDER BY time LIMIT 1",
                Map.of()));
        if (!first.next()) {
            return 0;
        }
        WallTime begin = first.time();
        WallTime dayLater = begin.plusSeconds(86_400);
        String piece = during(new TimeRange(begin, dayLater.isBefore(range.to()) ? dayLater : range.to()));
        Rows count = Rows.of(server.query(
                "SELECT count(" + everyPointsField + ") AS points FROM " + from(measurement) + " WHERE " + piece,
                Map.of()));
        long points = count.next() ? count.whole("points") : 0;
        server.command("DELETE FROM \"" + measurement + "\" WHERE " + piece);
        return points;
    }

    private String from(String measurement) {
        String named = policy.get();
        return (named.isEmpty() ? "" : '"' + named + "\".") + '"' + measurement + '"';
    }

    static String during(TimeRange range) {
        long from = Math.max(FIRST_MICROS, range.from().epochMicros());
        long to = Math.min(END_MICROS, range.to().epochMicros());
        return "time >= " + from + "u AND time < " + to + "u";
    }

    private static Reading reading(String forge, Rows rows) throws StoreException {
        String code = rows.textOrNull("quality");
        Quality quality = Quality.GOOD;
        if (code != null) {
            quality = Quality.ofCode(code).orElseThrow(() -> ServerLog.unknownCode("quality", code));
        }
        return new Reading(
                new Channel(forge, rows.text("channel")),
                rows.number("value"),
                Unit.ofSymbol(rows.text("unit")),
                rows.number("uncertainty"),
                quality,
                rows.time(),
                new WallTime(rows.whole("received")));
    }
}
