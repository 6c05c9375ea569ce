package org.bankfire.daemon.acquire.frame;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;

/**
 * Plain delimited lines, one value a column, in the unit that the format gives the column.
 *
 * <p>An empty cell is no reading. A cell may hold a fault in place of a number: one of the wire's words ({@code open}
 * {@code short-ground} {@code short-supply} {@code range}), {@code fault}, {@code nan}, or {@code inf}, {@code -inf} and
 * {@code ovf}, which small controllers print for a number out of range; case does not matter. A column whose name ends in
 * {@code -fault} holds such a word, or {@code none}; one named {@code plug} or {@code setting-…} a setting; one named
 * {@code note} a remark. A line with one bad cell is refused whole, as a pack is.
 *
 * <p>Safe for several threads.
 */
public final class ColumnsDecoder implements FrameDecoder {
    /** Name of the column that holds the source time. */
    public static final String TIME = "time";
    /** More than any line of numbers of 4,096 bytes can hold with sense. */
    public static final int MAX_COLUMNS = 256;

    private enum Kind {
        PASSED_OVER,
        TIME,
        NUMBER,
        FAULT,
        SETTING,
        NOTE
    }

    private record Slot(Kind kind, String name, Channel channel, Unit unit) {}

    private final FrameFormat.Columns format;
    private final List<Slot> slots;
    private final int timeColumn;
    private final int maxBytes;

    /**
     * For lines of that format.
     *
     * @param maxBytes longest line, its check included
     * @throws IllegalArgumentException when the format cannot be used; the message names the column
     */
    public ColumnsDecoder(FrameFormat.Columns format, int maxBytes) {
        int count = format.columns().size();
        if (count < 1 || count > MAX_COLUMNS) {
            throw new IllegalArgumentException(count + " columns; allowed are 1 to " + MAX_COLUMNS);
        }
        char delimiter = format.delimiter();
        if (Character.isLetterOrDigit(delimiter) || "+-.*\"\r\n".indexOf(delimiter) >= 0) {
            throw new IllegalArgumentException("delimiter '" + delimiter
                    + "' could be part of a value; allowed are such as ',', ';', '|', tab and blank");
        }
        this.format = format;
        this.maxBytes = maxBytes;
        List<Slot> made = new ArrayList<>(count);
        Set<String> names = new HashSet<>();
        int foundTime = -1;
        for (int i = 0; i < count; i++) {
            FrameFormat.Column column = format.columns().get(i);
            if (!column.name().isEmpty() && !names.add(column.name())) {
                throw new IllegalArgumentException("column " + (i + 1) + ": the name \"" + column.name()
                        + "\" is taken; allowed is each name once");
            }
            Slot slot = slot(format.forge(), column);
            if (slot.kind() == Kind.TIME) {
                foundTime = i;
            }
            made.add(slot);
        }
        this.slots = List.copyOf(made);
        this.timeColumn = foundTime;
    }

    private static Slot slot(String forge, FrameFormat.Column column) {
        String name = column.name();
        if (name.isEmpty() || name.equals(TIME)) {
            Kind kind = name.isEmpty() ? Kind.PASSED_OVER : Kind.TIME;
            return new Slot(kind, name, new Channel(forge, TIME), column.unit());
        }
        Kind kind = Kind.NUMBER;
        String channelName = name;
        if (name.equals(Note.REMARK)) {
            kind = Kind.NOTE;
        } else if (Setting.isSetting(name)) {
            kind = Kind.SETTING;
        } else if (name.endsWith(ChannelNames.FAULT_SUFFIX)) {
            kind = Kind.FAULT;
            channelName = name.substring(0, name.length() - ChannelNames.FAULT_SUFFIX.length());
        }
        return new Slot(kind, name, new Channel(forge, channelName), column.unit());
    }

