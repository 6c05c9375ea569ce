package org.bankfire.daemon.store.sqlite;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.nio.file.Path;
import java.util.List;
import java.util.function.Function;
import org.bankfire.daemon.store.NewsEncoder;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.ReadingStoreContract;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoreNews;
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
                new Spooling(words(news -> news.toString().getBytes(UTF_8)), () -> T0.plusSeconds(3_600), 1L << 30));
    }

    private static NewsEncoder words(Function<StoreNews, byte[]> words) {
        return new NewsEncoder() {
            @Override
            public byte[] encode(StoreNews news) {
                return words.apply(news);
            }

            @Override
            public List<String> lines(byte[] block) {
                return new String(block, UTF_8).lines().toList();
            }
        };
    }
}
