package org.bankfire.analysis.logbook;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.TreeMap;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;

/**
 * The newest entries of a forge that something hangs on, as they pass: settings, stock, weighings, and what corrects them.
 * Bounded; not safe for use by several threads.
 */
public final class RunningLog {
    /** Some ten settings exist; sources may write others, and a name that changes each time must not fill the memory. */
    static final int MOST_NAMES = 1_000;
    /** Of one name: when the latest are withdrawn, one of these holds again. */
    static final int MOST_OF_A_NAME = 32;
    /** People correct a few entries a day; the latest of a season. */
    static final int MOST_CORRECTIONS = 1_024;

    private final Map<String, TreeMap<WallTime, Setting>> settings = new HashMap<>();
    private final Map<String, TreeMap<WallTime, Note>> notes = new HashMap<>();
    private final TreeMap<WallTime, Correction> corrections = new TreeMap<>();

    /** Takes a setting as it was written down. */
    public void accept(Setting setting) {
        if (settings.containsKey(setting.name()) || settings.size() < MOST_NAMES) {
            TreeMap<WallTime, Setting> named = settings.computeIfAbsent(setting.name(), any -> new TreeMap<>());
            named.putIfAbsent(setting.time(), setting);
            bound(named, MOST_OF_A_NAME);
        }
    }

    /** Takes a note as it was written down; those that nothing hangs on are passed over. */
    public void accept(Note note) {
        if (note.name().equals(Note.CORRECTION)) {
            Correction.of(note)
                    .filter(correction -> isOfUse(correction.entry().name()))
                    .ifPresent(correction -> corrections.putIfAbsent(note.time(), correction));
            bound(corrections, MOST_CORRECTIONS);
        } else if (isOfUse(note.name())) {
            TreeMap<WallTime, Note> named = notes.computeIfAbsent(note.name(), any -> new TreeMap<>());
            named.putIfAbsent(note.time(), note);
            bound(named, MOST_OF_A_NAME);
        }
    }

    private static boolean isOfUse(String name) {
        return Setting.isSetting(name) || name.equals(Note.STOCK) || name.equals(ChannelNames.CYLINDER);
    }

    private static void bound(NavigableMap<WallTime, ?> entries, int most) {
        if (entries.size() > most) {
            entries.pollFirstEntry();
        }
    }

    /** Settings as they were written down, in order of name and time. */
    public List<Setting> writtenSettings() {
        List<Setting> all = new ArrayList<>();
        settings.values().forEach(named -> all.addAll(named.values()));
        return all;
    }

    /** Notes as they were written down, corrections last. */
    public List<Note> writtenNotes() {
        List<Note> all = new ArrayList<>();
        notes.values().forEach(named -> all.addAll(named.values()));
        corrections.values().forEach(correction -> all.add(correction.note()));
        return all;
    }

    /** The log as it stands. */
    public ResolvedLog resolved() {
        return LogResolver.resolve(writtenNotes(), writtenSettings());
    }

    /** The setting of that name that stands with the latest time. */
    public Optional<Setting> inForce(String name) {
        return latest(name).map(Entry::asSetting);
    }

    /** The entry of the setting of that name that stands with the latest time. */
    public Optional<Entry> latest(String name) {
        Entry latest = null;
        for (Entry entry : entriesOf(name)) {
            latest = entry.now().withdrawn() ? latest : entry;
        }
        return Optional.ofNullable(latest);
    }

    /** The entry of a setting as it stands; empty when it is not among the newest. */
    public Optional<Entry> entry(EntryKey key) {
        return entriesOf(key.name()).stream()
                .filter(entry -> entry.key().equals(key))
                .findFirst();
    }

    private List<Entry> entriesOf(String settingName) {
        TreeMap<WallTime, Setting> named = settings.get(settingName);
        return named == null
                ? List.of()
                : LogResolver.resolve(List.of(), named.values(), corrections.values())
                        .entries();
    }

    /** Of every name the setting that stands with the latest time. */
    public Collection<Setting> inForce() {
        Map<String, Setting> latest = new HashMap<>();
        for (Setting setting : LogResolver.resolve(List.of(), writtenSettings(), corrections.values())
                .settings()) {
            latest.put(setting.name(), setting);
        }
        return latest.values();
    }

    /** Another log that holds the same now. */
    public RunningLog copy() {
        RunningLog copy = new RunningLog();
        writtenSettings().forEach(copy::accept);
        writtenNotes().forEach(copy::accept);
        return copy;
    }
}
