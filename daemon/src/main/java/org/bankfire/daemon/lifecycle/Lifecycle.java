package org.bankfire.daemon.lifecycle;

import java.util.ArrayDeque;
import java.util.Deque;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Parts that were started, to be stopped in the opposite order. Every part is stopped even when another fails to; the
 * failures are collected.
 */
public final class Lifecycle implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(Lifecycle.class);

    private final Deque<Part> started = new ArrayDeque<>();

    private record Part(String name, AutoCloseable part) {}

    /** Takes over the stopping of {@code part}, which has just been started. */
    public synchronized <T extends AutoCloseable> T add(String name, T part) {
        started.push(new Part(name, part));
        return part;
    }

    /** Stops everything; a second call finds nothing left to stop. */
    @Override
    public synchronized void close() {
        while (!started.isEmpty()) {
            Part part = started.pop();
            try {
                part.part.close();
            } catch (Exception failure) {
                log.error("{} did not stop cleanly: {}", part.name, failure.getMessage(), failure);
            }
        }
    }
}
