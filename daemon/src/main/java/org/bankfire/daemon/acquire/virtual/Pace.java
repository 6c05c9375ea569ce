package org.bankfire.daemon.acquire.virtual;

import java.util.concurrent.TimeUnit;

/** Monotonic time and the wait for it, so that tests need not sleep. */
public interface Pace {
    /** Monotonic nanoseconds from an arbitrary origin. */
    long nanoTime();

    /** Waits until {@link #nanoTime()} reaches {@code nanoTime}; returns at once when it has. */
    void waitUntil(long nanoTime) throws InterruptedException;

    /** The machine's own. */
    Pace SYSTEM = new Pace() {
        @Override
        public long nanoTime() {
            return System.nanoTime();
        }

        @Override
        public void waitUntil(long nanoTime) throws InterruptedException {
            long left = nanoTime - System.nanoTime();
            if (left > 0) {
                TimeUnit.NANOSECONDS.sleep(left);
            } else if (Thread.interrupted()) {
                throw new InterruptedException();
            }
        }
    };
}
