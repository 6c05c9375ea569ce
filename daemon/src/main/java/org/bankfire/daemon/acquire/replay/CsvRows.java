package org.bankfire.daemon.acquire.replay;

import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.BadFrameException;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.frame.PackBuilder;
import org.bankfire.daemon.acquire.frame.TextValues;

/**
 * Rows {@code time,forge,channel,value,unit,quality} of a recorded burn, quoted as RFC 4180 says, one row a line.
 *
 * <p>The quality is a code of {@link Quality}, empty for good. Two more words tell rows that are no readings: {@code
 * setting} (channel its name, value as given, unit its unit) and {@code note} (channel its name, value its text; the unit
 * is empty). Control characters and backslashes of a text are written {@code \n \r \t \\} and {@code \}{@code u001b}, so
 * that a row never spans lines and a torn line costs one row. A row without a quality is a setting too when it is named
 * {@code plug} or {@code setting-…}, and a note when its unit is {@code text}.
 */
final class CsvRows implements FrameDecoder {
    static final String HEADER = "time,forge,channel,value,unit,quality";
    static final String NOTE = "note";
    static final String SETTING = "setting";

    private static final String TEXT_UNIT = "text";
    private static final int COLUMNS = 6;

    /** Forty forges with 25 channels each; those beyond are made anew for each row. */
    private static final int MAX_KEPT_CHANNELS = 1_024;

    private final Map<String, Channel> channels = new HashMap<>();
    private String lastTimeText = "";
    private WallTime lastTime = new WallTime(0);

    /** Whether a line is the header, blanks and case aside. */
    static boolean isHeader(byte[] line) {
        String text = new String(line, StandardCharsets.UTF_8).toLowerCase(Locale.ROOT);
        return text.replace("\"", "").replace(" ", "").equals(HEADER);
    }

    /** The row as a pack of one thing; its receipt time is the recorded one, the argument is not looked at. */
    @Override
    public Pack decode(byte[] bytes, WallTime receiptTime) throws BadFrameException {
        String[] cells = cells(new String(bytes, StandardCharsets.UTF_8));
        WallTime time = time(cells[0]);
        String value = cells[3];
        String unit = cells[4];
        String quality = cells[5];
        Channel channel = channel(cells[1], cells[2]);
        PackBuilder pack = new PackBuilder();
        if (quality.equals(SETTING) || (quality.isEmpty() && Setting.isSetting(channel.name()))) {
            pack.add(new Setting(channel.forge(), time, channel.name(), unescaped(value), unit));
        } else if (quality.equals(NOTE) || (quality.isEmpty() && unit.equals(TEXT_UNIT))) {
            pack.add(note(channel, time, unescaped(value)));
        } else {
            pack.add(reading(channel, time, value, unit, quality));
        }
        return pack.build();
    }

    private Channel channel(String forge, String name) throws BadFrameException {
        String key = forge + "," + name;
        Channel known = channels.get(key);
        if (known != null) {
            return known;
        }
        try {
            Channel channel = new Channel(forge, name);
            if (channels.size() < MAX_KEPT_CHANNELS) {
                channels.put(key, channel);
            }
            return channel;
        } catch (IllegalArgumentException e) {
            throw new BadFrameException("field \"forge\" or \"channel\": " + e.getMessage());
        }
    }

    private WallTime time(String text) throws BadFrameException {
        if (!text.equals(lastTimeText)) {
            lastTime = TextValues.time(text);
            lastTimeText = text;
        }
        return lastTime;
    }

    private static Note note(Channel channel, WallTime time, String text) throws BadFrameException {
        if (text.length() > Note.MAX_TEXT_LENGTH) {
            throw new BadFrameException("field \"value\" is " + text.length()
                    + " characters long; allowed in a note are " + Note.MAX_TEXT_LENGTH);
        }
        return new Note(channel.forge(), time, channel.name(), text);
    }

    private static Reading reading(Channel channel, WallTime time, String value, String unitSymbol, String code)
            throws BadFrameException {
        Quality quality = code.isEmpty()
                ? Quality.GOOD
                : Quality.ofCode(code)
                        .orElseThrow(() -> new BadFrameException(
                                "field \"quality\" is " + TextValues.quoted(code) + "; allowed are " + codes()));
        Unit unit;
        try {
            unit = Unit.ofSymbol(unitSymbol);
        } catch (IllegalArgumentException e) {
            throw new BadFrameException("field \"unit\": " + e.getMessage());
        }
        if (value.isEmpty() && quality.isBad()) {
            return Reading.fault(channel, unit, quality, time, time);
        }
        double number = TextValues.number(value);
        if (!TextValues.isPlausible(number)) {
            throw new BadFrameException("field \"value\" is " + TextValues.quoted(value)
                    + "; allowed is a number between -1e300 and 1e300, or nothing with a bad quality");
        }
        return new Reading(channel, number, unit, Double.NaN, quality, time, time);
    }

