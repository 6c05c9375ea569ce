package org.bankfire.daemon.bridge;

import java.util.List;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.dashboard.source.LogBook;
import org.bankfire.dashboard.source.SourceException;

/** The log book as the store holds it; what the user adds goes through the ledger like any reading. */
public final class StoredLogBook implements LogBook {
    private final ReadingStore store;
    private final Consumer<Pack> ledger;

    /**
     * A log book.
     *
     * @param ledger takes a pack and returns when it is stored, or throws {@link SourceException}
     */
    public StoredLogBook(ReadingStore store, Consumer<Pack> ledger) {
        this.store = store;
        this.ledger = ledger;
    }

    @FunctionalInterface
    private interface Query<T> {
        T run() throws StoreException;
    }

    private static <T> T ask(String what, String forge, Query<T> query) {
        try {
            return query.run();
        } catch (StoreException failure) {
            throw new SourceException(what + " of " + forge + " cannot be read: " + failure.getMessage(), failure);
        }
    }

    @Override
    public List<Note> notes(String forge, WallTime from, WallTime to) {
        return ask("the notes", forge, () -> store.notes(forge, new TimeRange(from, to)));
    }

    @Override
    public List<Setting> settings(String forge, WallTime from, WallTime to) {
        return ask("the settings", forge, () -> store.settings(forge, new TimeRange(from, to)));
    }

    @Override
    public List<AlarmTransition> alarmJournal(String forge, int limit) {
        return ask("the alarm journal", forge, () -> store.latestAlarmTransitions(forge, limit));
    }

    @Override
    public List<Burn> burns(String forge, int limit) {
        return ask("the burns", forge, () -> store.burns(forge, limit));
    }

    @Override
    public void add(Note note) {
        ledger.accept(new Pack(List.of(), List.of(note), List.of()));
    }

    @Override
    public void add(Setting setting) {
        ledger.accept(new Pack(List.of(), List.of(), List.of(setting)));
    }
}
