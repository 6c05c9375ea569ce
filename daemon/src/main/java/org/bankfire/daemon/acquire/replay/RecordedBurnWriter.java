package org.bankfire.daemon.acquire.replay;

import com.fasterxml.jackson.core.io.JsonStringEncoder;
import java.io.BufferedOutputStream;
import java.io.ByteArrayOutputStream;
import java.io.Closeable;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.frame.SenMlDecoder;
import org.bankfire.daemon.acquire.frame.TextValues;
import org.jspecify.annotations.Nullable;

/**
 * Writes a recorded burn that {@link RecordedBurnReader} reads back without loss: channel, time to the microsecond, exact
 * value, unit and quality of every reading, and all notes and settings. SenML also keeps uncertainty and receipt time
 * (CSV has no column for them). Reading what was written and writing it again gives the same bytes.
 *
 * <p>What is given must be in time order; what one forge says at one time is gathered, and comes out settings first, then
 * notes, then readings. For one thread.
 */
public final class RecordedBurnWriter implements Closeable {
    /** Formats of a recorded burn. */
    public enum Format {
        /** A header line and a row for each reading. */
        CSV,
        /** A SenML pack a line, no longer than a line on the wire unless one record alone is. */
        SENML
    }

    private static final int BUFFER_BYTES = 65_536;

    private final OutputStream out;
    private final Format format;
    private final List<Setting> settings = new ArrayList<>();
    private final List<Note> notes = new ArrayList<>();
    private final List<Reading> readings = new ArrayList<>();
    private final ByteArrayOutputStream line = new ByteArrayOutputStream(FrameDecoders.MAX_LINE_BYTES);
    private @Nullable String forge;
    private WallTime time = new WallTime(Long.MIN_VALUE);
    private boolean closed;

    /**
     * A writer that closes {@code out} when it is closed itself.
     *
     * @param out where to; it is buffered here
     */
    public RecordedBurnWriter(OutputStream out, Format format) throws IOException {
        this.out = new BufferedOutputStream(out, BUFFER_BYTES);
        this.format = format;
        if (format == Format.CSV) {
            this.out.write((CsvRows.HEADER + "\n").getBytes(StandardCharsets.US_ASCII));
        }
    }

    /** Writes everything in the pack, which must be of one time; packs of {@link RecordedBurnReader} are. */
    public void write(Pack pack) throws IOException {
        for (Setting setting : pack.settings()) {
            write(setting);
        }
        for (Note note : pack.notes()) {
            write(note);
        }
        for (Reading reading : pack.readings()) {
            write(reading);
        }
    }

    /**
     * Writes a reading.
     *
     * @throws IllegalArgumentException when it is earlier than what was written before
     */
    public void write(Reading reading) throws IOException {
        begin(reading.channel().forge(), reading.sourceTime());
        readings.add(reading);
    }

    /**
     * Writes a note.
     *
     * @throws IllegalArgumentException when it is earlier than what was written before, or when its name would read back
     *     as something else: a setting's name, one that ends in {@code -fault}, one that no channel could have
     */
    public void write(Note note) throws IOException {
        if (Setting.isSetting(note.name()) || note.name().endsWith(ChannelNames.FAULT_SUFFIX)) {
            throw new IllegalArgumentException(
                    "note \"" + note.name() + "\" of " + note.forge() + ": allowed is no name of a setting or fault");
        }
        checkName(note.forge(), note.name());
        begin(note.forge(), note.time());
        notes.add(note);
    }

    /**
     * Writes a setting.
     *
     * @throws IllegalArgumentException when it is earlier than what was written before, or when its name is none of a
     *     setting
     */
    public void write(Setting setting) throws IOException {
        if (!Setting.isSetting(setting.name())) {
            throw new IllegalArgumentException("setting \"" + setting.name() + "\" of " + setting.forge()
                    + ": allowed are \"plug\" and names that begin \"setting-\"");
        }
        checkName(setting.forge(), setting.name());
        begin(setting.forge(), setting.time());
        settings.add(setting);
    }

    private static void checkName(String forge, String name) {
        // The channel's own check: what is no channel's name would not come back from the wire.
        Channel checked = new Channel(forge, name);
        assert checked.name().equals(name);
    }

    private void begin(String nextForge, WallTime nextTime) throws IOException {
        if (nextTime.isBefore(time)) {
            throw new IllegalArgumentException(
                    "time " + nextTime + " is before " + time + "; allowed is what comes in time order");
        }
        int gathered = settings.size() + notes.size() + readings.size();
        if (!nextTime.equals(time) || !nextForge.equals(forge) || gathered >= SenMlDecoder.MAX_RECORDS) {
            writeGathered();
        }
        forge = nextForge;
        time = nextTime;
    }

