package org.bankfire.daemon.acquire.replay;

import java.io.ByteArrayOutputStream;
import java.io.Closeable;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PushbackInputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.zip.GZIPInputStream;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.jspecify.annotations.Nullable;

/** The lines of a file, plain or gzip by its first two bytes, without their line ends. For one thread. */
final class RecordedLines implements Closeable {
    /** Longest line that is kept; what is longer is passed over to its end without being held. */
    static final int MAX_LINE_BYTES = FrameDecoders.MAX_MESSAGE_BYTES;

    private static final int BUFFER_BYTES = 65_536;

    private final Counting raw;
    private final InputStream in;
    private final ByteArrayOutputStream line = new ByteArrayOutputStream(256);
    private final byte[] buffer = new byte[BUFFER_BYTES];
    private int from;
    private int to;
    private long lineNumber;
    private boolean overlong;

    private RecordedLines(Counting raw, InputStream in) {
        this.raw = raw;
        this.in = in;
    }

    static RecordedLines open(Path file) throws IOException {
        Counting raw = new Counting(Files.newInputStream(file));
        try {
            PushbackInputStream start = new PushbackInputStream(raw, 2);
            byte[] magic = start.readNBytes(2);
            start.unread(magic);
            // RFC 1952: ID1 1F, ID2 8B.
            boolean gzip = magic.length == 2 && magic[0] == 0x1F && magic[1] == (byte) 0x8B;
            InputStream text = gzip ? new GZIPInputStream(start, BUFFER_BYTES) : start;
            return new RecordedLines(raw, text);
        } catch (IOException e) {
            raw.close();
            throw e;
        }
    }

    /** The next line, null at the end. Empty when the line was longer than is kept; see {@link #wasOverlong}. */
    byte @Nullable [] next() throws IOException {
        line.reset();
        overlong = false;
        if (from == to && !fill()) {
            return null;
        }
        lineNumber++;
        while (true) {
            int end = from;
            while (end < to && buffer[end] != '\n') {
                end++;
            }
            keep(end);
            boolean ended = end < to;
            from = ended ? end + 1 : end;
            if (ended || !fill()) {
                return overlong ? new byte[0] : withoutLineEnd(line.toByteArray());
            }
        }
    }

    private void keep(int end) {
        if (line.size() + end - from > MAX_LINE_BYTES) {
            overlong = true;
            line.reset();
        } else if (!overlong) {
            line.write(buffer, from, end - from);
        }
    }

    private boolean fill() throws IOException {
        from = 0;
        to = 0;
        int n = in.read(buffer, 0, buffer.length);
        to = Math.max(0, n);
        return n > 0;
    }

    private byte[] withoutLineEnd(byte[] bytes) {
        int start = 0;
        int end = bytes.length;
        if (end > 0 && bytes[end - 1] == '\r') {
            end--;
        }
        // Spreadsheets put a byte order mark before the first line.
        if (lineNumber == 1
                && end >= 3
                && bytes[0] == (byte) 0xEF
                && bytes[1] == (byte) 0xBB
                && bytes[2] == (byte) 0xBF) {
            start = 3;
        }
        return start == 0 && end == bytes.length ? bytes : Arrays.copyOfRange(bytes, start, end);
    }

    /** Number of the line that {@link #next} gave last, the first is 1. */
    long lineNumber() {
        return lineNumber;
    }

    boolean wasOverlong() {
        return overlong;
    }

    /** Bytes of the file that were taken in, compressed if it is. */
    long bytesRead() {
        return raw.count;
    }

    @Override
    public void close() throws IOException {
        in.close();
    }

    private static final class Counting extends FilterInputStream {
        private volatile long count;

        private Counting(InputStream in) {
            super(in);
        }

        @Override
        public int read() throws IOException {
            int b = super.read();
            if (b >= 0) {
                add(1);
            }
            return b;
        }

        @Override
        public int read(byte[] bytes, int offset, int length) throws IOException {
            int n = super.read(bytes, offset, length);
            if (n > 0) {
                add(n);
            }
            return n;
        }

        @SuppressWarnings("NonAtomicVolatileUpdate") // one thread writes, a progress bar reads
        private void add(int n) {
            count += n;
        }
    }
}
