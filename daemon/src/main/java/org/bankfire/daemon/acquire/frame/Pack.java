package org.bankfire.daemon.acquire.frame;

import java.util.List;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;

/**
 * What one frame says, in the order of its records: raw readings as received, faults as readings of bad quality on the
 * channel that they speak of, and the rest as notes and settings.
 */
public record Pack(List<Reading> readings, List<Note> notes, List<Setting> settings) {
    public Pack {
        readings = List.copyOf(readings);
        notes = List.copyOf(notes);
        settings = List.copyOf(settings);
    }
}
