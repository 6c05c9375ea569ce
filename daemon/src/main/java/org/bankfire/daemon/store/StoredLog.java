package org.bankfire.daemon.store;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.Entry;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.logbook.LogResolver;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;

/** The log of a forge as a store holds it, with every correction taken in, however long after the entry it came. */
public final class StoredLog {
    private final ReadingStore store;
    private final String forge;
    private final List<Note> corrections;

    /** Of one forge, as it stands now. */
    public StoredLog(ReadingStore store, String forge) throws StoreException {
        this.store = store;
        this.forge = forge;
        this.corrections = store.notes(forge, Note.CORRECTION, TimeRange.ALL);
    }

    /** Corrections as they were written down, in order of time. */
    public List<Note> corrections() {
        return corrections;
    }

    /**
     * Entries that were written down for a time in the range or apply to one now, and corrections of entries in the range
     * that are not there.
     */
    public ResolvedLog in(TimeRange range) throws StoreException {
        List<Note> notes = new ArrayList<>(store.notes(forge, range));
        List<Setting> settings = new ArrayList<>(store.settings(forge, range));
        notes.removeIf(note -> note.name().equals(Note.CORRECTION));
        for (EntryKey key : movedInto(range)) {
            take(key, notes, settings);
        }
        Set<EntryKey> known = new HashSet<>();
        notes.forEach(note -> known.add(new EntryKey(note.time(), note.name())));
        for (Note note : corrections) {
            Correction correction = Correction.of(note).orElse(null);
            if (correction != null
                    && correction.entry().name().equals(ChannelNames.CYLINDER)
                    && known.add(correction.entry())) {
                weighing(correction.entry().time(), range, notes);
            }
        }
        notes.addAll(corrections);
        ResolvedLog all = LogResolver.resolve(notes, settings);
        List<Entry> entries = all.entries().stream()
                .filter(entry -> range.contains(entry.key().time())
                        || range.contains(entry.now().time()))
                .toList();
        List<Correction> unmatched = all.unmatched().stream()
                .filter(correction -> range.contains(correction.entry().time()))
                .toList();
        return new ResolvedLog(entries, unmatched);
    }

    private Set<EntryKey> movedInto(TimeRange range) {
        Set<EntryKey> moved = new HashSet<>();
        for (Note note : corrections) {
            Correction correction = Correction.of(note).orElse(null);
            if (correction == null || range.contains(correction.entry().time())) {
                continue;
            }
            WallTime to = correction.movedTo();
            if (to != null && range.contains(to)) {
                moved.add(correction.entry());
            }
        }
        return moved;
    }

    private void take(EntryKey key, List<Note> notes, List<Setting> settings) throws StoreException {
        TimeRange moment = moment(key.time());
        if (Setting.isSetting(key.name())) {
            store.settings(forge, moment).stream()
                    .filter(setting -> setting.name().equals(key.name()))
                    .forEach(settings::add);
        } else {
            notes.addAll(store.notes(forge, key.name(), moment));
        }
    }

    /** A corrected weighing of a scale has no note of its own. */
    private void weighing(WallTime time, TimeRange range, List<Note> notes) throws StoreException {
        if (range.contains(time)) {
            store.readings(
                    new Channel(forge, ChannelNames.CYLINDER),
                    moment(time),
                    reading -> notes.add(new Note(
                            forge,
                            time,
                            ChannelNames.CYLINDER,
                            (reading.value() + " " + reading.unit().symbol()).strip())));
        }
    }

    /** All settings to that time, and what holds then; before a burn's start is what was in force when it was lit. */
    public ResolvedLog settingsTo(WallTime end) throws StoreException {
        // What applies before may have been written down later.
        return LogResolver.resolve(corrections, store.settings(forge, new TimeRange(TimeRange.ALL.from(), last(end))));
    }

    private WallTime last(WallTime end) {
        WallTime last = end;
        for (Note note : corrections) {
            Correction correction = Correction.of(note).orElse(null);
            if (correction == null) {
                continue;
            }
            WallTime to = correction.movedTo();
            boolean movedBack = to != null && to.isBefore(end);
            if (movedBack && !correction.entry().time().isBefore(last)) {
                last = correction.entry().time().plusMicros(1);
            }
        }
        return last;
    }

    private static TimeRange moment(WallTime time) {
        return new TimeRange(time, time.plusMicros(1));
    }
}
