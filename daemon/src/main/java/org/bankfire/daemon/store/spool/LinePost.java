package org.bankfire.daemon.store.spool;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ServerRefusedException;
import org.bankfire.daemon.store.ServerTarget;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.sqlite.RefusedLine;

/**
 * One post of lines. When the server refuses it, it is halved again and again until the lines stand alone that it does not
 * want; all others are taken. The same serves a server that finds a post too large.
 */
final class LinePost {
    /** As much of a refused line as is kept: a fit's may have megabytes. */
    private static final int MOST_KEPT = 2_000;

    private final ServerTarget server;
    private final WallTime now;
    private final List<RefusedLine> refused = new ArrayList<>();

    /** @param now when refused lines are said to have been refused */
    LinePost(ServerTarget server, WallTime now) {
        this.server = server;
        this.now = now;
    }

    /**
     * Posts {@code lines}; when it returns, the server has all but those it refused.
     *
     * @throws StoreException when the server is away; the whole is to be posted again
     */
    void post(List<String> lines) throws StoreException {
        if (lines.isEmpty()) {
            return;
        }
        try {
            server.write(lines);
        } catch (ServerRefusedException e) {
            if (lines.size() == 1) {
                String line = lines.get(0);
                refused.add(new RefusedLine(
                        now, line.substring(0, Math.min(MOST_KEPT, line.length())), String.valueOf(e.getMessage())));
                return;
            }
            // No deeper than the logarithm of the number of lines.
            int middle = lines.size() / 2;
            post(lines.subList(0, middle));
            post(lines.subList(middle, lines.size()));
        }
    }

    /** Lines that the server did not want. */
    List<RefusedLine> refused() {
        return refused;
    }
}
