package org.bankfire.daemon.ledger;

import java.util.concurrent.atomic.AtomicLong;

/** What the ledger has seen of one source; written by the ledger thread, read by anybody. */
public final class FrameCounts {
    private final AtomicLong good = new AtomicLong();
    private final AtomicLong bad = new AtomicLong();
    private final AtomicLong lostLines = new AtomicLong();
    private volatile String lastProblem = "";

    void countGood() {
        good.incrementAndGet();
    }

    /**
     * Counts a frame that could not be used.
     *
     * @return how many there are now
     */
    long countBad(String problem) {
        lastProblem = problem;
        return bad.incrementAndGet();
    }

    void addLostLines(long lines) {
        lostLines.addAndGet(lines);
    }

    public long good() {
        return good.get();
    }

    public long bad() {
        return bad.get();
    }

    public long lostLines() {
        return lostLines.get();
    }

    /** Why the latest bad frame was refused; empty when there was none. */
    public String lastProblem() {
        return lastProblem;
    }
}
