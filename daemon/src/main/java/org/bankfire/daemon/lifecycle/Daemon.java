package org.bankfire.daemon.lifecycle;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.MonotonicTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.acquire.virtual.VirtualSource;
import org.bankfire.daemon.bridge.DaemonControls;
import org.bankfire.daemon.bridge.DaemonProbe;
import org.bankfire.daemon.bridge.SnapshotHub;
import org.bankfire.daemon.bridge.StoredFits;
import org.bankfire.daemon.bridge.StoredLogBook;
import org.bankfire.daemon.bridge.StoredReports;
import org.bankfire.daemon.bridge.StoredSeries;
import org.bankfire.daemon.bridge.StoredTrials;
import org.bankfire.daemon.bridge.WhatIfDesk;
import org.bankfire.daemon.bridge.WhatIfQueue;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.fitting.BurnWorker;
import org.bankfire.daemon.fitting.FitKeeper;
import org.bankfire.daemon.fitting.KnownForges;
import org.bankfire.daemon.fitting.OutlookKeeper;
import org.bankfire.daemon.fitting.WantedOutlook;
import org.bankfire.daemon.ledger.EventWriter;
import org.bankfire.daemon.ledger.Ledgers;
import org.bankfire.daemon.notify.Outputs;
import org.bankfire.daemon.store.DiskWatch;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.Retention;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.dashboard.DashboardServer;
import org.bankfire.dashboard.DashboardSettings;
import org.bankfire.dashboard.source.Sources;

/**
 * The running daemon: the wiring of all its parts, by hand and in one place. Readings go one way, from the sources
 * through the queue to the ledger thread and from there to the store's writer and the snapshots.
 */
public final class Daemon implements AutoCloseable {
    /** A burn that goes on is fitted this often at most, s. */
    private static final double FIT_EVERY_S = 60;
    /** What lies ahead is looked at anew this often at most, s: about as long as a hand rests on the regulator. */
    private static final double OUTLOOK_EVERY_S = 5;

    private final Lifecycle lifecycle = new Lifecycle();
    private int port = -1;

    private Daemon() {}

    /**
     * Starts everything.
     *
     * @param headless leaves the dashboard out
     * @param events where alarm transitions and burn boundaries are told as NDJSON
     * @throws StoreException when the store cannot be opened
     * @throws IOException when the dashboard cannot listen
     */
    public static Daemon start(BankfireConfig config, boolean headless, Appendable events)
            throws StoreException, IOException {
        Daemon daemon = new Daemon();
        try {
            daemon.wire(config, headless, new EventWriter(events));
            return daemon;
        } catch (StoreException | IOException | RuntimeException failure) {
            daemon.close();
            throw failure;
        }
    }

    /** Port of the dashboard; −1 when there is none. */
    public int port() {
        return port;
    }

