package org.bankfire.daemon.lifecycle;

import java.time.Instant;
import java.util.Optional;
import java.util.function.Supplier;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.config.StoreConfig;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.ServerLag;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.influx.InfluxServer;
import org.bankfire.daemon.store.influx.LineEncoder;
import org.bankfire.daemon.store.spool.SpooledStore;
import org.bankfire.daemon.store.sqlite.SqliteStore;

/** Opens the store that a configuration asks for. */
public final class Stores {
    private Stores() {}

    /**
     * Opens it for this process alone.
     *
     * @param clock wall time of now
     * @throws StoreException when its file cannot be opened, or the server's password cannot be read; never because the
     *     server is away
     */
    public static ReadingStore open(BankfireConfig config, Supplier<WallTime> clock) throws StoreException {
        StoreConfig store = config.store();
        StoreConfig.Server server = store.server();
        if (server == null) {
            return SqliteStore.open(store.path());
        }
        InfluxServer influx = new InfluxServer(server.influx());
        try {
            return SpooledStore.open(
                    store.path(),
                    influx,
                    new LineEncoder(() -> clock.get().epochMicros()),
                    bounds(store, server),
                    config.forges().stream().map(ForgeConfig::id).toList(),
                    clock);
        } catch (StoreException | RuntimeException failure) {
            influx.close();
            throw failure;
        }
    }

    /** As above, with the clock of this machine. */
    public static ReadingStore open(BankfireConfig config) throws StoreException {
        return open(config, () -> WallTime.of(Instant.now()));
    }

    /** Opens it to look at, also while a daemon writes to it. */
    public static ReadingStore openReadOnly(BankfireConfig config) throws StoreException {
        StoreConfig store = config.store();
        StoreConfig.Server server = store.server();
        if (server == null) {
            return SqliteStore.openReadOnly(store.path());
        }
        InfluxServer influx = new InfluxServer(server.influx());
        try {
            return SpooledStore.openReadOnly(store.path(), influx, bounds(store, server));
        } catch (StoreException | RuntimeException failure) {
            influx.close();
            throw failure;
        }
    }

    /** How far a server is behind the store; empty when there is none. */
    static Optional<ServerLag> lag(ReadingStore store) {
        return store instanceof SpooledStore spooled ? spooled.lag() : Optional.empty();
    }

    private static SpooledStore.Bounds bounds(StoreConfig store, StoreConfig.Server server) {
        return new SpooledStore.Bounds(store.keepReadings(), server.keepLocal(), server.spoolLimitBytes());
    }
}
