package org.bankfire.daemon.store.spool;

import java.util.ArrayDeque;
import java.util.Deque;

/** Closes what a test opened, the last first. */
final class Closer {
    private final Deque<AutoCloseable> opened = new ArrayDeque<>();

    <T extends AutoCloseable> T add(T resource) {
        opened.push(resource);
        return resource;
    }

    int size() {
        return opened.size();
    }

    void closeAll() throws Exception {
        while (!opened.isEmpty()) {
            opened.pop().close();
        }
    }
}
