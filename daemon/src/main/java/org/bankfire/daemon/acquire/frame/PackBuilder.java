package org.bankfire.daemon.acquire.frame;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;

/**
 * Gathers what belongs to one pack. A fault without a value and a trusted value of the same channel and time become one
 * reading: the value with the fault's quality. Both share a key, so apart only the first would be stored.
 *
 * <p>For one thread.
 */
public final class PackBuilder {
    private final List<Reading> readings = new ArrayList<>();
    private final List<Note> notes = new ArrayList<>();
    private final List<Setting> settings = new ArrayList<>();
    private boolean hasFault;

    public void add(Reading reading) {
        readings.add(reading);
        hasFault |= isBareFault(reading);
    }

    public void add(Note note) {
        notes.add(note);
    }

    public void add(Setting setting) {
        settings.add(setting);
    }

    /** The pack of everything added so far. */
    public Pack build() {
        return new Pack(hasFault ? withFaultsMerged() : readings, notes, settings);
    }

    private List<Reading> withFaultsMerged() {
        Map<Key, Reading> faults = new HashMap<>();
        Map<Key, Boolean> valued = new HashMap<>();
        for (Reading reading : readings) {
            Key key = new Key(reading.channel(), reading.sourceTime());
            if (isBareFault(reading)) {
                faults.putIfAbsent(key, reading);
            } else if (!reading.quality().isBad()) {
                valued.put(key, true);
            }
        }
        List<Reading> merged = new ArrayList<>(readings.size());
        for (Reading reading : readings) {
            Key key = new Key(reading.channel(), reading.sourceTime());
            Reading fault = faults.get(key);
            if (isBareFault(reading)) {
                if (!valued.containsKey(key)) {
                    merged.add(reading);
                }
            } else if (fault != null && !reading.quality().isBad()) {
                merged.add(new Reading(
                        reading.channel(),
                        reading.value(),
                        reading.unit(),
                        reading.standardUncertainty(),
                        fault.quality(),
                        reading.sourceTime(),
                        reading.receiptTime()));
            } else {
                merged.add(reading);
            }
        }
        return merged;
    }

    private static boolean isBareFault(Reading reading) {
        return Double.isNaN(reading.value());
    }

    private record Key(Channel channel, WallTime sourceTime) {}
}
