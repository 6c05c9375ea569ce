package org.bankfire.daemon.acquire.replay;

import java.io.Closeable;
import java.io.EOFException;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.PriorityQueue;
import java.util.zip.ZipException;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.BadFrameException;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.frame.SenMlDecoder;
import org.jspecify.annotations.Nullable;

/** What one file recorded, put in time order within a window. For one thread. */
final class RecordedFile implements Closeable {
    /**
     * Readings, notes and settings that are looked ahead: a minute and a half of four channels at 10 Hz, more than lines
     * of several sources ever cross each other, and about half a megabyte.
     */
    static final int WINDOW = 4_096;

    private static final WallTime NO_RECEIPT_TIME = new WallTime(0);

    /**
     * A reading, note or setting.
     *
     * @param order its place in the file, which decides between equal times
     */
    record Item(WallTime time, long order, long line, String forge, Object what) implements Comparable<Item> {
        @Override
        public int compareTo(Item other) {
            int byTime = time.compareTo(other.time);
            return byTime != 0 ? byTime : Long.compare(order, other.order);
        }
    }

    private final Path file;
    private final RecordingProblem.Listener listener;
    private final RecordedLines lines;
    private final FrameDecoder decoder;
    // Nearly all of a record is in order: that part needs no heap.
    private final Deque<Item> inOrder = new ArrayDeque<>();
    private final PriorityQueue<Item> outOfOrder = new PriorityQueue<>();
    private long order;
    private boolean ended;
    private WallTime lastTaken = new WallTime(Long.MIN_VALUE);

    private RecordedFile(
            Path file, RecordingProblem.Listener listener, RecordedLines lines, byte @Nullable [] firstLine)
            throws IOException {
        this.file = file;
        this.listener = listener;
        this.lines = lines;
        this.ended = firstLine == null;
        if (firstLine == null || firstByte(firstLine) == '[') {
            this.decoder = SenMlDecoder.forRecordedBurns();
            if (firstLine != null) {
                take(firstLine);
            }
        } else if (CsvRows.isHeader(firstLine)) {
            this.decoder = new CsvRows();
        } else {
            throw new RecordedBurnException(
                    file,
                    "line " + lines.lineNumber() + ": neither a SenML pack, which starts with '[', nor the header "
                            + CsvRows.HEADER);
        }
    }

    static RecordedFile open(Path file, RecordingProblem.Listener listener) throws IOException {
        RecordedLines lines;
        try {
            lines = RecordedLines.open(file);
        } catch (EOFException | ZipException e) {
            throw new RecordedBurnException(file, "the compressed data cannot be read: " + e.getMessage());
        }
        try {
            byte[] first = lines.next();
            while (first != null && firstByte(first) < 0 && !lines.wasOverlong()) {
                first = lines.next();
            }
            return new RecordedFile(file, listener, lines, first);
        } catch (EOFException | ZipException e) {
            lines.close();
            throw new RecordedBurnException(file, "the compressed data cannot be read: " + e.getMessage());
        } catch (IOException e) {
            lines.close();
            throw e;
        }
    }

    /** The earliest of the window without taking it; null at the end. */
    @Nullable
    Item peek() throws IOException {
        while (!ended && inOrder.size() + outOfOrder.size() < WINDOW) {
            readLine();
        }
        return isNextInOrder() ? inOrder.peekFirst() : outOfOrder.peek();
    }

    private boolean isNextInOrder() {
        Item first = inOrder.peekFirst();
        Item other = outOfOrder.peek();
        return other == null || (first != null && first.compareTo(other) < 0);
    }

    /** Takes what {@link #peek} showed. */
    Item take() throws IOException {
        Item item = isNextInOrder() ? inOrder.removeFirst() : outOfOrder.remove();
        if (item.time().isBefore(lastTaken)) {
            problem(
                    item.line(),
                    "field \"time\" is " + item.time() + ", behind " + lastTaken + " that is already passed on;"
                            + " allowed are times in order, within " + WINDOW + " readings");
        } else {
            lastTaken = item.time();
        }
        return item;
    }

    long bytesRead() {
        return lines.bytesRead();
    }

    private void readLine() throws IOException {
        byte[] line;
        try {
            line = lines.next();
        } catch (EOFException | ZipException e) {
            ended = true;
            problem(lines.lineNumber(), "the compressed data ends early or is damaged: " + e.getMessage());
            return;
        }
        if (line == null) {
            ended = true;
        } else {
            take(line);
        }
    }

    private void take(byte[] line) throws IOException {
        if (lines.wasOverlong()) {
            problem(lines.lineNumber(), "the line is too long; allowed are " + RecordedLines.MAX_LINE_BYTES + " bytes");
            return;
        }
        if (firstByte(line) < 0) {
            return;
        }
        Pack pack;
        try {
            pack = decoder.decode(line, NO_RECEIPT_TIME);
        } catch (BadFrameException e) {
            problem(lines.lineNumber(), String.valueOf(e.getMessage()));
            return;
        }
        for (Setting setting : pack.settings()) {
            add(setting.time(), setting.forge(), setting);
        }
        for (Note note : pack.notes()) {
            add(note.time(), note.forge(), note);
        }
        for (Reading reading : pack.readings()) {
            add(reading.sourceTime(), reading.channel().forge(), reading);
        }
    }

    private void add(WallTime time, String forge, Object what) {
        Item item = new Item(time, order++, lines.lineNumber(), forge, what);
        Item last = inOrder.peekLast();
        if (last == null || last.compareTo(item) < 0) {
            inOrder.addLast(item);
        } else {
            outOfOrder.add(item);
        }
    }

    private void problem(long line, String message) throws IOException {
        RecordingProblem problem = new RecordingProblem(file, line, message);
        if (listener.onProblem(problem) == RecordingProblem.Answer.STOP) {
            throw new RecordedBurnException(problem);
        }
    }

    /** The first byte that is not blank, −1 when there is none. */
    private static int firstByte(byte[] line) {
        for (byte b : line) {
            if (b != ' ' && b != '\t' && b != '\r') {
                return b & 0xFF;
            }
        }
        return -1;
    }

    @Override
    public void close() throws IOException {
        lines.close();
    }
}
