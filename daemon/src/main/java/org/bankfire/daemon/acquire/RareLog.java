package org.bankfire.daemon.acquire;

import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.event.Level;

/**
 * Messages of one kind, at most one in ten seconds, so that a line full of noise can't fill the disk. Those passed over
 * are counted and told with the next one. Safe for use by many threads.
 */
public final class RareLog {
    /** Seldom enough for months of log (under 9,000 lines a day at worst), soon enough for who watches it. */
    private static final double INTERVAL_S = 10;

    private final Logger logger;
    private final ReceiptClock clock;
    private @Nullable MonotonicTime last;
    private long passedOver;

    public RareLog(Logger logger, ReceiptClock clock) {
        this.logger = logger;
        this.clock = clock;
    }

    /** Logs {@code message} as a warning, or counts it. */
    public void warn(String message) {
        log(Level.WARN, message);
    }

    /** Logs {@code message} as information, or counts it. */
    public void info(String message) {
        log(Level.INFO, message);
    }

    private synchronized void log(Level level, String message) {
        MonotonicTime now = clock.monotonic();
        if (last != null && now.secondsSince(last) < INTERVAL_S) {
            passedOver++;
            return;
        }
        String more = passedOver == 0 ? "" : " (and " + passedOver + " like it since the last one)";
        logger.atLevel(level).log("{}{}", message, more);
        last = now;
        passedOver = 0;
    }
}