    private static String codes() {
        StringBuilder codes = new StringBuilder();
        for (Quality quality : Quality.values()) {
            codes.append(quality.code()).append(' ');
        }
        return codes.append(SETTING).append(' ').append(NOTE).toString();
    }

    private static String[] cells(String line) throws BadFrameException {
        String[] cells = new String[COLUMNS];
        int count = 0;
        int at = 0;
        while (true) {
            StringBuilder quotedCell = null;
            int end;
            if (at < line.length() && line.charAt(at) == '"') {
                quotedCell = new StringBuilder();
                end = unquote(line, at, quotedCell);
            } else {
                end = line.indexOf(',', at);
                if (end < 0) {
                    end = line.length();
                }
            }
            if (count < COLUMNS) {
                cells[count] = quotedCell == null ? line.substring(at, end) : quotedCell.toString();
            }
            count++;
            if (end >= line.length()) {
                break;
            }
            at = end + 1;
        }
        if (count != COLUMNS) {
            throw new BadFrameException("columns: the row " + TextValues.quoted(line) + " has " + count
                    + "; allowed are " + COLUMNS + ", " + HEADER);
        }
        return cells;
    }

    /** Takes the quoted cell that starts at {@code at}; gives where the comma behind it stands, or the line's end. */
    private static int unquote(String line, int at, StringBuilder cell) throws BadFrameException {
        int i = at + 1;
        while (i < line.length()) {
            char c = line.charAt(i);
            if (c != '"') {
                cell.append(c);
                i++;
            } else if (i + 1 < line.length() && line.charAt(i + 1) == '"') {
                cell.append('"');
                i += 2;
            } else {
                break;
            }
        }
        if (i >= line.length() || (i + 1 < line.length() && line.charAt(i + 1) != ',')) {
            throw new BadFrameException("columns: the quotes of " + TextValues.quoted(line.substring(at))
                    + " do not close before a comma; allowed is a quoted cell as in RFC 4180");
        }
        return i + 1;
    }

    /** Appends the cell, in quotes where RFC 4180 asks for them. */
    static void appendCell(StringBuilder row, String cell) {
        boolean plain = true;
        for (int i = 0; i < cell.length() && plain; i++) {
            char c = cell.charAt(i);
            plain = c != ',' && c != '"';
        }
        if (plain) {
            row.append(cell);
        } else {
            row.append('"').append(cell.replace("\"", "\"\"")).append('"');
        }
    }

    /** The text with its backslashes and control characters written out. */
    static String escaped(String text) {
        StringBuilder escaped = new StringBuilder(text.length() + 8);
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            switch (c) {
                case '\\' -> escaped.append("\\\\");
                case '\n' -> escaped.append("\\n");
                case '\r' -> escaped.append("\\r");
                case '\t' -> escaped.append("\\t");
                default -> {
                    if (Character.isISOControl(c)) {
                        escaped.append(String.format("\\u%04x", (int) c));
                    } else {
                        escaped.append(c);
                    }
                }
            }
        }
        return escaped.toString();
    }

    /** The text that {@link #escaped} wrote; a backslash before anything else stands for itself. */
    static String unescaped(String text) {
        if (text.indexOf('\\') < 0) {
            return text;
        }
        StringBuilder plain = new StringBuilder(text.length());
        int i = 0;
        while (i < text.length()) {
            char c = text.charAt(i++);
            char kind = c == '\\' && i < text.length() ? text.charAt(i) : ' ';
            int code = kind == 'u' && i + 5 <= text.length() ? hex(text, i + 1) : -1;
            if (kind == 'n' || kind == 'r' || kind == 't' || kind == '\\') {
                plain.append(kind == 'n' ? '\n' : kind == 'r' ? '\r' : kind == 't' ? '\t' : '\\');
                i++;
            } else if (code >= 0) {
                plain.append((char) code);
                i += 5;
            } else {
                plain.append(c);
            }
        }
        return plain.toString();
    }

    private static int hex(String text, int from) {
        int value = 0;
        for (int i = from; i < from + 4; i++) {
            int digit = Character.digit(text.charAt(i), 16);
            if (digit < 0) {
                return -1;
            }
            value = value << 4 | digit;
        }
        return value;
    }
}
