package org.bankfire.analysis.monitor;

/** Reads the running number of a source's lines: how many were lost, whether it began again. */
final class SequenceWatch {
    /** Answer when the source began to count anew. */
    static final long RESTARTED = -1;

    /** Counters of these widths wrap to zero. */
    private static final long[] HIGHEST = {(1L << 8) - 1, (1L << 16) - 1, (1L << 32) - 1};

    /** Within so many of the end a return to the beginning is a wrap with losses; not for a byte, which is all near its end. */
    private static final long NEAR = 100;

    private boolean known;
    private long last;

    /** Whether the number follows the last one, lost lines or not. */
    boolean goesOn(double number) {
        return known && number > last;
    }

    /** Lines lost before this one, 0 or more, or {@link #RESTARTED}. */
    long accept(double number) {
        if (!(number >= 0 && number < 1e15) || number != Math.rint(number)) {
            return 0;
        }
        long next = (long) number;
        if (!known) {
            known = true;
            last = next;
            return 0;
        }
        long lost = between(last, next);
        last = next;
        return lost;
    }

    private static long between(long last, long next) {
        if (next > last) {
            return next - last - 1;
        }
        if (next == last) {
            return 0;
        }
        for (long highest : HIGHEST) {
            long before = highest - last;
            boolean wraps = highest == HIGHEST[0] ? before == 0 && next == 0 : before < NEAR && next < NEAR;
            if (before >= 0 && wraps) {
                return before + next;
            }
        }
        return RESTARTED;
    }
}
