package org.bankfire.daemon.acquire.frame;

/** Decoders by the format that a configuration names. All are pure and may be shared between threads. */
public final class FrameDecoders {
    /** Longest line, its check included: what a small controller can hold and a reader can still take in. */
    public static final int MAX_LINE_BYTES = 4_096;
    /** Longest message over MQTT and longest line of a recorded burn: sixteen full lines. */
    public static final int MAX_MESSAGE_BYTES = 65_536;

    private FrameDecoders() {}

    /** The decoder of whole messages, at most {@link #MAX_MESSAGE_BYTES}. */
    public static FrameDecoder of(FrameFormat format) {
        return of(format, MAX_MESSAGE_BYTES);
    }

    /** The decoder of lines, at most {@link #MAX_LINE_BYTES}. */
    public static FrameDecoder ofLines(FrameFormat format) {
        return of(format, MAX_LINE_BYTES);
    }

    private static FrameDecoder of(FrameFormat format, int maxBytes) {
        if (format instanceof FrameFormat.Columns columns) {
            return new ColumnsDecoder(columns, maxBytes);
        }
        return new SenMlDecoder((FrameFormat.SenMl) format, maxBytes);
    }

    static void checkLength(byte[] bytes, int maxBytes) throws BadFrameException {
        if (bytes.length > maxBytes) {
            throw new BadFrameException("frame is " + bytes.length + " bytes long; allowed are " + maxBytes);
        }
    }
}
