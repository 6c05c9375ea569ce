package org.bankfire.analysis.logbook;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.bankfire.analysis.alarm.AlarmAction;
import org.bankfire.analysis.correction.ZeroCapture;
import org.bankfire.analysis.monitor.ForgeMonitor;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;

/**
 * Reads entries and corrections together. The outcome does not hang on the order in which they came: corrections of one
 * entry are taken in order of their own time, and of two with the same key the first that is given stays, as in the store.
 */
public final class LogResolver {
    private static final Comparator<Correction> IN_TIME = Comparator.comparing(Correction::at)
            .thenComparing(correction -> correction.note().text());
    private static final String ZEROS = ZeroCapture.settingName("");

    private LogResolver() {}

    /**
     * Whether people may correct entries of that name. What was done about alarms, the steps of the clock and what the
     * monitor counts or captures for itself already had their effect; a correction is corrected by another one.
     */
    public static boolean isCorrectable(String name) {
        boolean ofTheDaemon = name.equals(Note.CLOCK_STEP) || ForgeMonitor.isKept(name) || name.startsWith(ZEROS);
        return !ofTheDaemon && !name.equals(Note.CORRECTION) && !AlarmAction.isKeptAs(name);
    }

    /**
     * The entries as they stand.
     *
     * @param notes of one forge, in any order, the corrections among them
     * @param settings of the same forge, in any order
     */
    public static ResolvedLog resolve(Collection<Note> notes, Collection<Setting> settings) {
        List<Note> others = new ArrayList<>(notes.size());
        Map<WallTime, Note> corrections = new LinkedHashMap<>();
        for (Note note : notes) {
            if (note.name().equals(Note.CORRECTION)) {
                corrections.putIfAbsent(note.time(), note);
            } else {
                others.add(note);
            }
        }
        return resolve(
                others,
                settings,
                corrections.values().stream()
                        .map(Correction::of)
                        .flatMap(Optional::stream)
                        .toList());
    }

    /** The same with the corrections apart. */
    static ResolvedLog resolve(
            Collection<Note> notes, Collection<Setting> settings, Collection<Correction> corrections) {
        Map<EntryKey, Entry> first = new TreeMap<>();
        for (Setting setting : settings) {
            enter(
                    first,
                    setting.forge(),
                    new EntryKey(setting.time(), setting.name()),
                    setting.value(),
                    setting.unit());
        }
        for (Note note : notes) {
            enter(first, note.forge(), new EntryKey(note.time(), note.name()), note.text(), "");
        }
        Map<EntryKey, List<Correction>> ofEntries = new HashMap<>();
        for (Correction correction : corrections) {
            ofEntries
                    .computeIfAbsent(correction.entry(), any -> new ArrayList<>())
                    .add(correction);
        }
        List<Entry> entries = new ArrayList<>(first.size());
        for (Entry entry : first.values()) {
            List<Correction> ofEntry = isCorrectable(entry.key().name()) ? ofEntries.remove(entry.key()) : null;
            entries.add(ofEntry == null ? entry : corrected(entry, ofEntry));
        }
        entries.sort(Comparator.comparing((Entry entry) -> entry.now().time()).thenComparing(Entry::key));
        List<Correction> unmatched = new ArrayList<>();
        ofEntries.values().forEach(unmatched::addAll);
        unmatched.sort(IN_TIME);
        return new ResolvedLog(entries, unmatched);
    }

    private static void enter(Map<EntryKey, Entry> first, String forge, EntryKey key, String value, String unit) {
        Entry.State said = new Entry.State(key.time(), value, unit, false);
        first.putIfAbsent(key, new Entry(forge, key, said, said, List.of()));
    }

    private static Entry corrected(Entry entry, List<Correction> corrections) {
        List<Correction> inTime = new ArrayList<>(corrections);
        inTime.sort(IN_TIME);
        Entry.State now = entry.now();
        List<Entry.Revision> history = new ArrayList<>(inTime.size());
        for (Correction correction : inTime) {
            Entry.State after = after(now, correction, entry.isSetting());
            if (!after.equals(now)) {
                history.add(new Entry.Revision(correction.at(), correction.by(), now, after));
                now = after;
            }
        }
        return new Entry(entry.forge(), entry.key(), entry.first(), now, history);
    }

    private static Entry.State after(Entry.State now, Correction correction, boolean setting) {
        if (correction.withdrawn()) {
            return new Entry.State(now.time(), now.value(), now.unit(), true);
        }
        String value = now.value();
        String unit = now.unit();
        String corrected = correction.value();
        if (corrected != null && setting) {
            Worded worded = Worded.of(corrected);
            value = worded.value();
            unit = worded.unit();
        } else if (corrected != null) {
            value = corrected;
        }
        return new Entry.State(correction.movedTo() != null ? correction.movedTo() : now.time(), value, unit, false);
    }
}