    private void writeGathered() throws IOException {
        for (Setting setting : settings) {
            if (format == Format.CSV) {
                row(setting.name(), CsvRows.escaped(setting.value()), setting.unit(), CsvRows.SETTING);
            } else {
                record(record(setting));
            }
        }
        for (Note note : notes) {
            if (format == Format.CSV) {
                row(note.name(), CsvRows.escaped(note.text()), "", CsvRows.NOTE);
            } else {
                record(start(note.name()).append(",\"vs\":").append(quoted(note.text())));
            }
        }
        for (Reading reading : readings) {
            if (format == Format.CSV) {
                String value = Double.isNaN(reading.value()) ? "" : TextValues.shortest(reading.value());
                row(
                        reading.channel().name(),
                        value,
                        reading.unit().symbol(),
                        reading.quality().code());
            } else {
                record(record(reading));
            }
        }
        endLine();
        settings.clear();
        notes.clear();
        readings.clear();
    }

    private void row(String channel, String value, String unit, String quality) throws IOException {
        StringBuilder row = new StringBuilder(80);
        row.append(time).append(',').append(forge).append(',').append(channel).append(',');
        CsvRows.appendCell(row, value);
        row.append(',');
        CsvRows.appendCell(row, unit);
        row.append(',').append(quality).append('\n');
        out.write(row.toString().getBytes(StandardCharsets.UTF_8));
    }

    private static StringBuilder record(Setting setting) {
        StringBuilder record = start(setting.name());
        appendUnit(record, setting.unit());
        double number = TextValues.number(setting.value());
        if (TextValues.isPlausible(number) && TextValues.shortest(number).equals(setting.value())) {
            return record.append(",\"v\":").append(setting.value());
        }
        return record.append(",\"vs\":").append(quoted(setting.value()));
    }

    private StringBuilder record(Reading reading) {
        Quality quality = reading.quality();
        boolean fault = Double.isNaN(reading.value());
        String name = reading.channel().name();
        StringBuilder record = start(fault ? name + ChannelNames.FAULT_SUFFIX : name);
        appendUnit(record, reading.unit().symbol());
        if (fault) {
            record.append(",\"vs\":\"").append(quality.code()).append('"');
        } else {
            record.append(",\"v\":").append(TextValues.shortest(reading.value()));
        }
        if (fault ? !isWireFault(quality) : quality != Quality.GOOD) {
            record.append(",\"quality\":\"").append(quality.code()).append('"');
        }
        if (!Double.isNaN(reading.standardUncertainty())) {
            record.append(",\"uncertainty\":").append(TextValues.shortest(reading.standardUncertainty()));
        }
        if (!reading.receiptTime().equals(reading.sourceTime())) {
            record.append(",\"received\":").append(TextValues.epochSeconds(reading.receiptTime()));
        }
        return record;
    }

    /** Whether the fault's word alone reads back as it. */
    private static boolean isWireFault(Quality quality) {
        return switch (quality) {
            case OPEN, SHORT_TO_GROUND, SHORT_TO_SUPPLY, RANGE, FAULT -> true;
            default -> false;
        };
    }

    private static StringBuilder start(String name) {
        return new StringBuilder(80).append("\"n\":\"").append(name).append('"');
    }

    private static void appendUnit(StringBuilder record, String symbol) {
        if (!symbol.isEmpty()) {
            record.append(",\"u\":").append(quoted(symbol));
        }
    }

    private static String quoted(String text) {
        StringBuilder quoted = new StringBuilder(text.length() + 2).append('"');
        JsonStringEncoder.getInstance().quoteAsString(text, quoted);
        return quoted.append('"').toString();
    }

    /** Adds a record to the line, or begins the next when it would become too long. */
    private void record(StringBuilder fields) throws IOException {
        byte[] bytes = fields.append('}').toString().getBytes(StandardCharsets.UTF_8);
        // A comma, the opening brace and the closing bracket come with it.
        if (line.size() > 0 && line.size() + bytes.length + 3 > FrameDecoders.MAX_LINE_BYTES) {
            endLine();
        }
        String before =
                line.size() > 0 ? ",{" : "[{\"bn\":\"" + forge + ":\",\"bt\":" + TextValues.epochSeconds(time) + ",";
        line.writeBytes(before.getBytes(StandardCharsets.US_ASCII));
        line.writeBytes(bytes);
    }

    private void endLine() throws IOException {
        if (line.size() > 0) {
            line.writeBytes(new byte[] {']', '\n'});
            line.writeTo(out);
            line.reset();
        }
    }

    /** Writes out what is gathered and closes the stream. */
    @Override
    public void close() throws IOException {
        if (closed) {
            return;
        }
        closed = true;
        try (OutputStream closing = out) {
            writeGathered();
            closing.flush();
        }
    }
}
