package org.bankfire.daemon.store.influx;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.LongSupplier;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ChannelRollup;
import org.bankfire.daemon.store.NewsEncoder;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreNews;
import org.bankfire.daemon.store.StoredFit;
import org.influxdb.dto.Point;

/**
 * How the log book lies on the server. Times are in microseconds; what a reading or entry is known by are its tags and
 * time, so writing it twice writes the same point.
 *
 * <table>
 * <caption>Measurements</caption>
 * <tr><th>measurement</th><th>tags</th><th>fields</th></tr>
 * <tr><td>{@code reading}</td><td>forge, channel</td><td>value (absent: not a number), unit, received (µs); quality unless
 *     good, uncertainty (standard) if known</td></tr>
 * <tr><td>{@code rollup_10s}, {@code rollup_5min}</td><td>forge, channel</td><td>min, mean, max, count</td></tr>
 * <tr><td>{@code note}</td><td>forge, name</td><td>text</td></tr>
 * <tr><td>{@code setting}</td><td>forge, name</td><td>value, unit</td></tr>
 * <tr><td>{@code alarm}</td><td>forge, alarm, state</td><td>priority, why, value if there is one; step, which orders those
 *     of one moment</td></tr>
 * <tr><td>{@code burn}</td><td>forge</td><td>id, ended, end (µs), gas_kg, gas_known, peak_c, peak_known; its time is the
 *     start</td></tr>
 * <tr><td>{@code fit}</td><td>forge</td><td>burn (id), finished (µs), pieces, json_0 …; loss_known, loss_at_c, loss,
 *     loss_low95, loss_high95; its time is the burn's start</td></tr>
 * </table>
 *
 * <p>Readings and 10 s roll-ups lie under the retention policy {@value #READINGS_POLICY}, the rest under the database's
 * default one. A burn's id is a field, not a tag: tags are kept in memory by the server for ever. Burns and fits are
 * replaced field by field, so a field that may go missing has one beside it that says whether it is there. Line breaks in
 * texts stand as {@code \n} and {@code \r}, a backslash as two, so that no line is broken; in the
 * tag {@code name} these and the percent sign stand as {@code %} and two hexadecimal digits.
 */
public final class LineEncoder implements NewsEncoder {
    /** Retention policy of readings and 10 s roll-ups. */
    static final String READINGS_POLICY = "readings";

    static final String READING = "reading";
    static final String ROLLUP_10S = "rollup_10s";
    static final String ROLLUP_5MIN = "rollup_5min";
    static final String NOTE = "note";
    static final String SETTING = "setting";
    static final String ALARM = "alarm";
    static final String BURN = "burn";
    static final String FIT = "fit";

    /** InfluxDB takes 64 kB a text; one of these characters is at most four bytes: a backslash, escaped twice. */
    private static final int PIECE_CHARACTERS = 15_000;

    private final AtomicLong lastStep = new AtomicLong();
    private final LongSupplier nowMicros;

    /** @param nowMicros the time of day, µs; orders transitions of one moment across restarts */
    public LineEncoder(LongSupplier nowMicros) {
        this.nowMicros = nowMicros;
    }

    @Override
    public byte[] encode(StoreNews news) {
        List<String> lines = new ArrayList<>();
        news.fresh().readings().forEach(reading -> lines.add(line(reading)));
        news.rollups().forEach(rollup -> lines.add(line(rollup)));
        news.fresh().notes().forEach(note -> lines.add(line(note)));
        news.fresh().settings().forEach(setting -> lines.add(line(setting)));
        news.fresh().transitions().forEach(transition -> lines.add(line(transition)));
        news.fresh().burns().forEach(burn -> lines.add(line(burn)));
        news.fresh().fits().forEach(fit -> lines.add(line(fit)));
        StringBuilder block = new StringBuilder();
        lines.forEach(line -> block.append(line).append('\n'));
        return block.toString().getBytes(StandardCharsets.UTF_8);
    }

    @Override
    public List<String> lines(byte[] block) {
        return new String(block, StandardCharsets.UTF_8).lines().toList();
    }

    /** Whether a line belongs under {@link #READINGS_POLICY}. */
    static boolean isOfReadings(String line) {
        return line.startsWith(READING + ",") || line.startsWith(ROLLUP_10S + ",");
    }

    static String measurement(Rollup.Width width) {
        return switch (width) {
            case TEN_SECONDS -> ROLLUP_10S;
            case FIVE_MINUTES -> ROLLUP_5MIN;
        };
    }

    private static String line(Reading reading) {
        Point.Builder point = point(READING, reading.channel().forge(), reading.sourceTime())
                .tag("channel", reading.channel().name())
                .addField("unit", oneLine(reading.unit().symbol()))
                .addField("received", reading.receiptTime().epochMicros());
        if (!Double.isNaN(reading.value())) {
            point.addField("value", reading.value());
        }
        if (reading.quality() != Quality.GOOD) {
            point.addField("quality", reading.quality().code());
        }
        if (!Double.isNaN(reading.standardUncertainty())) {
            point.addField("uncertainty", reading.standardUncertainty());
        }
        return line(point);
    }

