package org.bankfire.daemon.command;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.IOException;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.PriorityQueue;
import java.util.Set;
import java.util.concurrent.Callable;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.replay.RecordedBurnWriter;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredLog;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.daemon.store.sqlite.SqliteStore;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Stored readings, notes and settings out of the store. */
@Command(name = "export", description = "Writes stored readings, notes and settings to standard output.")
public final class ExportCommand implements Callable<Integer> {
    @Mixin
    private ConfigOption config = new ConfigOption();

    @ArgGroup(multiplicity = "1")
    private Stretch stretch = new Stretch();

    @Option(names = "--format", required = true, paramLabel = "csv|senml", description = "csv or senml.")
    private RecordedBurnWriter.Format format = RecordedBurnWriter.Format.CSV;

    @Spec
    private @Nullable CommandSpec spec;

    /** What to write: a burn, or a stretch of time. */
    static final class Stretch {
        @Option(names = "--burn", paramLabel = "ID", description = "A burn's id, such as shed-20260301T100012Z.")
        @Nullable
        String burn;

        @ArgGroup(exclusive = false)
        @Nullable
        Times times;
    }

    /** A stretch of time over all forges. */
    static final class Times {
        @Option(names = "--from", required = true, paramLabel = "T", description = "ISO 8601 with zone; included.")
        String from = "";

        @Option(names = "--to", required = true, paramLabel = "T", description = "ISO 8601 with zone; excluded.")
        String to = "";
    }

    @Override
    public Integer call() throws ConfigException, IOException, StoreException, InterruptedException {
        BankfireConfig resolved = config.read();
        try (ReadingStore store = SqliteStore.openReadOnly(resolved.store().path());
                RecordedBurnWriter out = new RecordedBurnWriter(new FileOutputStream(FileDescriptor.out), format)) {
            Times times = stretch.times;
            if (times != null) {
                TimeRange range = new TimeRange(time("--from", times.from), time("--to", times.to));
                write(store, store.forges(), range, out);
            } else {
                Burn burn = burn(store);
                WallTime end = burn.end();
                write(
                        store,
                        List.of(burn.forge()),
                        new TimeRange(burn.start(), end != null ? end : TimeRange.ALL.to()),
                        out);
            }
        }
        return ExitCodes.DONE;
    }

    private Burn burn(ReadingStore store) throws StoreException {
        String id = String.valueOf(stretch.burn);
        return store.burn(id).orElseThrow(() -> usage("--burn \"" + id + "\": the store has no such burn"));
    }

    /** Everything of these forges in time order; at one time notes and settings come before readings. */
    private static void write(ReadingStore store, List<String> forges, TimeRange range, RecordedBurnWriter out)
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

    private WallTime time(String option, String text) {
        try {
            return WallTime.of(Instant.parse(text));
        } catch (DateTimeException bad) {
            throw usage(option + " \"" + text + "\": allowed is ISO 8601 with a zone, such as 2026-03-01T10:00:00Z");
        }
    }

    private CommandLine.ParameterException usage(String message) {
        CommandSpec known = spec;
        if (known == null) {
            throw new IllegalStateException(message);
        }
        return new CommandLine.ParameterException(known.commandLine(), message);
    }
}
