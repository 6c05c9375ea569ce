package org.bankfire.daemon.store.sqlite;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.nio.file.Path;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.ReadingStoreContract;
import org.bankfire.daemon.store.StoreException;
import org.junit.jupiter.api.io.TempDir;

/** A store that keeps what is new for a server too is a store like any other. */
class SpoolingSqliteStoreTest extends ReadingStoreContract {
    @TempDir
    Path folder;

    @Override
    protected ReadingStore create() throws Exception {
        return open();
    }

    @Override
    protected ReadingStore reopen(ReadingStore store) throws Exception {
        store.close();
        return open();
    }

    private ReadingStore open() throws StoreException {
        return SqliteStore.open(
                folder.resolve("book.db"),
                new Spooling(news -> news.toString().getBytes(UTF_8), () -> T0.plusSeconds(3_600), 1L << 30));
    }
}
