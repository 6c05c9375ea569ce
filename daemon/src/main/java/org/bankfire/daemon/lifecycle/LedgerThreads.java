package org.bankfire.daemon.lifecycle;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import org.bankfire.analysis.alarm.Alarm;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.Source;
import org.bankfire.daemon.bridge.SnapshotHub;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.fitting.BurnTaker;
import org.bankfire.daemon.ledger.EventWriter;
import org.bankfire.daemon.ledger.ForgeQueue;
import org.bankfire.daemon.ledger.ForgeRoutes;
import org.bankfire.daemon.ledger.Heart;
import org.bankfire.daemon.ledger.Ledger;
import org.bankfire.daemon.ledger.LedgerMemory;
import org.bankfire.daemon.ledger.LedgerSupervisor;
import org.bankfire.daemon.ledger.Ledgers;
import org.bankfire.daemon.ledger.Router;
import org.bankfire.daemon.ledger.SourceCounts;
import org.bankfire.daemon.notify.Outputs;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.ServerLag;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreWriter;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.dashboard.source.ForgeFace;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The ledger threads with what leads to them: for each source a router, for each group of forges a queue and a ledger, and
 * one supervisor for all.
 */
record LedgerThreads(
        Ledgers ledgers,
        List<Ledger> each,
        List<Router> routers,
        List<Source> sources,
        LedgerSupervisor supervisor,
        SourceCounts counts,
        SnapshotHub hub) {
    private static final Logger log = LoggerFactory.getLogger(LedgerThreads.class);

    LedgerThreads {
        each = List.copyOf(each);
        routers = List.copyOf(routers);
        sources = List.copyOf(sources);
    }

    /** Wires them, and takes up from the store what outlives a restart. */
    static LedgerThreads wire(
            BankfireConfig config,
            ReadingStore store,
            StoreWriter writer,
            EventWriter events,
            List<BurnTaker> burnWorkers,
            Outputs outputs,
            ReceiptClock clock,
            Housekeeping housekeeping,
            Supplier<Optional<ServerLag>> serverLag,
            List<Source> sources)
            throws StoreException {
        List<String> ids = config.forges().stream().map(ForgeConfig::id).toList();
        ForgeRoutes routes =
                new ForgeRoutes(ids, config.daemon().ledgerThreadsOr(processors()), ForgeQueue.Limits.STANDARD);
        SourceCounts counts = new SourceCounts();
        List<Heart> hearts = new ArrayList<>();
        List<ForgeFace> faces = config.forges().stream()
                .map(forge -> new ForgeFace(forge.description(), forge.monitor(), forge.currency()))
                .toList();
        SnapshotHub hub = new SnapshotHub(faces, clock::stamp, () -> longestSilenceS(hearts));
        List<Ledger> each = new ArrayList<>();
        for (int i = 0; i < routes.ledgers(); i++) {
            List<String> group = routes.group(i);
            List<ForgeConfig> forges = config.forges().stream()
                    .filter(forge -> group.contains(forge.id()))
                    .toList();
            LedgerMemory memory = remembered(forges, outputs, store, clock.stamp());
            LiveParts parts = new LiveParts(
                    forges,
                    memory,
                    writer,
                    events,
                    burnWorkers,
                    outputs,
                    clock,
                    clock.follow(),
                    housekeeping,
                    routes.queue(i)::takePassedOver,
                    serverLag);
            Heart heart = new Heart(System::nanoTime);
            hearts.add(heart);
            each.add(new Ledger(parts, memory, routes.queue(i), counts, writer, hub::publish, heart, System::nanoTime));
        }
        List<Router> routers = sources.stream()
                .map(source -> new Router(source, routes, counts, System::nanoTime))
                .toList();
        LedgerSupervisor supervisor =
                new LedgerSupervisor(each, routers, LedgerSupervisor.Pace.STANDARD, LastResort::end);
        return new LedgerThreads(new Ledgers(each, routes::ledgerOf), each, routers, sources, supervisor, counts, hub);
    }

    /** Starts the ledgers and routers, and who looks after them. */
    void start(Lifecycle lifecycle) {
        ledgers.start();
        lifecycle.add("ledgers", ledgers);
        for (Router router : routers) {
            router.start();
            lifecycle.add(router.thread(), router);
        }
        supervisor.start();
        lifecycle.add("ledger supervisor", supervisor);
    }

    /** Starts the sources. */
    void startSources(Lifecycle lifecycle) {
        for (int i = 0; i < sources.size(); i++) {
            Source source = sources.get(i);
            lifecycle.add(source.name(), source);
            source.start(routers.get(i));
        }
    }

    private static int processors() {
        return Runtime.getRuntime().availableProcessors();
    }

    private static double longestSilenceS(List<Heart> hearts) {
        double longestS = 0;
        for (Heart heart : hearts) {
            longestS = Math.max(longestS, heart.silentS());
        }
        return longestS;
    }

    /** Alarms that stood, settings in force and captured zeros outlive a restart. */
    private static LedgerMemory remembered(List<ForgeConfig> forges, Outputs outputs, ReadingStore store, WallTime now)
            throws StoreException {
        TimeRange ofShelves = new TimeRange(now.plusSeconds(-Alarm.LONGEST_SHELF_S), TimeRange.ALL.to());
        LedgerMemory memory = new LedgerMemory();
        for (ForgeConfig forge : forges) {
            List<AlarmTransition> steps = new ArrayList<>();
            for (AlarmId alarm : AlarmId.values()) {
                List<AlarmTransition> ofAlarm =
                        store.latestAlarmTransitions(forge.id(), alarm, LedgerMemory.MOST_STEPS);
                ofAlarm.stream()
                        .limit(1)
                        .filter(last -> last.state().callsForAttention())
                        .forEach(outputs::onStanding);
                steps.addAll(ofAlarm);
            }
            List<Setting> settings = store.settings(forge.id(), TimeRange.ALL);
            List<Note> notes = new ArrayList<>(store.notes(forge.id(), ofShelves));
            notes.addAll(store.notes(forge.id(), Note.CORRECTION, TimeRange.ALL));
            memory.learn(forge.id(), steps, notes, settings);
            log.info(
                    "{}: {} settings and {} alarm states taken up from the log book",
                    forge.id(),
                    settings.size(),
                    steps.size());
        }
        return memory;
    }
}