    @Override
    public Pack decode(byte[] bytes, WallTime receiptTime) throws BadFrameException {
        FrameDecoders.checkLength(bytes, maxBytes);
        int length = LineChecksum.payloadLength(bytes, format.checksum());
        String[] cells = cells(new String(bytes, 0, length, StandardCharsets.UTF_8));
        WallTime time = receiptTime;
        if (timeColumn >= 0 && !cells[timeColumn].isEmpty()) {
            time = TextValues.time(cells[timeColumn]);
        }
        PackBuilder pack = new PackBuilder();
        for (int i = 0; i < cells.length; i++) {
            if (!cells[i].isEmpty()) {
                try {
                    take(slots.get(i), cells[i], time, receiptTime, pack);
                } catch (BadFrameException e) {
                    throw new BadFrameException("column " + (i + 1) + ": " + e.getMessage());
                }
            }
        }
        return pack.build();
    }

    private String[] cells(String line) throws BadFrameException {
        String[] cells = new String[slots.size()];
        char delimiter = format.delimiter();
        boolean blanks = delimiter == ' ';
        String rest = blanks ? line.strip().replace('\t', ' ') : line;
        int count = 0;
        int from = 0;
        while (from <= rest.length()) {
            int to = rest.indexOf(delimiter, from);
            if (to < 0) {
                to = rest.length();
            }
            if (count < cells.length) {
                cells[count] = rest.substring(from, to).strip();
            }
            count++;
            from = to + 1;
            while (blanks && from < rest.length() && rest.charAt(from) == ' ') {
                from++;
            }
        }
        if (count != cells.length) {
            throw new BadFrameException(
                    "columns: the line " + TextValues.quoted(line) + " has " + count + "; allowed are " + cells.length);
        }
        return cells;
    }

    private static void take(Slot slot, String cell, WallTime time, WallTime receiptTime, PackBuilder pack)
            throws BadFrameException {
        String forge = slot.channel().forge();
        switch (slot.kind()) {
            case PASSED_OVER, TIME -> {}
            case SETTING -> {
                double number = TextValues.number(cell);
                pack.add(new Setting(
                        forge,
                        time,
                        slot.name(),
                        TextValues.isPlausible(number) ? TextValues.shortest(number) : cell,
                        slot.unit().symbol()));
            }
            case NOTE -> {
                if (cell.length() > Note.MAX_TEXT_LENGTH) {
                    throw new BadFrameException("field \"note\" is " + cell.length() + " characters long; allowed are "
                            + Note.MAX_TEXT_LENGTH);
                }
                pack.add(new Note(forge, time, slot.name(), cell));
            }
            case FAULT -> {
                String word = cell.toLowerCase(Locale.ROOT);
                if (!word.equals("none")) {
                    pack.add(Reading.fault(
                            slot.channel(), slot.unit(), SenMlResolver.faultOfWord(word), time, receiptTime));
                }
            }
            case NUMBER -> pack.add(reading(slot, cell, time, receiptTime));
        }
    }

    private static Reading reading(Slot slot, String cell, WallTime time, WallTime receiptTime)
            throws BadFrameException {
        double value = TextValues.number(cell);
        if (TextValues.isPlausible(value)) {
            return Reading.good(slot.channel(), value, slot.unit(), time, receiptTime);
        }
        Quality quality = switch (cell.toLowerCase(Locale.ROOT)) {
            case "nan" -> Quality.NOT_A_NUMBER;
            case "inf", "-inf", "ovf", "range" -> Quality.RANGE;
            case "open" -> Quality.OPEN;
            case "short-ground" -> Quality.SHORT_TO_GROUND;
            case "short-supply" -> Quality.SHORT_TO_SUPPLY;
            case "fault" -> Quality.FAULT;
            default ->
                throw new BadFrameException("field \"" + slot.name() + "\" is " + TextValues.quoted(cell)
                        + "; allowed are a number between -1e300 and 1e300, an empty cell, and the words open,"
                        + " short-ground, short-supply, range, fault, nan, inf, ovf");
        };
        return Reading.fault(slot.channel(), slot.unit(), quality, time, receiptTime);
    }
}
