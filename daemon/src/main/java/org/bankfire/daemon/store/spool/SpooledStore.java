package org.bankfire.daemon.store.spool;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.LongConsumer;
import java.util.function.Supplier;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.NewsEncoder;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.ServerAwayException;
import org.bankfire.daemon.store.ServerLag;
import org.bankfire.daemon.store.ServerTarget;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SpoolZones;
import org.bankfire.daemon.store.sqlite.Spooling;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A local file that takes everything first, and a server that gets it from there. Entries are asked of the file, which has
 * all of them for ever; readings and roll-ups of the file for as long back as it holds all of them, and for the time before
 * it began to spool, else of the server. So a server that is away costs nothing but old readings.
 */
public final class SpooledStore implements ReadingStore {
    private static final Logger LOG = LoggerFactory.getLogger(SpooledStore.class);

    /** How long the start waits for the log book of a new machine: a server in the next room answers in a second. */
    private static final Duration TAKE_UP_PATIENCE = Duration.ofSeconds(5);

    private static final long DRAIN_LOOK_MS = 10;
    private static final WallTime BEGINNING = TimeRange.ALL.from();

    private final SqliteStore local;
    private final ServerTarget server;
    private final Supplier<WallTime> clock;
    private final Bounds bounds;
    private final @Nullable Forwarder forwarder;
    private final SeamQueries seam;
    /** What the server was last asked to delete until nothing was left. */
    private volatile @Nullable TimeRange prunedThere;

    /**
     * How much is kept where.
     *
     * @param keepReadings how long the server keeps readings
     * @param keepLocal readings older than this are deleted from the file once the server has them
     * @param spoolLimitBytes see {@link Spooling}
     */
    public record Bounds(Duration keepReadings, Duration keepLocal, long spoolLimitBytes) {
        public Bounds {
            if (keepLocal.isNegative()) {
                throw new IllegalArgumentException("readings are to be kept here for " + keepLocal);
            }
        }
    }

    private SpooledStore(
            SqliteStore local,
            ServerTarget server,
            Supplier<WallTime> clock,
            Bounds bounds,
            @Nullable Forwarder forwarder) {
        this.local = local;
        this.server = server;
        this.clock = clock;
        this.bounds = bounds;
        this.forwarder = forwarder;
        seam = new SeamQueries(local, this::server);
    }

    /**
     * Opens the file for this process alone and begins to forward. The server is closed with the store.
     *
     * @param forges whose log books are taken up from the server, once, if it can be reached
     * @param clock wall time of now
     * @throws StoreException when the file cannot be opened; never because of the server
     */
    public static SpooledStore open(
            Path path,
            ServerTarget server,
            NewsEncoder encoder,
            Bounds bounds,
            List<String> forges,
            Supplier<WallTime> clock)
            throws StoreException {
        SqliteStore local = SqliteStore.open(path, new Spooling(encoder, clock, bounds.spoolLimitBytes()));
        try {
            if (!local.spool().logBookTold()) {
                for (String forge : local.forges()) {
                    local.tellAgain(LogBookTaker.all(local, forge));
                }
                local.spool().noteLogBookTold();
            }
            takeUp(new LogBookTaker(local, server, bounds.keepReadings()), forges);
            Forwarder forwarder = new Forwarder(
                    local.spool(), local, server, encoder, bounds.keepReadings(), clock, new SplittableRandom());
            forwarder.start();
            return new SpooledStore(local, server, clock, bounds, forwarder);
        } catch (StoreException | RuntimeException e) {
            local.close();
            throw e;
        }
    }

    /** Opens an existing file to look at, also while a daemon writes to it. The server is closed with the store. */
    public static SpooledStore openReadOnly(Path path, ServerTarget server, Bounds bounds) throws StoreException {
        return new SpooledStore(SqliteStore.openReadOnly(path), server, () -> new WallTime(0), bounds, null);
    }

