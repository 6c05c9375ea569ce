package org.bankfire.daemon.store.influx;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.AskingStore;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.ReadingStoreContract;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
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
    private static final class ToldByServer extends AskingStore {
        private final SqliteStore local;
        private final InfluxServer server;

        ToldByServer(SqliteStore local, InfluxServer server) {
            super(server);
            this.local = local;
            this.server = server;
        }

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
