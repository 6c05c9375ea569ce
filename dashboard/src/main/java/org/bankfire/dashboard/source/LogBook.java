package org.bankfire.dashboard.source;

import java.util.List;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;

/** Notes, settings, burns and the alarm journal, as stored. */
public interface LogBook {
    List<Note> notes(String forge, WallTime from, WallTime to);

    List<Setting> settings(String forge, WallTime from, WallTime to);

    /** The newest {@code limit} alarm transitions, newest first. */
    List<AlarmTransition> alarmJournal(String forge, int limit);

    /** The newest {@code limit} burns, newest first. */
    List<Burn> burns(String forge, int limit);

    /** Writes down a note; it is in the store when this returns. */
    void add(Note note);

    /** Writes down a setting; it is in the store when this returns. */
    void add(Setting setting);
}
