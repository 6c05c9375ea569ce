package org.bankfire.daemon.store.spool;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.ReadingStoreContract;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.influx.InfluxServer;
import org.bankfire.daemon.store.influx.InfluxSettings;
import org.bankfire.daemon.store.influx.LineEncoder;
import org.bankfire.daemon.testbed.InfluxProcess;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;

/** What every store must do, when all that is asked for was brought to a real server and is gone from the file. */
class SpooledToInfluxIT extends ReadingStoreContract {
    private static InfluxProcess influx;
    private static int databases;

    @TempDir
    Path folder;

    private volatile WallTime now = T0;

    @BeforeAll
    static void startServer() throws Exception {
        influx = new InfluxProcess(Files.createTempDirectory("influx")).start();
    }

    @AfterAll
    static void stopServer() {
        influx.close();
    }

    @Override
    protected ReadingStore create() throws Exception {
        databases++;
        now = T0.plusSeconds(-600);
        ReadingStore store = open();
        now = T0.plusSeconds(300L * 86_400);
        return store;
    }

    @Override
    protected ReadingStore reopen(ReadingStore store) throws Exception {
        store.close();
        return open();
    }

    private ReadingStore open() throws StoreException {
        return new DrainedStore(SpooledStore.open(
                folder.resolve("book.db"),
                new InfluxServer(new InfluxSettings(influx.url(), "book" + databases, null, null)),
                new LineEncoder(() -> System.currentTimeMillis() * 1_000),
                new SpooledStore.Bounds(Duration.ofDays(36_500), Duration.ZERO, 1L << 30),
                List.of("shed", "yard"),
                () -> now));
    }
}
