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

    /**
     * To be called, on any thread, instead of {@link #stored} when something in the frame was dropped before it could be
     * stored and the store works again: only another delivery can bring it.
     */
    default Runnable dropped() {
        return NO_ACKNOWLEDGEMENT;
    }

    /** Bytes that the ledger still has to decode. */
    @SuppressWarnings("ArrayRecordComponent") // handed over, never compared
    record Raw(
            Source source, FrameDecoder decoder, byte[] bytes, WallTime receiptTime, Runnable stored, Runnable dropped)
            implements Delivery {
        /** Of a source that can't deliver anything again. */
        public Raw(Source source, FrameDecoder decoder, byte[] bytes, WallTime receiptTime, Runnable stored) {
            this(source, decoder, bytes, receiptTime, stored, NO_ACKNOWLEDGEMENT);
        }
    }

    /** A pack that needs no decoding. */
    record Decoded(Source source, Pack pack, Runnable stored) implements Delivery {}

    /** For sources that need no word of it. */
    Runnable NO_ACKNOWLEDGEMENT = () -> {};
}
