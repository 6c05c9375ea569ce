package org.bankfire.dashboard.source;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.reading.WallTime;

/**
 * How the daemon itself is.
 *
 * @param ready whether every part that it needs to log and to alarm works
 * @param sources the sources of readings
 * @param ledger the thread that judges the readings
 * @param storeState {@code ok}, or what is wrong, in words
 * @param readingsStored since the start
 * @param storeBacklog readings taken and not yet stored
 * @param server the database server behind the store; empty when there is none
 */
public record DaemonHealth(
        boolean ready,
        List<SourceHealth> sources,
        LedgerHealth ledger,
        String storeState,
        long readingsStored,
        long storeBacklog,
        Optional<ServerHealth> server) {
    public DaemonHealth {
        sources = List.copyOf(sources);
    }

    /**
     * The thread that judges the readings.
     *
     * @param beating whether it runs and gets on
     * @param judgedAgoS since it last went round, s
     * @param restarts times that it hung or ended and was replaced
     * @param lastRestart why it was replaced last; empty when it never was
     * @param unwatched forges that are kept and not watched any more
     */
    public record LedgerHealth(
            boolean beating, double judgedAgoS, long restarts, String lastRestart, List<UnwatchedForge> unwatched) {
        public LedgerHealth {
            unwatched = List.copyOf(unwatched);
        }
    }

    /**
     * A forge that is not watched.
     *
     * @param forge its id
     * @param why it is not, and what to do, in whole sentences
     */
    public record UnwatchedForge(String forge, String why) {}

    /**
     * One source of readings.
     *
     * @param name such as {@code serial /dev/ttyUSB0}
     * @param connected whether it can deliver
     * @param detail in words
     * @param frames good frames since the start
     * @param badFrames frames that could not be read
     * @param lostLines lines that the running number says are missing
     * @param reconnects times that it came back
     */
    public record SourceHealth(
            String name,
            boolean connected,
            String detail,
            long frames,
            long badFrames,
            long lostLines,
            long reconnects) {}

    /**
     * The database server that is told what the daemon stores.
     *
     * @param reachable whether it takes what comes
     * @param waiting readings and entries that it does not have yet
     * @param waitingBytes what these take on the daemon's disk
     * @param behindS how long the oldest of them has waited, s; 0 when none waits
     * @param awaySince since when it has taken nothing; empty when it does
     * @param detail what is wrong, in words; empty when nothing is
     * @param dropped readings that were set aside, since too much waited; they come from the daemon's file later
     * @param refused what it did not want
     * @param lastRefusal what it said of the last of these; empty when there was none since the start
     */
    public record ServerHealth(
            boolean reachable,
            long waiting,
            long waitingBytes,
            double behindS,
            Optional<WallTime> awaySince,
            String detail,
            long dropped,
            long refused,
            String lastRefusal) {}

    /** Gives the present health; safe for use by many threads. */
    public interface Probe {
        DaemonHealth health();
    }
}
