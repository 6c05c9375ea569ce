package org.bankfire.analysis.logbook;

import java.util.List;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;

/**
 * An entry of a forge's log as it stands, with what it was before.
 *
 * @param forge the forge's id
 * @param key names it for good
 * @param first as first written down
 * @param now as it stands after every correction
 * @param history what changed it, in order; empty when nothing did
 */
public record Entry(String forge, EntryKey key, State first, State now, List<Revision> history) {
    public Entry {
        history = List.copyOf(history);
    }

    /**
     * What an entry says.
     *
     * @param time from when it holds
     * @param value of a setting, or a note's text
     * @param unit of a setting's value; empty for a note
     * @param withdrawn whether it is as if it had never been written
     */
    public record State(WallTime time, String value, String unit, boolean withdrawn) {}

    /**
     * A step of an entry's history.
     *
     * @param at when it was corrected
     * @param by who, in words; empty when nobody said
     */
    public record Revision(WallTime at, String by, State before, State after) {}

    /** Whether it is a setting, and not a note. */
    public boolean isSetting() {
        return Setting.isSetting(key.name());
    }

    /** Whether it says something else than when it was first written down, or is withdrawn. */
    public boolean isCorrected() {
        return !history.isEmpty();
    }

    /** The setting as it stands; of an entry that is one. */
    public Setting asSetting() {
        return new Setting(forge, now.time(), key.name(), now.value(), now.unit());
    }

    /** The note as it stands; of an entry that is one. */
    public Note asNote() {
        return new Note(forge, now.time(), key.name(), now.value());
    }
}
