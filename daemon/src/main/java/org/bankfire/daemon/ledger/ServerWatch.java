package org.bankfire.daemon.ledger;

import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ServerLag;

/**
 * Judges when somebody has to know that the database server is behind: it takes nothing, or less than comes, or so much
 * waited for it that readings had to be dropped. The alarm goes when it has caught up.
 */
final class ServerWatch {
    /** A server that is started anew is away for some seconds, and nothing is lost meanwhile. */
    static final double AWAY_S = 60;

    /** A server that takes what comes, but ever later, will not do so for long; a look at old readings is late till then. */
    static final double BEHIND_S = 900;

    /** Posts are under way all the time, so that a little always waits. */
    static final double CAUGHT_UP_S = 10;

    private boolean active;
    private boolean toldDrop;
    private long seenDropped;

    /**
     * What is to be told.
     *
     * @param active whether the condition is there
     * @param value readings and entries that wait
     */
    record Word(boolean active, double value, String why) {}

    /** What is new, in order; usually nothing. */
    List<Word> look(ServerLag lag) {
        List<Word> words = new ArrayList<>();
        boolean dropping = lag.lastDropped().isPresent() && lag.dropped() > seenDropped;
        seenDropped = lag.dropped();
        if (active && !dropping && lag.reachable() && (lag.rows() == 0 || lag.behindS() < CAUGHT_UP_S)) {
            active = false;
            toldDrop = false;
            words.add(new Word(false, lag.rows(), "the database has caught up with what is stored here"));
        } else if (dropping && !toldDrop) {
            // Told once while it stands, though more may be dropped every second.
            if (active) {
                words.add(new Word(false, lag.rows(), "more waits for the database than may wait"));
            }
            active = true;
            toldDrop = true;
            words.add(new Word(
                    true,
                    lag.rows(),
                    "readings are being dropped before the database has them, the oldest first, since more waits for it"
                            + " than spool-limit allows; " + state(lag)));
        } else if (!active && lag.behindS() >= (lag.reachable() ? BEHIND_S : AWAY_S)) {
            active = true;
            words.add(new Word(true, lag.rows(), state(lag)));
        }
        return words;
    }

    private static String state(ServerLag lag) {
        String waits = lag.rows() + " readings and entries wait here, the oldest for " + minutes(lag.behindS());
        return lag.awaySince()
                .map(since ->
                        "the database has taken nothing since " + seconds(since) + ", " + waits + ": " + lag.message())
                .orElse("the database takes less than comes: " + waits);
    }

    private static String minutes(double seconds) {
        return Math.round(seconds / 60) + " min";
    }

    private static String seconds(WallTime time) {
        return time.toInstant().truncatedTo(ChronoUnit.SECONDS).toString();
    }
}