    private static String line(ChannelRollup rollup) {
        Rollup values = rollup.rollup();
        return line(point(measurement(rollup.width()), rollup.channel().forge(), values.start())
                .tag("channel", rollup.channel().name())
                .addField("min", values.min())
                .addField("mean", values.mean())
                .addField("max", values.max())
                .addField("count", values.count()));
    }

    private static String line(Note note) {
        return line(point(NOTE, note.forge(), note.time())
                .tag("name", tagText(note.name()))
                .addField("text", oneLine(note.text())));
    }

    private static String line(Setting setting) {
        return line(point(SETTING, setting.forge(), setting.time())
                .tag("name", tagText(setting.name()))
                .addField("value", oneLine(setting.value()))
                .addField("unit", oneLine(setting.unit())));
    }

    private String line(AlarmTransition transition) {
        long now = nowMicros.getAsLong();
        Point.Builder point = point(ALARM, transition.forge(), transition.time())
                .tag("alarm", transition.alarm().code())
                .tag("state", transition.state().code())
                .addField("priority", transition.priority().code())
                .addField("why", oneLine(transition.why()))
                .addField("step", lastStep.updateAndGet(last -> Math.max(last + 1, now)));
        if (!Double.isNaN(transition.value())) {
            point.addField("value", transition.value());
        }
        return line(point);
    }

    private static String line(Burn burn) {
        WallTime end = burn.end();
        Point.Builder point = point(BURN, burn.forge(), burn.start())
                .addField("id", oneLine(burn.id()))
                .addField("ended", end != null)
                .addField("end", end == null ? 0 : end.epochMicros());
        known(point, "gas_kg", "gas_known", burn.gasUsedKg());
        known(point, "peak_c", "peak_known", burn.peakC());
        return line(point);
    }

    private static String line(StoredFit fit) {
        List<String> pieces = pieces(fit.json());
        Point.Builder point = point(FIT, fit.forge(), fit.start())
                .addField("burn", oneLine(fit.burnId()))
                .addField("finished", fit.finishedAt().epochMicros())
                .addField("pieces", pieces.size());
        for (int i = 0; i < pieces.size(); i++) {
            point.addField("json_" + i, oneLine(pieces.get(i)));
        }
        BurnLoss loss = fit.loss();
        point.addField("loss_known", loss != null);
        if (loss != null) {
            point.addField("loss_at_c", loss.atC())
                    .addField("loss", loss.wattsPerK().value())
                    .addField("loss_low95", loss.wattsPerK().low95())
                    .addField("loss_high95", loss.wattsPerK().high95());
        }
        return line(point);
    }

    /** A text in pieces that a field can hold; none is cut within a character of two. */
    private static List<String> pieces(String text) {
        List<String> pieces = new ArrayList<>();
        int from = 0;
        while (from < text.length()) {
            int to = Math.min(text.length(), from + PIECE_CHARACTERS);
            if (to < text.length() && Character.isHighSurrogate(text.charAt(to - 1))) {
                to--;
            }
            pieces.add(text.substring(from, to));
            from = to;
        }
        return pieces;
    }

    /** A text without line breaks, from which {@link #manyLines} makes the text again. */
    static String oneLine(String text) {
        return text.replace("\\", "\\\\").replace("\n", "\\n").replace("\r", "\\r");
    }

    /** The text that {@link #oneLine} was given. */
    static String manyLines(String line) {
        if (line.indexOf('\\') < 0) {
            return line;
        }
        StringBuilder text = new StringBuilder(line.length());
        for (int i = 0; i < line.length(); i++) {
            char at = line.charAt(i);
            if (at == '\\' && i + 1 < line.length()) {
                i++;
                char escaped = line.charAt(i);
                text.append(escaped == 'n' ? '\n' : escaped == 'r' ? '\r' : escaped);
            } else {
                text.append(at);
            }
        }
        return text.toString();
    }

    /**
     * A text as a tag holds it. No line can be told of a tag that ends with a backslash, however it is escaped, so a
     * backslash stands as {@code %5C} here, and a line break as {@code %0A} or {@code %0D}.
     */
    static String tagText(String text) {
        return text.replace("%", "%25")
                .replace("\\", "%5C")
                .replace("\n", "%0A")
                .replace("\r", "%0D");
    }

    /** The text that {@link #tagText} was given. */
    static String ofTagText(String tag) {
        return tag.replace("%0D", "\r")
                .replace("%0A", "\n")
                .replace("%5C", "\\")
                .replace("%25", "%");
    }

    private static void known(Point.Builder point, String field, String flag, double value) {
        point.addField(flag, !Double.isNaN(value)).addField(field, Double.isNaN(value) ? 0 : value);
    }

    private static Point.Builder point(String measurement, String forge, WallTime time) {
        return Point.measurement(measurement).tag("forge", forge).time(time.epochMicros(), TimeUnit.MICROSECONDS);
    }

    private static String line(Point.Builder point) {
        return point.build().lineProtocol(TimeUnit.MICROSECONDS);
    }
}
