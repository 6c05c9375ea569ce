package org.bankfire.daemon.acquire;

import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.BadFrameException;
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

    /**
     * What it says.
     *
     * @throws BadFrameException when it is not what its source's format allows
     */
    Pack pack() throws BadFrameException;

    /** Bytes that the ledger still has to decode. */
    @SuppressWarnings("ArrayRecordComponent") // handed over, never compared
    record Raw(
            Source source, FrameDecoder decoder, byte[] bytes, WallTime receiptTime, Runnable stored, Runnable dropped)
            implements Delivery {
        /** Of a source that can't deliver anything again. */
        public Raw(Source source, FrameDecoder decoder, byte[] bytes, WallTime receiptTime, Runnable stored) {
            this(source, decoder, bytes, receiptTime, stored, NO_ACKNOWLEDGEMENT);
        }

        @Override
        public Pack pack() throws BadFrameException {
            return decoder.decode(bytes, receiptTime);
        }
    }

    /**
     * A pack that needs no decoding.
     *
     * @param frames that it counts for: 1, or 0 where it is a further part of a frame that was counted
     */
    record Decoded(Source source, Pack pack, Runnable stored, Runnable dropped, int frames) implements Delivery {
        /** Of a source that can't deliver anything again. */
        public Decoded(Source source, Pack pack, Runnable stored) {
            this(source, pack, stored, NO_ACKNOWLEDGEMENT, 1);
        }
    }

    /** For sources that need no word of it. */
    Runnable NO_ACKNOWLEDGEMENT = () -> {};
}
