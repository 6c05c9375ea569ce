package org.bankfire.daemon.command;

import java.nio.file.Path;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.spool.SpooledStore;

/** Sees to it that what a command stored gets to the database server, where there is one. */
final class ServerDrain {
    private ServerDrain() {}

    /** Waits until the server has everything, with progress; when it is away, says that the rest waits. */
    static void drain(ReadingStore store, Path path) {
        if (!(store instanceof SpooledStore spooled)) {
            return;
        }
        long total = spooled.lag().orElseThrow().rows();
        Progress progress = new Progress(total);
        long left;
        try {
            left = spooled.drain(waiting -> progress.show(Math.max(0, total - waiting)));
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
            left = spooled.lag().orElseThrow().rows();
        }
        progress.end();
        if (left > 0) {
            System.err.println(left + " readings and entries wait in " + path
                    + " for the database server; the daemon brings" + " them, or the next import. "
                    + spooled.lag().orElseThrow().message());
        }
    }
}
