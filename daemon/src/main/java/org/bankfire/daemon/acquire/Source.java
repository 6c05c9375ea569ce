package org.bankfire.daemon.acquire;

/**
 * A source of readings. It runs on a thread of its own from {@link #start} to {@link #close} and recovers by itself from
 * whatever happens to its line.
 */
public interface Source extends AutoCloseable {
    /** Name for the reader, such as {@code serial /dev/ttyUSB0}. */
    String name();

    /** Begins to deliver; returns at once, connected or not. */
    void start(Intake queue);

    SourceStatus status();

    /**
     * Whether it is one line for many forges that have nothing to do with one another. Frames of a forge that sends more
     * than can be judged are passed over then; else the source waits, and what came behind them with it.
     */
    default boolean isShared() {
        return false;
    }

    /** Stops delivering, within two seconds. */
    @Override
    void close();
}
