package org.bankfire.daemon.acquire;

import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.Pack;

/** One frame on its way from a source to the ledger. */
public sealed interface Delivery {
    /** The source that delivered it. */
    Source source();

    /** To be called, on any thread, once everything in the frame is in the store. */
    Runnable stored();

    /** Bytes that the ledger still has to decode. */
    @SuppressWarnings("ArrayRecordComponent") // handed over, never compared
    record Raw(Source source, FrameDecoder decoder, byte[] bytes, WallTime receiptTime, Runnable stored)
            implements Delivery {}

    /** A pack that needs no decoding. */
    record Decoded(Source source, Pack pack, Runnable stored) implements Delivery {}

    /** For sources that need no word of it. */
    Runnable NO_ACKNOWLEDGEMENT = () -> {};
}
