package org.bankfire.daemon.ledger;

import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ServerLag;

/**
 * Judges when somebody has to know that the database server does not get what is stored here: it takes nothing, or less
 * than comes, or refuses lines, or so much waited for it that readings had to be set aside. The alarm goes when it has caught
 * up, and has refused nothing for a while.
 */
final class ServerWatch {
    /** A server that is started anew is away for some seconds, and nothing is lost meanwhile. */
    static final double AWAY_S = 60;

    /** A server that takes what comes, but ever later, will not do so for long; a look at old readings is late till then. */
    static final double BEHIND_S = 900;

    /** Posts are under way all the time, so that a little always waits. */
    static final double CAUGHT_UP_S = 10;

    /** What is refused now and then, as one channel's readings of each time that it is asked, is one alarm and not many. */
    static final double REFUSED_S = 900;

    /** Why it stands; a graver reason calls anew. */
    private enum Reason {
        NONE,
        REFUSING,
        BEHIND,
        DROPPING
    }

    private Reason told = Reason.NONE;
    private long seenDropped;

    /**
     * What is to be told.
     *
     * @param active whether the condition is there
     * @param value readings and entries that wait
     */
    record Word(boolean active, double value, String why) {}

    /** What is new at {@code now}, in order; usually nothing. */
    List<Word> look(ServerLag lag, WallTime now) {
        Reason found = reason(lag, now);
        seenDropped = lag.dropped();
        // Told once while it stands, though there may be more of it every second; until it has caught up it stands.
        if (found == told || (found.compareTo(told) < 0 && !caughtUp(lag))) {
            return List.of();
        }
        List<Word> words = new ArrayList<>();
        if (told != Reason.NONE) {
            words.add(new Word(false, lag.rows(), end(found)));
        }
        if (found != Reason.NONE) {
            words.add(new Word(true, lag.rows(), why(found, lag)));
        }
        told = found;
        return words;
    }

    private Reason reason(ServerLag lag, WallTime now) {
        if (lag.lastDropped().isPresent() && lag.dropped() > seenDropped) {
            return Reason.DROPPING;
        }
        if (lag.behindS() >= (lag.reachable() ? BEHIND_S : AWAY_S)) {
            return Reason.BEHIND;
        }
        return refusedLately(lag, now) ? Reason.REFUSING : Reason.NONE;
    }

    private static boolean caughtUp(ServerLag lag) {
        return lag.reachable() && (lag.rows() == 0 || lag.behindS() < CAUGHT_UP_S);
    }

    private static boolean refusedLately(ServerLag lag, WallTime now) {
        // A clock that was set back must not make the alarm stand for hours.
        return lag.lastRefused()
                .filter(last -> now.secondsSince(last) < REFUSED_S && !now.isBefore(last))
                .isPresent();
    }

    private static String end(Reason next) {
        return switch (next) {
            case NONE -> "the database has caught up with what is stored here";
            case REFUSING -> "the database takes what comes, but for what it refuses";
            case BEHIND -> "the database no longer keeps up";
            case DROPPING -> "more waits for the database than may wait";
        };
    }

    private static String why(Reason reason, ServerLag lag) {
        return switch (reason) {
            case DROPPING ->
                "more waits for the database than spool-limit allows: the oldest readings are set aside, and come from"
                        + " the local file, slowly, when it has caught up; " + state(lag);
            case REFUSING ->
                "the database refuses lines, " + lag.refused() + " so far; it will not have them, they are kept in the"
                        + " local file. Of the last it said: " + lag.lastRefusal();
            case BEHIND, NONE -> state(lag);
        };
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
