package org.bankfire.daemon.bridge;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.SourceStatus;
import org.bankfire.daemon.ledger.FrameCounts;
import org.bankfire.daemon.ledger.Ledger;
import org.bankfire.daemon.store.ServerLag;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.dashboard.source.DaemonHealth;

/** How sources, ledger and store are. */
public final class DaemonProbe implements DaemonHealth.Probe {
    private final List<Source> sources;
    private final Ledger ledger;
    private final StoreWriter writer;
    private final Supplier<Optional<ServerLag>> serverLag;

    /**
     * Looks at these.
     *
     * @param serverLag how far a database server is behind the store; empty when there is none
     */
    public DaemonProbe(
            List<Source> sources, Ledger ledger, StoreWriter writer, Supplier<Optional<ServerLag>> serverLag) {
        this.serverLag = serverLag;
        this.sources = List.copyOf(sources);
        this.ledger = ledger;
        this.writer = writer;
    }

    @Override
    public DaemonHealth health() {
        List<DaemonHealth.SourceHealth> health = new ArrayList<>();
        boolean allConnected = true;
        for (Source source : sources) {
            SourceStatus status = source.status();
            FrameCounts counts = ledger.counts(source);
            allConnected &= status.connected();
            health.add(new DaemonHealth.SourceHealth(
                    source.name(),
                    status.connected(),
                    detail(status, counts),
                    counts.good(),
                    counts.bad() + status.discarded(),
                    counts.lostLines(),
                    status.reconnects()));
        }
        StoreWriter.Health store = writer.health();
        return new DaemonHealth(
                allConnected && ledger.heartBeatsWell() && store.ok(),
                health,
                new DaemonHealth.LedgerHealth(
                        ledger.heartBeatsWell(), ledger.heart().silentS(), ledger.restarts(), ledger.lastRestart()),
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
        return counts.lastProblem().isEmpty()
                ? status.detail()
                : status.detail() + "; latest bad frame: " + counts.lastProblem();
    }
}
