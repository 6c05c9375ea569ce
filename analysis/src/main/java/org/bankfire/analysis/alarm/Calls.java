package org.bankfire.analysis.alarm;

/**
 * How often the alarms of one forge have called of late. From the fourth call within ten minutes on, whatever has gone
 * stands until fewer have called, so that only what was not there can call. Four leave room for six that are new within
 * the ten that EEMUA 191 calls manageable; nothing that comes is ever held back. The price: what stands and is acknowledged
 * does not call again when it comes back meanwhile, which is why latched alarms and unburnt gas are exempt. Times are event
 * times, µs.
 */
final class Calls {
    private static final int MANY = 4;
    private static final long WINDOW = 600_000_000L;

    private final long[] latest = new long[MANY];
    private int count;

    void called(long at) {
        latest[count % MANY] = at;
        count++;
    }

    /** The off-delay of an alarm whose own is {@code delay}, µs. */
    long offDelay(long delay, long at) {
        return count < MANY ? delay : Math.max(delay, latest[count % MANY] + WINDOW - at);
    }
}
