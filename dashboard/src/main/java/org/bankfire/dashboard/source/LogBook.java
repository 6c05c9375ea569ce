package org.bankfire.dashboard.source;

import java.util.List;
import java.util.Map;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;

/** Notes, settings, burns and the alarm journal, as stored. */
public interface LogBook {
    /** Notes that apply to the span, as they stand after every correction; without those that are withdrawn. */
    List<Note> notes(String forge, WallTime from, WallTime to);

    /** Settings that begin to hold in the span, as they stand after every correction; without those that are withdrawn. */
    List<Setting> settings(String forge, WallTime from, WallTime to);

    /**
     * The entries that were first written down for the span or apply to it now, each with its history, and corrections of
     * entries of the span that are not there.
     */
    ResolvedLog log(String forge, WallTime from, WallTime to);

    /** Of each name the setting that holds at that time, every correction taken in. */
    Map<String, Setting> inForce(String forge, WallTime at);

    /** The newest {@code limit} alarm transitions, newest first. */
    List<AlarmTransition> alarmJournal(String forge, int limit);

    /** The newest {@code limit} burns, newest first. */
    List<Burn> burns(String forge, int limit);

    /** Writes down a note; it is in the store when this returns. */
    void add(Note note);

    /**
     * Writes down a weighing of the cylinder, as a reading and as a note of the same time and name; both are in the store
     * when this returns.
     *
     * @param weighing of channel {@code cylinder}, kg
     */
    void add(Reading weighing);

    /** Writes down a setting; it is in the store when this returns. */
    void add(Setting setting);
}
