package org.bankfire.daemon.store.spool;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.daemon.store.ServerTarget;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreQueries;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Takes up forges' log books from the server, once for each forge: on a new machine the file is empty, and settings,
 * alarms that stand and earlier burns would be unknown.
 */
final class LogBookTaker {
    private static final Logger LOG = LoggerFactory.getLogger(LogBookTaker.class);

    private final SqliteStore local;
    private final ServerTarget server;
    private final Duration keepReadings;

    /** @param keepReadings how long the server keeps readings */
    LogBookTaker(SqliteStore local, ServerTarget server, Duration keepReadings) {
        this.local = local;
        this.server = server;
        this.keepReadings = keepReadings;
    }

    /** Of those forges whose log book was not taken up yet. */
    void takeUp(List<String> forges) throws StoreException {
        for (String forge : forges) {
            if (!local.spool().takenUp(forge)) {
                if (server.needsSetUp()) {
                    server.setUp(keepReadings);
                }
                StoreBatch entries = entries(forge);
                local.takeUp(entries, server.channels(forge));
                local.spool().noteTakenUp(forge);
                if (entries.size() > 0) {
                    LOG.info("{}: {} entries of the log book taken up from the database", forge, entries.size());
                }
            }
        }
    }

    /** All of the forge's entries on the server; of burns and fits only those that the file does not have. */
    private StoreBatch entries(String forge) throws StoreException {
        Set<String> known =
                local.burns(forge, Integer.MAX_VALUE).stream().map(Burn::id).collect(Collectors.toSet());
        List<Burn> burns = new ArrayList<>();
        List<StoredFit> fits = new ArrayList<>();
        for (Burn burn : server.burns(forge, Integer.MAX_VALUE)) {
            if (!known.contains(burn.id())) {
                burns.add(burn);
                server.fit(burn.id()).ifPresent(fits::add);
            }
        }
        StoreBatch ofLog = entriesButBurns(server, forge);
        return new StoreBatch(List.of(), ofLog.notes(), ofLog.settings(), ofLog.transitions(), burns, fits);
    }

    /** What the file holds of a forge's log book, for a server that was never told. */
    static StoreBatch all(StoreQueries store, String forge) throws StoreException {
        List<Burn> burns = store.burns(forge, Integer.MAX_VALUE);
        List<StoredFit> fits = new ArrayList<>();
        for (Burn burn : burns) {
            store.fit(burn.id()).ifPresent(fits::add);
        }
        StoreBatch ofLog = entriesButBurns(store, forge);
        return new StoreBatch(List.of(), ofLog.notes(), ofLog.settings(), ofLog.transitions(), burns, fits);
    }

    private static StoreBatch entriesButBurns(StoreQueries store, String forge) throws StoreException {
        return new StoreBatch(
                List.of(),
                store.notes(forge, TimeRange.ALL),
                store.settings(forge, TimeRange.ALL),
                store.alarmTransitions(forge, TimeRange.ALL),
                List.of());
    }
}
