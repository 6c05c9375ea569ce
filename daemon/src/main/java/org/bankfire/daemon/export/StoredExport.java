package org.bankfire.daemon.export;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.PriorityQueue;
import java.util.Set;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.replay.RecordedBurnWriter;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredLog;
import org.bankfire.daemon.store.TimeRange;
import org.jspecify.annotations.Nullable;

/** Stored readings, notes and settings in the order of time. */
public final class StoredExport {
    private StoredExport() {}

    /** Everything of a burn's forge from its start to its end, or to the last reading while it burns. */
    public static void write(ReadingStore store, Burn burn, RecordedBurnWriter out)
            throws StoreException, IOException, InterruptedException {
        WallTime end = burn.end();
        TimeRange range = new TimeRange(burn.start(), end != null ? end : TimeRange.ALL.to());
        write(store, List.of(burn.forge()), range, out);
    }

    /** Everything of these forges in time order; at one time notes and settings come before readings. */
    public static void write(ReadingStore store, List<String> forges, TimeRange range, RecordedBurnWriter out)
            throws StoreException, IOException, InterruptedException {
        PriorityQueue<Entry> entries =
                new PriorityQueue<>(Comparator.comparing(Entry::time).thenComparing(Entry::forge));
        List<StoredReadings> open = new ArrayList<>();
        try {
            for (String forge : forges) {
                for (Note note : notes(store, forge, range)) {
                    entries.add(new Entry(note.time(), forge, () -> out.write(note)));
                }
                for (Setting setting : settings(store, forge, range)) {
                    entries.add(new Entry(setting.time(), forge, () -> out.write(setting)));
                }
                open.add(new StoredReadings(store, forge, range));
            }
            StoredReadings earliest = earliest(open);
            while (earliest != null || !entries.isEmpty()) {
                Reading reading = earliest != null ? earliest.head() : null;
                Entry entry = entries.peek();
                if (earliest == null || reading == null || (entry != null && entry.isDueBefore(reading))) {
                    entries.remove().write.run();
                    continue;
                }
                out.write(reading);
                earliest.advance();
                earliest = earliest(open);
            }
        } finally {
            open.forEach(StoredReadings::close);
        }
    }

    /**
     * The notes of the range, those that were moved into it, and whatever corrects an entry of it, however much later: all
     * as first written down.
     */
    private static List<Note> notes(ReadingStore store, String forge, TimeRange range) throws StoreException {
        List<Note> notes = new ArrayList<>(store.notes(forge, range));
        StoredLog log = new StoredLog(store, forge);
        Set<EntryKey> keys = new HashSet<>();
        for (var entry : log.in(range).entries()) {
            keys.add(entry.key());
            if (!entry.isSetting() && !range.contains(entry.key().time())) {
                notes.add(new Note(
                        forge,
                        entry.key().time(),
                        entry.key().name(),
                        entry.first().value()));
            }
        }
        for (Note note : log.corrections()) {
            Correction correction = Correction.of(note).orElse(null);
            boolean ofTheRange = correction != null
                    && (keys.contains(correction.entry())
                            || range.contains(correction.entry().time()));
            if (ofTheRange && !range.contains(note.time())) {
                notes.add(note);
            }
        }
        return notes;
    }

    private static List<Setting> settings(ReadingStore store, String forge, TimeRange range) throws StoreException {
        List<Setting> settings = new ArrayList<>(store.settings(forge, range));
        for (var entry : new StoredLog(store, forge).in(range).entries()) {
            EntryKey key = entry.key();
            if (entry.isSetting() && !range.contains(key.time())) {
                settings.add(new Setting(
                        forge,
                        key.time(),
                        key.name(),
                        entry.first().value(),
                        entry.first().unit()));
            }
        }
        return settings;
    }

    private static @Nullable StoredReadings earliest(List<StoredReadings> open) {
        StoredReadings earliest = null;
        Reading first = null;
        for (StoredReadings readings : open) {
            Reading head = readings.head();
            if (head != null && (first == null || head.sourceTime().isBefore(first.sourceTime()))) {
                earliest = readings;
                first = head;
            }
        }
        return earliest;
    }

    /** A note or setting that waits for its time. */
    private record Entry(WallTime time, String forge, Write write) {
        boolean isDueBefore(Reading reading) {
            return !time.isAfter(reading.sourceTime());
        }
    }

    @FunctionalInterface
    private interface Write {
        void run() throws IOException;
    }
}
