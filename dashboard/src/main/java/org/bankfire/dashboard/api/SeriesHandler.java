package org.bankfire.dashboard.api;

import com.fasterxml.jackson.core.JsonGenerator;
import io.javalin.http.Context;
import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.SeriesArchive;
import org.bankfire.dashboard.source.SeriesArchive.SeriesPoint;

/** A channel's stored series thinned for a screen, in columns because a chart takes columns. */
final class SeriesHandler {
    private static final double USUAL_SPAN_S = 4 * 3_600;
    // About the width of a laptop's chart in pixels.
    private static final int USUAL_POINTS = 1_000;
    private static final int MOST_POINTS = 10_000;
    // Units of the corrected channels, for a forge that is not sending just now.
    private static final Map<String, String> UNITS = Map.of(
            ChannelNames.CHAMBER, "Cel",
            ChannelNames.SHELL, "Cel",
            ChannelNames.AMBIENT, "Cel",
            ChannelNames.GAS_TEMPERATURE, "Cel",
            ChannelNames.STOCK, "Cel",
            ChannelNames.COLD_JUNCTION, "Cel",
            ChannelNames.GAS, "Pa",
            ChannelNames.CYLINDER, "kg",
            ChannelNames.FLAME, "/");

    private final ForgeFeed feed;
    private final SeriesArchive archive;

    SeriesHandler(ForgeFeed feed, SeriesArchive archive) {
        this.feed = feed;
        this.archive = archive;
    }

    void series(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        Channel channel = channel(ctx, forge);
        WallTime to = Requests.time(ctx, "to", feed.now());
        WallTime from = Requests.time(ctx, "from", to.plusSeconds(-USUAL_SPAN_S));
        Requests.order(from, to);
        int points = Requests.integer(ctx, "points", USUAL_POINTS, 1, MOST_POINTS);
        List<SeriesPoint> series = archive.series(channel, from, to, points);
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeStringField("channel", channel.name());
            json.writeStringField("unit", unit(channel));
            json.writeStringField("from", from.toString());
            json.writeStringField("to", to.toString());
            Json.number(json, "stepS", to.secondsSince(from) / points, 6);
            column(json, "t", series, point -> point.time().epochSeconds());
            column(json, "min", series, SeriesPoint::min);
            column(json, "mean", series, SeriesPoint::mean);
            column(json, "max", series, SeriesPoint::max);
        });
    }

    void channels(Context ctx) {
        String forge = Requests.forge(ctx, feed).description().id();
        List<Channel> channels = archive.channels(forge);
        Requests.answer(ctx, 200, json -> {
            json.writeStringField("forge", forge);
            json.writeArrayFieldStart("channels");
            for (Channel channel : channels) {
                json.writeStartObject();
                json.writeStringField("channel", channel.name());
                json.writeStringField("unit", unit(channel));
                json.writeEndObject();
            }
            json.writeEndArray();
        });
    }

    private static Channel channel(Context ctx, String forge) {
        String name = ctx.queryParam("channel");
        if (name == null) {
            throw ApiException.bad("channel", null, "a channel's name, such as chamber or gas");
        }
        try {
            return new Channel(forge, name);
        } catch (IllegalArgumentException e) {
            throw ApiException.bad("channel", name, "a channel's name, such as chamber or gas");
        }
    }

    private String unit(Channel channel) {
        String known = UNITS.get(channel.name());
        if (known != null) {
            return known;
        }
        return feed.snapshot(channel.forge()).stream()
                .flatMap(snapshot -> snapshot.latest().stream())
                .filter(reading -> reading.channel().equals(channel))
                .map(Reading::unit)
                .map(unit -> unit.symbol())
                .findFirst()
                .orElse("");
    }

    private static void column(
            JsonGenerator json, String name, List<SeriesPoint> series, ToDoubleFunction<SeriesPoint> of)
            throws IOException {
        json.writeArrayFieldStart(name);
        for (SeriesPoint point : series) {
            Json.number(json, of.applyAsDouble(point), 3);
        }
        json.writeEndArray();
    }
}
