package org.bankfire.daemon.ledger;

import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import org.bankfire.daemon.acquire.Delivery;

/**
 * The word on a frame whose parts are stored apart: given once, when the word on every part has come. When one of them
 * was dropped the whole frame was; the others are stored once however often they come. Safe for use by many threads.
 */
final class PartedWord {
    private final Delivery frame;
    private final AtomicInteger missing;
    private final AtomicBoolean someDropped = new AtomicBoolean();

    /** The word on {@code frame}, which has so many parts. */
    PartedWord(Delivery frame, int parts) {
        this.frame = frame;
        this.missing = new AtomicInteger(parts);
    }

    /** A part is stored, or will never be wanted. */
    void stored() {
        if (missing.decrementAndGet() == 0) {
            Runnable word = someDropped.get() ? frame.dropped() : frame.stored();
            word.run();
        }
    }

    /** A part was dropped. */
    void dropped() {
        someDropped.set(true);
        stored();
    }
}
