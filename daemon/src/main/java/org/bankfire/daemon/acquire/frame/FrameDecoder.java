package org.bankfire.daemon.acquire.frame;

import org.bankfire.analysis.reading.WallTime;

/** Turns the bytes of one frame into a pack: pure, so the same bytes and time give the same pack. */
public interface FrameDecoder {
    /**
     * Decodes one frame.
     *
     * @param bytes one line without its line end, or one message
     * @param receiptTime when it was received; the time of records that carry none
     * @throws BadFrameException when nothing of it can be used; its message says where and why
     */
    Pack decode(byte[] bytes, WallTime receiptTime) throws BadFrameException;
}