    private static void takeUp(LogBookTaker taker, List<String> forges) {
        CountDownLatch done = new CountDownLatch(1);
        Thread thread = new Thread(
                () -> {
                    try {
                        taker.takeUp(forges);
                    } catch (StoreException | RuntimeException e) {
                        LOG.warn(
                                "the log book could not be taken up from the database, which is tried again at the next"
                                        + " start: {}",
                                e.getMessage());
                    } finally {
                        done.countDown();
                    }
                },
                "log book");
        thread.setDaemon(true);
        thread.start();
        try {
            if (!done.await(TAKE_UP_PATIENCE.toMillis(), TimeUnit.MILLISECONDS)) {
                LOG.warn("the database is slow to tell its log book; the start does not wait for it any longer");
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** How far the server is behind; empty when the store was opened to look at. */
    public Optional<ServerLag> lag() {
        return forwarder == null ? Optional.empty() : Optional.of(forwarder.lag());
    }

    /**
     * Waits until the server has everything, or is away.
     *
     * @param waiting is told how many readings and entries still wait
     * @return how many still wait
     */
    public long drain(LongConsumer waiting) throws InterruptedException {
        while (true) {
            ServerLag lag = lag().orElseThrow();
            waiting.accept(lag.rows());
            if (lag.rows() == 0 || !lag.reachable()) {
                return lag.rows();
            }
            TimeUnit.MILLISECONDS.sleep(DRAIN_LOOK_MS);
        }
    }

    @Override
    public void append(StoreBatch batch) throws StoreException {
        local.append(batch);
        if (forwarder != null) {
            forwarder.newsCame();
        }
    }

    /**
     * As every store does, here and on the server; besides, it deletes from the file what is older than is to be kept here
     * and is on the server. One call lets queries before a time be answered by the server, a later one deletes from the
     * file what is before: {@link SeamQueries} counts on that order.
     *
     * @return how many were deleted from the file; from the server when it was none from the file
     */
    @Override
    public long prune(TimeRange range) throws StoreException {
        SpoolZones zones = local.spool().zones();
        long here = local.prune(range) + local.forget(new TimeRange(zones.ownUntil(), zones.localFrom()));
        local.spool()
                .advance(clock.get()
                        .plusMicros(
                                -TimeUnit.SECONDS.toMicros(bounds.keepLocal().toSeconds())));
        if (range.from().equals(range.to()) || range.equals(prunedThere)) {
            return here;
        }
        try {
            long there = server().prune(range);
            if (there == 0) {
                prunedThere = range;
            }
            return here > 0 ? here : there;
        } catch (ServerAwayException e) {
            LOG.debug("the server prunes later", e);
            return here;
        }
    }

    @Override
    public void readings(String forge, TimeRange range, Consumer<Reading> sink) throws StoreException {
        seam.readings(range, (source, part, taker) -> source.readings(forge, part, taker), sink);
    }

    @Override
    public void readings(Channel channel, TimeRange range, Consumer<Reading> sink) throws StoreException {
        seam.readings(range, (source, part, taker) -> source.readings(channel, part, taker), sink);
    }

    @Override
    public List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width) throws StoreException {
        return seam.rollups(channel, range, width);
    }

    /** Of the file; of the server when the file may not have the latest. */
    @Override
    public Optional<Reading> latest(Channel channel) throws StoreException {
        Optional<Reading> here = local.latest(channel);
        WallTime localFrom = local.zones().map(SpoolZones::localFrom).orElse(BEGINNING);
        if (here.isPresent() && !here.get().sourceTime().isBefore(localFrom)) {
            return here;
        }
        Optional<Reading> there = localFrom.equals(BEGINNING) ? Optional.empty() : server().latest(channel);
        return there.isPresent()
                        && here.map(reading -> reading.sourceTime()
                                        .isBefore(there.get().sourceTime()))
                                .orElse(true)
                ? there
                : here;
    }

    @Override
    public List<String> forges() throws StoreException {
        return local.forges();
    }

    @Override
    public List<Channel> channels(String forge) throws StoreException {
        return local.channels(forge);
    }

    @Override
    public List<Note> notes(String forge, TimeRange range) throws StoreException {
        return local.notes(forge, range);
    }

    @Override
    public List<Note> notes(String forge, String name, TimeRange range) throws StoreException {
        return local.notes(forge, name, range);
    }

    @Override
    public List<Setting> settings(String forge, TimeRange range) throws StoreException {
        return local.settings(forge, range);
    }

    @Override
    public Optional<Setting> latestSetting(String forge, String name) throws StoreException {
        return local.latestSetting(forge, name);
    }

    @Override
    public List<AlarmTransition> alarmTransitions(String forge, TimeRange range) throws StoreException {
        return local.alarmTransitions(forge, range);
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, int limit) throws StoreException {
        return local.latestAlarmTransitions(forge, limit);
    }

    @Override
    public List<AlarmTransition> latestAlarmTransitions(String forge, AlarmId alarm, int limit) throws StoreException {
        return local.latestAlarmTransitions(forge, alarm, limit);
    }

    @Override
    public Optional<Burn> burn(String id) throws StoreException {
        return local.burn(id);
    }

    @Override
    public List<Burn> burns(String forge, int limit) throws StoreException {
        return local.burns(forge, limit);
    }

    @Override
    public Optional<StoredFit> fit(String burnId) throws StoreException {
        return local.fit(burnId);
    }

    @Override
    public List<BurnLoss> losses(String forge, int limit) throws StoreException {
        return local.losses(forge, limit);
    }

    /** Closes all; what waits goes on waiting. */
    @Override
    public void close() throws StoreException {
        if (forwarder != null) {
            forwarder.close();
        }
        try {
            local.close();
        } finally {
            server.close();
        }
    }

    private ServerTarget server() throws StoreException {
        if (server.needsSetUp()) {
            server.setUp(bounds.keepReadings());
        }
        return server;
    }
}
