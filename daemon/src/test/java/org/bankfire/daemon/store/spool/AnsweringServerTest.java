package org.bankfire.daemon.store.spool;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Objects;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.ReadingStoreContract;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.io.TempDir;

/** When the server answers for all readings, and what comes is joined with what it has, it is a store like any other. */
class AnsweringServerTest extends ReadingStoreContract {
    @TempDir
    Path folder;

    private final Closer closer = new Closer();
    private volatile WallTime now = T0.plusSeconds(-600);
    private @Nullable ScriptedServer server;

    @Override
    protected ReadingStore create() throws Exception {
        server = new ScriptedServer(closer.add(SqliteStore.open(folder.resolve("server.db"))));
        DrainedStore store = open();
        now = T0.plusSeconds(365 * 86_400);
        return store;
    }

    @Override
    protected ReadingStore reopen(ReadingStore store) throws Exception {
        store.close();
        return open();
    }

    @AfterEach
    void close() throws Exception {
        closer.closeAll();
    }

    private DrainedStore open() throws StoreException {
        return new DrainedStore(SpooledStore.open(
                folder.resolve("book.db"),
                Objects.requireNonNull(server),
                server,
                new SpooledStore.Bounds(Duration.ofDays(730), Duration.ZERO, 1L << 30),
                List.of(),
                () -> now));
    }
}
