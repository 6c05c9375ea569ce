package org.bankfire.analysis.alarm;

/**
 * Notices that an alarm comes and goes. One that was raised three times within ten minutes then holds for five minutes
 * after its condition has gone, so that one loose contact cannot use up the ten annunciations in ten minutes that EEMUA
 * 191 calls manageable: at most four of them are its own. Times are event times, µs.
 */
final class Chatter {
    private static final int RAISES = 3;
    private static final long WINDOW = 600_000_000L;
    private static final long HOLD = 300_000_000L;

    private final long[] raises = new long[RAISES];
    private int count;

    void raised(long at) {
        raises[count % RAISES] = at;
        count++;
    }

    /** The off-delay of an alarm whose usual one is {@code delay}, µs. */
    long offDelay(long delay, long at) {
        boolean chatters = count >= RAISES && at - raises[count % RAISES] < WINDOW;
        return chatters ? Math.max(delay, HOLD) : delay;
    }
}
