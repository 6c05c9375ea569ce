package org.bankfire.daemon.store;

import java.util.List;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;

/** What is stored together. */
public record StoreBatch(
        List<Reading> readings,
        List<Note> notes,
        List<Setting> settings,
        List<AlarmTransition> transitions,
        List<Burn> burns,
        List<StoredFit> fits) {
    public StoreBatch {
        readings = List.copyOf(readings);
        notes = List.copyOf(notes);
        settings = List.copyOf(settings);
        transitions = List.copyOf(transitions);
        burns = List.copyOf(burns);
        fits = List.copyOf(fits);
    }

    /** A batch without fits. */
    public StoreBatch(
            List<Reading> readings,
            List<Note> notes,
            List<Setting> settings,
            List<AlarmTransition> transitions,
            List<Burn> burns) {
        this(readings, notes, settings, transitions, burns, List.of());
    }

    /** Readings and entries in it. */
    public long size() {
        return (long) readings.size()
                + notes.size()
                + settings.size()
                + transitions.size()
                + burns.size()
                + fits.size();
    }

    /** A batch of readings alone. */
    public static StoreBatch ofReadings(List<Reading> readings) {
        return new StoreBatch(readings, List.of(), List.of(), List.of(), List.of());
    }
}
