package org.bankfire.daemon.store.spool;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.ReadingStoreContract;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** While the file holds what is asked for, it is a store like any other, server or not. */
class SpooledStoreTest extends ReadingStoreContract {
    @TempDir
    Path folder;

    private static final WallTime BEFORE_ALL = new WallTime(-2_000_000_000_000_000L);

    private final Closer closer = new Closer();
    private @Nullable ScriptedServer server;

    @Override
    protected ReadingStore create() throws Exception {
        return open();
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

    @Test
    void theServerIsClosedWithTheStore() throws Exception {
        ScriptedServer other = newServer();
        SpooledStore store = SpooledStore.open(
                folder.resolve("other.db"),
                other,
                other,
                new SpooledStore.Bounds(Duration.ofDays(730), Duration.ofDays(7), 1L << 30),
                List.of(),
                () -> BEFORE_ALL);
        store.close();
        assertThat(other.closed()).isTrue();
    }

    private ReadingStore open() throws StoreException {
        return SpooledStore.open(
                folder.resolve("book.db"),
                server(),
                server(),
                new SpooledStore.Bounds(Duration.ofDays(730), Duration.ofDays(7), 1L << 30),
                List.of(),
                () -> BEFORE_ALL);
    }

    private ScriptedServer server() throws StoreException {
        if (server == null) {
            server = newServer();
        }
        return server;
    }

    private ScriptedServer newServer() throws StoreException {
        return new ScriptedServer(closer.add(SqliteStore.open(folder.resolve("server" + closer.size() + ".db"))));
    }
}
