package org.bankfire.daemon.store.influx;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.ReadingStoreContract;
import org.bankfire.daemon.store.Rollup;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SpoolRow;
import org.bankfire.daemon.store.sqlite.Spooling;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.bankfire.daemon.testbed.InfluxProcess;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;

/** What every store must do, asked of a real server: all that it tells came over the spool of a local store. */
class InfluxServerIT extends ReadingStoreContract {
    /** Longer ago than any reading of these tests. */
    private static final Duration FOR_EVER = Duration.ofDays(36_500);

    /** Two centuries. */
    private static final long LONG_AGO_US = 6_000_000_000_000_000L;

    @TempDir
    static Path serverFolder;

    private static InfluxProcess process;
    private static final AtomicInteger databases = new AtomicInteger();

    @TempDir
    Path folder;

    private String database = "";

    @BeforeAll
    static void startServer() throws Exception {
        process = new InfluxProcess(serverFolder).start();
    }

    @AfterAll
    static void stopServer() {
        process.close();
    }

    @Override
    protected ReadingStore create() throws Exception {
        database = "book-" + databases.incrementAndGet();
        return open();
    }

    @Override
    protected ReadingStore reopen(ReadingStore store) throws Exception {
        store.close();
        // The local file stays: it makes the roll-ups. Whatever comes back, the server has kept, for it alone is asked.
        process.stop();
        process.start();
        return open();
    }

    private ReadingStore open() throws Exception {
        InfluxServer server = new InfluxServer(new InfluxSettings(process.url(), database, null, null));
        server.setUp(FOR_EVER);
        LineEncoder encoder = new LineEncoder(new StepClock()::next);
        // What is older than the spool's beginning is told in another way: here nothing is.
        Spooling spooling = new Spooling(encoder, () -> new WallTime(-LONG_AGO_US), Long.MAX_VALUE);
        return new ToldByServer(SqliteStore.open(folder.resolve("book.db"), spooling), server);
    }

    /** Appends locally and tells the server at once; asks the server alone. */
    private record ToldByServer(SqliteStore local, InfluxServer server) implements ReadingStore {
        @Override
        public void append(StoreBatch batch) throws StoreException {
            local.append(batch);
            List<SpoolRow> rows = local.spool().oldest(10, Long.MAX_VALUE);
            while (!rows.isEmpty()) {
                for (SpoolRow row : rows) {
                    server.write(row.lines());
                }
                local.spool().remove(rows.stream().map(SpoolRow::id).toList(), List.of());
                rows = local.spool().oldest(10, Long.MAX_VALUE);
            }
        }

        @Override
        public long prune(TimeRange range) throws StoreException {
            return server.prune(range);
        }

        @Override
        public void readings(String forge, TimeRange range, Consumer<Reading> sink) throws StoreException {
            server.readings(forge, range, sink);
        }

        @Override
        public void readings(Channel channel, TimeRange range, Consumer<Reading> sink) throws StoreException {
            server.readings(channel, range, sink);
        }

        @Override
        public List<Rollup> rollups(Channel channel, TimeRange range, Rollup.Width width) throws StoreException {
            return server.rollups(channel, range, width);
        }

        @Override
        public Optional<Reading> latest(Channel channel) throws StoreException {
            return server.latest(channel);
        }

        @Override
        public List<String> forges() throws StoreException {
            return server.forges();
        }

        @Override
        public List<Channel> channels(String forge) throws StoreException {
            return server.channels(forge);
        }

        @Override
        public List<Note> notes(String forge, TimeRange range) throws StoreException {
            return server.notes(forge, range);
        }

        @Override
        public List<Note> notes(String forge, String name, TimeRange range) throws StoreException {
            return server.notes(forge, name, range);
        }

        @Override
        public List<Setting> settings(String forge, TimeRange range) throws StoreException {
            return server.settings(forge, range);
        }

        @Override
        public Optional<Setting> latestSetting(String forge, String name) throws StoreException {
            return server.latestSetting(forge, name);
        }

        @Override
        public List<AlarmTransition> alarmTransitions(String forge, TimeRange range) throws StoreException {
            return server.alarmTransitions(forge, range);
        }

        @Override
        public List<AlarmTransition> latestAlarmTransitions(String forge, int limit) throws StoreException {
            return server.latestAlarmTransitions(forge, limit);
        }

        @Override
        public List<AlarmTransition> latestAlarmTransitions(String forge, AlarmId alarm, int limit)
                throws StoreException {
            return server.latestAlarmTransitions(forge, alarm, limit);
        }

        @Override
        public Optional<Burn> burn(String id) throws StoreException {
            return server.burn(id);
        }

        @Override
        public List<Burn> burns(String forge, int limit) throws StoreException {
            return server.burns(forge, limit);
        }

        @Override
        public Optional<StoredFit> fit(String burnId) throws StoreException {
            return server.fit(burnId);
        }

        @Override
        public List<BurnLoss> losses(String forge, int limit) throws StoreException {
            return server.losses(forge, limit);
        }

        @Override
        public void close() throws StoreException {
            server.close();
            local.close();
        }
    }

    /** A clock that stands still: steps must come in order all the same. */
    private static final class StepClock {
        long next() {
            return 1;
        }
    }
}
