package org.bankfire.daemon.acquire.serial;

/** An open serial line. */
interface SerialLine extends AutoCloseable {
    /** What {@link #read} returns when the line is gone. */
    int LOST = -1;

    /**
     * Waits at most 200 ms for bytes; returns how many were put into {@code buffer}, 0 when none came, {@link #LOST}
     * when the line is gone.
     */
    int read(byte[] buffer);

    @Override
    void close();

    /** Opens the line, each time anew: after a replug the same path may lead to another device. */
    interface Opener {
        SerialLine open() throws SerialFaultException;
    }
}
