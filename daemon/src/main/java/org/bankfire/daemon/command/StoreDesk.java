package org.bankfire.daemon.command;

import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.Entry;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.Worded;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredLog;
import org.bankfire.daemon.store.TimeRange;
import org.jspecify.annotations.Nullable;

/** Writes into a store that no daemon holds. */
final class StoreDesk implements LogDesk {
    private final ReadingStore store;
    private final Path path;
    private final String forge;

    StoreDesk(ReadingStore store, Path path, String forge) {
        this.store = store;
        this.path = path;
        this.forge = forge;
    }

    @Override
    public String where() {
        return "the store " + path + " itself, since no daemon is running on it";
    }

    @Override
    public List<EntryKey> entries(WallTime from, WallTime to) throws StoreException {
        return new StoredLog(store, forge)
                .in(new TimeRange(from, to)).entries().stream()
                        .map(Entry::key)
                        .filter(key -> !key.time().isBefore(from) && key.time().isBefore(to))
                        .sorted()
                        .toList();
    }

    @Override
    public EntryKey write(String name, Worded value, @Nullable WallTime time) throws StoreException {
        WallTime at = time == null ? WallTime.of(Instant.now()) : time;
        EntryKey key = new EntryKey(at, name);
        if (entries(at, at.plusMicros(1)).contains(key)) {
            throw new StoreException(key + " is written down already; correct that entry, or give another time");
        }
        List<Reading> readings = List.of();
        List<Note> notes = List.of();
        List<Setting> settings = List.of();
        if (Setting.isSetting(name)) {
            settings = List.of(new Setting(forge, at, name, value.value(), value.unit()));
        } else {
            notes = List.of(new Note(forge, at, name, value.toString()));
        }
        if (name.equals(ChannelNames.CYLINDER)) {
            readings = List.of(Reading.good(new Channel(forge, name), value.number(), Unit.KILOGRAM, at, at));
        }
        store.append(new StoreBatch(readings, notes, settings, List.of(), List.of()));
        return key;
    }

    @Override
    public void correct(Correction correction) throws StoreException {
        store.append(new StoreBatch(List.of(), List.of(correction.note()), List.of(), List.of(), List.of()));
    }

    @Override
    public void close() throws StoreException {
        store.close();
    }
}
