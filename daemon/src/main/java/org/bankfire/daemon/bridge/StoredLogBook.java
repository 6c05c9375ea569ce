package org.bankfire.daemon.bridge;

import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.logbook.Worded;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredLog;
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
        return log(forge, from, to).notes().stream()
                .filter(note -> !note.time().isBefore(from) && note.time().isBefore(to))
                .toList();
    }

    @Override
    public List<Setting> settings(String forge, WallTime from, WallTime to) {
        return log(forge, from, to).settings().stream()
                .filter(setting ->
                        !setting.time().isBefore(from) && setting.time().isBefore(to))
                .toList();
    }

    @Override
    public ResolvedLog log(String forge, WallTime from, WallTime to) {
        return ask("the log", forge, () -> new StoredLog(store, forge).in(new TimeRange(from, to)));
    }

    @Override
    public Map<String, Setting> inForce(String forge, WallTime at) {
        return ask(
                "the settings",
                forge,
                () -> new StoredLog(store, forge).settingsTo(at.plusMicros(1)).inForce(at));
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
    public void add(Reading weighing) {
        String mass = Worded.of(weighing.value(), weighing.unit().symbol()).toString();
        Note note = new Note(
                weighing.channel().forge(),
                weighing.sourceTime(),
                weighing.channel().name(),
                mass);
        ledger.accept(new Pack(List.of(weighing), List.of(note), List.of()));
    }

    @Override
    public void add(Setting setting) {
        ledger.accept(new Pack(List.of(), List.of(), List.of(setting)));
    }
}
