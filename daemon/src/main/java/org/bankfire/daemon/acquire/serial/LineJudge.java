package org.bankfire.daemon.acquire.serial;

import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.BadFrameException;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.jspecify.annotations.Nullable;

/**
 * Judges what arrives after a line was opened: whether its first line is whole, and whether anything can be read at
 * all. Once a line has been read it costs next to nothing.
 *
 * <p>The first line may have begun before the opening. It passes when it can be decoded; in a format that can't show a
 * line to be whole (columns without a required checksum: {@code 50.2} is the end of {@code 1150.2}) it passes only
 * after a silence in front of it.
 */
final class LineJudge {
    /** Several lines of any usual length. */
    static final int DOUBT_BYTES = 2_048;

    private static final int REASON_CHARACTERS = 120;

    private final FrameDecoder decoder;
    private final boolean showsWholeness;
    private boolean first;
    private boolean silenceBefore;
    private boolean anyBytes;
    private boolean proven;
    private String lastReason = "";
    // Written by the reading thread, read by whoever asks for the status.
    private volatile long unreadableBytes;

    private volatile String doubt = "";

    LineJudge(FrameDecoder decoder, FrameFormat format) {
        this.decoder = decoder;
        this.showsWholeness =
                !(format instanceof FrameFormat.Columns columns) || columns.checksum() == ChecksumPolicy.REQUIRED;
    }

    FrameDecoder decoder() {
        return decoder;
    }

    /** The line was opened. */
    void opened() {
        first = true;
        silenceBefore = false;
        anyBytes = false;
        begin();
    }

    /** A read ended with {@code count} bytes, 0 after a silence of 200 ms. */
    void read(int count) {
        if (count == 0) {
            silenceBefore |= !anyBytes;
            return;
        }
        anyBytes = true;
        long unreadable = unreadableBytes + count;
        unreadableBytes = unreadable;
        if (proven && unreadable > 2L * DOUBT_BYTES + LineCutter.LIMIT_BYTES) {
            proven = false; // no line end for longer than any line: look closely again
        }
        if (!proven && unreadable >= DOUBT_BYTES) {
            doubt = "nothing readable in " + unreadable + " bytes: is the baud rate right?"
                    + (lastReason.isEmpty() ? "" : " Last refused: " + lastReason);
        }
    }

    /** A line was too long to be one. */
    void overlong() {
        first = false;
        proven = false;
        lastReason = "a line over " + LineCutter.LIMIT_BYTES + " bytes";
    }

    /** Whether {@code line} is to be handed on; a bad line is too, unless it is the rest of one begun earlier. */
    boolean passes(byte[] line, WallTime receiptTime) {
        boolean wasFirst = first;
        first = false;
        if (wasFirst && !showsWholeness && !silenceBefore) {
            return false;
        }
        if (proven && looksLikeText(line)) {
            unreadableBytes = 0;
            return true;
        }
        String reason = refusal(line, receiptTime);
        if (reason == null) {
            begin();
            proven = true;
            return true;
        }
        lastReason = reason;
        return !wasFirst;
    }

    /** Why there is reason to think that the line can't be read; empty when there is none. */
    String doubt() {
        return doubt;
    }

    private void begin() {
        proven = false;
        unreadableBytes = 0;
        lastReason = "";
        doubt = "";
    }

    private @Nullable String refusal(byte[] line, WallTime receiptTime) {
        try {
            decoder.decode(line, receiptTime);
            return null;
        } catch (BadFrameException | RuntimeException e) { // a decoder's slip is the ledger's to report
            String message = String.valueOf(e.getMessage());
            return message.length() <= REASON_CHARACTERS ? message : message.substring(0, REASON_CHARACTERS) + "…";
        }
    }

    /** Whether a line has no control characters but tabs: a wrong baud rate makes many. */
    private static boolean looksLikeText(byte[] line) {
        for (byte b : line) {
            if (b >= 0 && b < ' ' && b != '\t') {
                return false;
            }
        }
        return true;
    }
}
