package org.bankfire.daemon.bridge;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import java.util.function.DoubleSupplier;
import java.util.function.Supplier;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.ForgeFace;
import org.bankfire.dashboard.source.ForgeFeed;
import org.bankfire.dashboard.source.SnapshotLag;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The latest snapshot of every forge: written by the ledger thread, read by anybody. */
public final class SnapshotHub implements ForgeFeed {
    private static final Logger log = LoggerFactory.getLogger(SnapshotHub.class);

    private final List<ForgeFace> forges;
    private final Supplier<WallTime> clock;
    private final DoubleSupplier silentS;
    private final Map<String, ForgeSnapshot> latest = new ConcurrentHashMap<>();
    private final LagCounter lag = new LagCounter();
    private final List<Consumer<ForgeSnapshot>> listeners = new CopyOnWriteArrayList<>();

    /**
     * A hub without snapshots yet.
     *
     * @param silentS since the last beat of the ledger's heart, s
     */
    public SnapshotHub(List<ForgeFace> forges, Supplier<WallTime> clock, DoubleSupplier silentS) {
        this.forges = List.copyOf(forges);
        this.clock = clock;
        this.silentS = silentS;
    }

    /** Makes {@code snapshot} the latest of its forge and tells the listeners. */
    public void publish(ForgeSnapshot snapshot) {
        lag.count(latest.put(snapshot.forge(), snapshot), snapshot, clock);
        for (Consumer<ForgeSnapshot> listener : listeners) {
            try {
                listener.accept(snapshot);
            } catch (RuntimeException failure) {
                log.warn("a listener failed on a snapshot of {}", snapshot.forge(), failure);
            }
        }
    }

    @Override
    public List<ForgeFace> forges() {
        return forges;
    }

    @Override
    public Optional<ForgeSnapshot> snapshot(String forge) {
        return Optional.ofNullable(latest.get(forge));
    }

    @Override
    public WallTime now() {
        return clock.get();
    }

    @Override
    public double judgedAgoS() {
        return silentS.getAsDouble();
    }

    @Override
    public SnapshotLag lag() {
        return lag.lag();
    }

    @Override
    public Subscription subscribe(Consumer<ForgeSnapshot> listener) {
        listeners.add(listener);
        return () -> listeners.remove(listener);
    }
}
