package org.bankfire.daemon.acquire.replay;

/** The passing of real time, apart so that tests need none. */
interface Pacer {
    /** Nanoseconds since some fixed moment, never backwards. */
    long nanoTime();

    /** Waits; interrupting ends it at once. */
    void sleep(long nanos) throws InterruptedException;

    /** The real one. */
    Pacer SYSTEM = new Pacer() {
        @Override
        public long nanoTime() {
            return System.nanoTime();
        }

        @Override
        public void sleep(long nanos) throws InterruptedException {
            java.util.concurrent.TimeUnit.NANOSECONDS.sleep(nanos);
        }
    };
}
