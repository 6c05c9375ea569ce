package org.bankfire.daemon.ledger;

import java.util.concurrent.atomic.AtomicLong;

/** What the daemon has seen of one source. Safe for use by many threads. */
public final class FrameCounts {
    private final AtomicLong good = new AtomicLong();
    private final AtomicLong bad = new AtomicLong();
    private final AtomicLong lostLines = new AtomicLong();
    private final AtomicLong passedOver = new AtomicLong();
    private volatile String lastProblem = "";

    void addGood(int frames) {
        good.addAndGet(frames);
    }

    /**
     * Counts a frame, or a part of one, that was passed over because its forge sends more than can be judged.
     *
     * @return how many there are now
     */
    long countPassedOver() {
        return passedOver.incrementAndGet();
    }

    /** Frames, or parts of them, that were passed over because their forge sends more than can be judged. */
    public long passedOver() {
        return passedOver.get();
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
