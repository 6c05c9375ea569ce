package org.bankfire.daemon.whole;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;

/** A look into the store of a daemon that has ended. */
final class StoredBook {
    private StoredBook() {}

    /** The running numbers of the lines that are in the store, in order of time. */
    static List<Long> sequenceNumbers(Path folder) throws StoreException {
        List<Long> numbers = new ArrayList<>();
        try (ReadingStore store = SqliteStore.open(folder.resolve("book.db"))) {
            store.readings(
                    new Channel("shed", "seq"), TimeRange.ALL, reading -> numbers.add(Math.round(reading.value())));
        }
        return numbers;
    }

    static List<AlarmTransition> alarms(Path folder) throws StoreException {
        try (ReadingStore store = SqliteStore.open(folder.resolve("book.db"))) {
            return store.alarmTransitions("shed", TimeRange.ALL);
        }
    }
}
