package org.bankfire.daemon.store.spool;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
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
    void post(byte[] lines) throws StoreException {
        post(lines, 0, lines.length);
    }

    /** Lines that the server did not want. */
    List<RefusedLine> refused() {
        return refused;
    }

    private void post(byte[] lines, int from, int to) throws StoreException {
        if (from == to) {
            return;
        }
        byte[] part = from == 0 && to == lines.length ? lines : Arrays.copyOfRange(lines, from, to);
        try {
            server.write(part);
        } catch (ServerRefusedException e) {
            int middle = middle(lines, from, to);
            if (middle == to) {
                int kept = Math.min(MOST_KEPT, to - from);
                refused.add(new RefusedLine(
                        now,
                        new String(lines, from, kept, StandardCharsets.UTF_8).strip(),
                        String.valueOf(e.getMessage())));
                return;
            }
            // No deeper than the logarithm of the length.
            post(lines, from, middle);
            post(lines, middle, to);
        }
    }

    /** Where a line begins near the middle; {@code to} when there is only one line. */
    private static int middle(byte[] lines, int from, int to) {
        int half = from + (to - from) / 2;
        for (int i = half; i < to - 1; i++) {
            if (lines[i] == '\n') {
                return i + 1;
            }
        }
        for (int i = half - 1; i >= from; i--) {
            if (lines[i] == '\n') {
                return i + 1;
            }
        }
        return to;
    }
}
