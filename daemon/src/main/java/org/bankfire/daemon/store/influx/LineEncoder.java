package org.bankfire.daemon.store.influx;

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
 * replaced field by field, so a field that may go missing has one beside it that says whether it is there.
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

    /** InfluxDB takes 64 kB a text; one of these characters is at most three bytes of UTF-8. */
    private static final int PIECE_CHARACTERS = 20_000;

    private final AtomicLong lastStep = new AtomicLong();
    private final LongSupplier nowMicros;

    /** @param nowMicros the time of day, µs; orders transitions of one moment across restarts */
    public LineEncoder(LongSupplier nowMicros) {
        this.nowMicros = nowMicros;
    }

    /** A block of lines, to be written as it is any number of times. */
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
        return ServerLines.block(lines);
    }

    @Override
    public List<String> lines(byte[] block) {
        return ServerLines.lines(block);
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
                .addField("unit", reading.unit().symbol())
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
        return line(
                point(NOTE, note.forge(), note.time()).tag("name", note.name()).addField("text", note.text()));
    }

    private static String line(Setting setting) {
        return line(point(SETTING, setting.forge(), setting.time())
                .tag("name", setting.name())
                .addField("value", setting.value())
                .addField("unit", setting.unit()));
    }

    private String line(AlarmTransition transition) {
        long now = nowMicros.getAsLong();
        Point.Builder point = point(ALARM, transition.forge(), transition.time())
                .tag("alarm", transition.alarm().code())
                .tag("state", transition.state().code())
                .addField("priority", transition.priority().code())
                .addField("why", transition.why())
                .addField("step", lastStep.updateAndGet(last -> Math.max(last + 1, now)));
        if (!Double.isNaN(transition.value())) {
            point.addField("value", transition.value());
        }
        return line(point);
    }

    private static String line(Burn burn) {
        WallTime end = burn.end();
        Point.Builder point = point(BURN, burn.forge(), burn.start())
                .addField("id", burn.id())
                .addField("ended", end != null)
                .addField("end", end == null ? 0 : end.epochMicros());
        known(point, "gas_kg", "gas_known", burn.gasUsedKg());
        known(point, "peak_c", "peak_known", burn.peakC());
        return line(point);
    }

    private static String line(StoredFit fit) {
        List<String> pieces = pieces(fit.json());
        Point.Builder point = point(FIT, fit.forge(), fit.start())
                .addField("burn", fit.burnId())
                .addField("finished", fit.finishedAt().epochMicros())
                .addField("pieces", pieces.size());
        for (int i = 0; i < pieces.size(); i++) {
            point.addField("json_" + i, pieces.get(i));
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
