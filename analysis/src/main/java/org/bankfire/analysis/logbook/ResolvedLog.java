package org.bankfire.analysis.logbook;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;

/**
 * The log of a forge with every correction taken in.
 *
 * @param entries in order of the time that they apply to, then of their keys; withdrawn ones too
 * @param unmatched corrections of entries that are not here, in order of time: kept, and without effect until their entry
 *     comes
 */
public record ResolvedLog(List<Entry> entries, List<Correction> unmatched) {
    /** Nothing written down. */
    public static final ResolvedLog EMPTY = new ResolvedLog(List.of(), List.of());

    public ResolvedLog {
        entries = List.copyOf(entries);
        unmatched = List.copyOf(unmatched);
    }

    /** Settings as they stand, in order of time; without those that are withdrawn. */
    public List<Setting> settings() {
        List<Setting> settings = new ArrayList<>();
        for (Entry entry : entries) {
            if (entry.isSetting() && !entry.now().withdrawn()) {
                settings.add(entry.asSetting());
            }
        }
        return settings;
    }

    /** Notes as they stand, in order of time; without those that are withdrawn and without the corrections themselves. */
    public List<Note> notes() {
        List<Note> notes = new ArrayList<>();
        for (Entry entry : entries) {
            if (!entry.isSetting() && !entry.now().withdrawn()) {
                notes.add(entry.asNote());
            }
        }
        return notes;
    }

    /** Of each name the setting that holds at that time: the latest at or before it. */
    public Map<String, Setting> inForce(WallTime at) {
        Map<String, Setting> inForce = new HashMap<>();
        for (Setting setting : settings()) {
            if (!setting.time().isAfter(at)) {
                inForce.put(setting.name(), setting);
            }
        }
        return inForce;
    }

    /** The entry of that key. */
    public Optional<Entry> entry(EntryKey key) {
        return entries.stream().filter(entry -> entry.key().equals(key)).findFirst();
    }
}
