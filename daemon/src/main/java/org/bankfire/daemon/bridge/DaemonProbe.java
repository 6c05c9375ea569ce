package org.bankfire.daemon.bridge;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.SourceStatus;
import org.bankfire.daemon.ledger.FrameCounts;
import org.bankfire.daemon.ledger.Ledgers;
import org.bankfire.daemon.ledger.SourceCounts;
import org.bankfire.daemon.store.ServerLag;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.dashboard.source.DaemonHealth;

/** How sources, ledger and store are. */
public final class DaemonProbe implements DaemonHealth.Probe {
    private final List<Source> sources;
    private final Ledgers ledgers;
    private final SourceCounts counts;
    private final StoreWriter writer;
    private final Supplier<Optional<ServerLag>> serverLag;

    /**
     * Looks at these.
     *
     * @param serverLag how far a database server is behind the store; empty when there is none
     */
    public DaemonProbe(
            List<Source> sources,
            Ledgers ledgers,
            SourceCounts counts,
            StoreWriter writer,
            Supplier<Optional<ServerLag>> serverLag) {
        this.serverLag = serverLag;
        this.sources = List.copyOf(sources);
        this.ledgers = ledgers;
        this.counts = counts;
        this.writer = writer;
    }

    @Override
    public DaemonHealth health() {
        List<DaemonHealth.SourceHealth> health = new ArrayList<>();
        boolean allConnected = true;
        for (Source source : sources) {
            SourceStatus status = source.status();
            FrameCounts seen = counts.of(source);
            allConnected &= status.connected();
            health.add(new DaemonHealth.SourceHealth(
                    source.name(),
                    status.connected(),
                    detail(status, seen),
                    seen.good(),
                    seen.bad() + seen.passedOver() + status.discarded(),
                    seen.lostLines(),
                    status.reconnects()));
        }
        StoreWriter.Health store = writer.health();
        List<DaemonHealth.UnwatchedForge> unwatched = new ArrayList<>();
        ledgers.unwatched().forEach((forge, why) -> unwatched.add(new DaemonHealth.UnwatchedForge(forge, why)));
        return new DaemonHealth(
                allConnected && ledgers.heartBeatsWell() && unwatched.isEmpty() && store.ok(),
                health,
                new DaemonHealth.LedgerHealth(
                        ledgers.heartBeatsWell(),
                        ledgers.silentS(),
                        ledgers.restarts(),
                        ledgers.lastRestart(),
                        unwatched),
                store.ok() ? "ok" : store.message(),
                store.stored(),
                store.backlog(),
                serverLag.get().map(DaemonProbe::server));
    }

    private static DaemonHealth.ServerHealth server(ServerLag lag) {
        return new DaemonHealth.ServerHealth(
                lag.reachable(),
                lag.rows(),
                lag.bytes(),
                lag.behindS(),
                lag.awaySince(),
                lag.message(),
                lag.dropped(),
                lag.refused(),
                lag.lastRefusal());
    }

    private static String detail(SourceStatus status, FrameCounts counts) {
        String detail = status.detail();
        if (!counts.lastProblem().isEmpty()) {
            detail += "; latest bad frame: " + counts.lastProblem();
        }
        if (counts.passedOver() > 0) {
            detail += "; frames passed over because their forge sends more than can be judged: " + counts.passedOver();
        }
        return detail;
    }
}
