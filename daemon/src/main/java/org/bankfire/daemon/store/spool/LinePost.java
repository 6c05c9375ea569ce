package org.bankfire.daemon.store.spool;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ServerRefusedException;
import org.bankfire.daemon.store.ServerTarget;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.sqlite.RefusedLine;

/**
 * Lines that are posted from the first to the last. When the server refuses them, they are halved again and again until the
 * lines stand alone that it does not want; all others are taken. The same serves a server that finds a post too large.
 */
final class LinePost {
    /**
     * Posts before what was found is noted: less than a second of work for a server near by, and far more than the
     * halvings that lead to the first line that is taken or refused.
     */
    static final int MOST_TRIES = 100;

    /** As much of a refused line as is kept: a fit's may have megabytes. */
    private static final int MOST_KEPT = 2_000;

    private final ServerTarget server;
    private final WallTime now;
    private final List<RefusedLine> refused = new ArrayList<>();
    private int tries;
    private int done;

    /** @param now when refused lines are said to have been refused */
    LinePost(ServerTarget server, WallTime now) {
        this.server = server;
        this.now = now;
    }

    /**
     * Posts {@code lines} until the server has taken or refused each of them, or {@value #MOST_TRIES} posts are made.
     *
     * @throws StoreException when the server is away
     */
    void post(List<String> lines) throws StoreException {
        if (lines.isEmpty() || tries >= MOST_TRIES) {
            return;
        }
        tries++;
        try {
            server.write(lines);
            done += lines.size();
        } catch (ServerRefusedException e) {
            if (lines.size() == 1) {
                String line = lines.get(0);
                refused.add(new RefusedLine(
                        now, line.substring(0, Math.min(MOST_KEPT, line.length())), String.valueOf(e.getMessage())));
                done++;
                return;
            }
            // No deeper than the logarithm of the number of lines.
            int middle = lines.size() / 2;
            post(lines.subList(0, middle));
            post(lines.subList(middle, lines.size()));
        }
    }

    /** How many of the lines, from the first, the server has taken or refused, also when it went away in between. */
    int done() {
        return done;
    }

    /** Lines that the server did not want. */
    List<RefusedLine> refused() {
        return refused;
    }
}
