package org.bankfire.daemon.acquire.serial;

import java.nio.charset.StandardCharsets;
import java.util.List;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.BadFrameException;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.Pack;

/** Reads lines such as {@code <12>} or {@code <12 padding>}: enough for tests of what carries them. */
final class CountedLines implements FrameDecoder {
    @Override
    public Pack decode(byte[] bytes, WallTime receiptTime) throws BadFrameException {
        String line = new String(bytes, StandardCharsets.UTF_8);
        if (!line.matches("<\\d+( x*)?>")) {
            throw new BadFrameException("line is no <number>");
        }
        return new Pack(List.of(), List.of(), List.of());
    }

    /** A line of {@code length} bytes. */
    static String padded(int number, int length) {
        String begin = "<" + number + " ";
        return begin + "x".repeat(length - begin.length() - 1) + ">";
    }
}
