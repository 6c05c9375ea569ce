package org.bankfire.daemon.acquire;

/**
 * A source of readings. It runs on a thread of its own from {@link #start} to {@link #close} and recovers by itself from
 * whatever happens to its line.
 */
public interface Source extends AutoCloseable {
    /** Name for the reader, such as {@code serial /dev/ttyUSB0}. */
    String name();

    /** Begins to deliver; returns at once, connected or not. */
    void start(DeliveryQueue queue);

    SourceStatus status();

    /** Stops delivering, within two seconds. */
    @Override
    void close();
}
