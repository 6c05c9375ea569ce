package org.bankfire.daemon.acquire.serial;

/**
 * Cuts a stream of bytes into lines at {@code \n}. A {@code \r} before it is ignored, empty lines are passed over, and
 * a line over {@value #LIMIT_BYTES} bytes is discarded up to its end.
 */
final class LineCutter {
    /** Longest line without its line end, bytes: fixed by the line protocol. */
    static final int LIMIT_BYTES = 4_096;

    /** Takes what was cut. */
    interface Sink {
        /** A line without its line end, 1 to {@value #LIMIT_BYTES} bytes; the receiver's to keep. */
        void line(byte[] line) throws InterruptedException;

        /** A line became too long; told once, when its first byte too many arrives. */
        void overlong();
    }

    private final byte[] pending = new byte[LIMIT_BYTES + 1]; // room for the \r of a line of full length
    private int length;
    private boolean discarding;

    /** Takes the first {@code count} of {@code bytes}, which go on where the last ones ended. */
    void feed(byte[] bytes, int count, Sink sink) throws InterruptedException {
        for (int i = 0; i < count; i++) {
            byte b = bytes[i];
            if (b == '\n') {
                end(sink);
            } else if (!discarding) {
                append(b, sink);
            }
        }
    }

    /** Forgets a line that has begun; returns how many bytes of it there were. */
    int reset() {
        int forgotten = length;
        length = 0;
        discarding = false;
        return forgotten;
    }

    private void append(byte b, Sink sink) {
        boolean fits = length < LIMIT_BYTES || (length == LIMIT_BYTES && b == '\r');
        if (!fits) {
            length = 0;
            discarding = true;
            sink.overlong();
            return;
        }
        pending[length++] = b;
    }

    private void end(Sink sink) throws InterruptedException {
        int end = length > 0 && pending[length - 1] == '\r' ? length - 1 : length;
        boolean whole = !discarding && end > 0;
        length = 0;
        discarding = false;
        if (whole) {
            byte[] line = new byte[end];
            System.arraycopy(pending, 0, line, 0, end);
            sink.line(line);
        }
    }
}