    private void wire(BankfireConfig config, boolean headless, EventWriter events) throws StoreException, IOException {
        ReceiptClock clock =
                new ReceiptClock(() -> WallTime.of(Instant.now()), () -> new MonotonicTime(System.nanoTime()));
        Path database = config.store().path();
        ReadingStore store = lifecycle.add("store", Stores.open(config, clock::stamp));
        StoreWriter writer = lifecycle.add("store writer", new StoreWriter(store, "main"));

        FitKeeper fits = new FitKeeper(
                FitKeeper.Fitter.STANDARD,
                store,
                writer::add,
                clock::stamp,
                config.forges().stream().map(ForgeConfig::description).toList());
        BurnWorker fitWorker = new BurnWorker("fits", FIT_EVERY_S, fits);
        OutlookKeeper outlook = outlook(config, store, fits, clock);
        BurnWorker outlookWorker = new BurnWorker("outlook", OUTLOOK_EVERY_S, outlook);
        Outputs outputs = new Outputs(
                config.outputs(),
                config.forges().stream()
                        .collect(Collectors.toMap(
                                ForgeConfig::id, forge -> forge.description().name())),
                clock);
        List<Source> sources = new ArrayList<>();
        config.sources().forEach(settings -> sources.add(SourceFactory.create(settings, clock)));
        Housekeeping housekeeping = new Housekeeping(
                store, new DiskWatch(database), new Retention(config.store().keepReadings()), clock);
        LedgerThreads threads = LedgerThreads.wire(
                config,
                store,
                writer,
                events,
                List.of(fitWorker, outlookWorker),
                outputs,
                clock,
                housekeeping,
                () -> Stores.lag(store),
                sources);
        Ledgers ledgers = threads.ledgers();
        SnapshotHub hub = threads.hub();
        hub.subscribe(outputs::onSnapshot);
        lifecycle.add("outputs", outputs);
        outputs.start(ledgers::heartBeatsWell, () -> writer.health().ok());
        threads.start(lifecycle);
        // Readings are judged and kept from here on; the page and what is reckoned beside them take longer to come up.
        threads.startSources(lifecycle);
        fits.tell(new LiningAlarm(ledgers, clock));
        fitWorker.start();
        lifecycle.add("fits", fitWorker);
        outlookWorker.start();
        lifecycle.add("outlook", outlookWorker);

        if (!headless) {
            DaemonControls controls = new DaemonControls(
                    config.forges().stream().map(ForgeConfig::id).toList(), ledgers, writer, clock, virtual(sources));
            serve(
                    config,
                    hub,
                    store,
                    fits,
                    outlook,
                    clock,
                    controls,
                    outputs,
                    new DaemonProbe(sources, ledgers, threads.counts(), writer, () -> Stores.lag(store)),
                    outlookWorker);
        }
        housekeeping.start();
        lifecycle.add("housekeeping", housekeeping);
        tellServiceManager(new Soundness(ledgers, threads.supervisor(), writer));
    }

    private static OutlookKeeper outlook(
            BankfireConfig config, ReadingStore store, FitKeeper fits, ReceiptClock clock) {
        KnownForges known = new KnownForges(store, fits);
        WantedOutlook wanted = new WantedOutlook(store, clock::stamp);
        Map<String, ForgeConfig> forges =
                config.forges().stream().collect(Collectors.toMap(ForgeConfig::id, forge -> forge));
        return new OutlookKeeper(
                known::latest,
                id -> wanted.of(Objects.requireNonNull(forges.get(id), id)),
                id -> fits.fitNow(id).isPresent(),
                System::nanoTime);
    }

    private static List<VirtualSource> virtual(List<Source> sources) {
        return sources.stream()
                .filter(VirtualSource.class::isInstance)
                .map(VirtualSource.class::cast)
                .toList();
    }

    private void serve(
            BankfireConfig config,
            SnapshotHub hub,
            ReadingStore store,
            FitKeeper fits,
            OutlookKeeper outlook,
            ReceiptClock clock,
            DaemonControls controls,
            Outputs outputs,
            DaemonProbe probe,
            BurnWorker outlookWorker)
            throws IOException {
        StoredSeries series = new StoredSeries(store);
        StoredFits fitBook = new StoredFits(store, fits);
        StoredLogBook logBook = new StoredLogBook(store, controls::write);
        StoredTrials trials = new StoredTrials(
                store, config.forges().stream().map(ForgeConfig::description).toList());
        WhatIfDesk whatIf = new WhatIfDesk(
                config,
                new KnownForges(store, fits)::latest,
                forge -> logBook.inForce(forge, hub.now()),
                lifecycle.add("what-if", new WhatIfQueue()));
        DashboardServer dashboard = lifecycle.add(
                "dashboard",
                new DashboardServer(
                        new DashboardSettings(
                                config.dashboard().host(), config.dashboard().port()),
                        new Sources(
                                hub,
                                series,
                                logBook,
                                fitBook,
                                new StoredReports(store, series, hub, fitBook, trials, clock::stamp),
                                outlook,
                                trials,
                                whatIf,
                                controls,
                                outputs,
                                probe)));
        outlookWorker.prefer(dashboard::isLookedAt);
        port = dashboard.start();
    }

    private void tellServiceManager(Soundness soundness) {
        ServiceNotifier notifier = ServiceNotifier.of(System.getenv(), soundness::isSound, soundness::words);
        if (notifier != null) {
            notifier.start();
            lifecycle.add("service manager", notifier);
        }
    }

    @Override
    public void close() {
        lifecycle.close();
    }
}
