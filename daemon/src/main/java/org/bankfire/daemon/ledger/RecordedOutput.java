package org.bankfire.daemon.ledger;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreBatch;
import org.bankfire.daemon.store.StoreException;
import org.jspecify.annotations.Nullable;

/** Output of a replay: events are told, and all is kept only where a store is given. */
public final class RecordedOutput implements RecordSink {
    /** Some seconds of a fast replay; a transaction of this size is cheap for each reading. */
    private static final int BATCH_READINGS = 5_000;

    private final EventWriter events;
    private final @Nullable ReadingStore store;
    private final boolean keepAlarms;
    private final List<Reading> readings = new ArrayList<>();
    private final List<Note> notes = new ArrayList<>();
    private final List<Setting> settings = new ArrayList<>();
    private final List<AlarmTransition> transitions = new ArrayList<>();
    private final List<Burn> burns = new ArrayList<>();

    /**
     * An output.
     *
     * @param store where to keep all that passes; null to keep nothing
     * @param keepAlarms whether alarm transitions are kept too
     */
    public RecordedOutput(EventWriter events, @Nullable ReadingStore store, boolean keepAlarms) {
        this.events = events;
        this.store = store;
        this.keepAlarms = keepAlarms;
    }

    /** Keeps a pack as the file has it; of a reading that is corrected anew, the one in the file stays. */
    @Override
    public void onRecord(Pack recorded) {
        if (store != null) {
            readings.addAll(recorded.readings());
        }
    }

    @Override
    public void onReading(Reading reading) {
        if (store != null) {
            readings.add(reading);
        }
    }

    @Override
    public void onNote(Note note) {
        if (store != null) {
            notes.add(note);
        }
    }

    @Override
    public void onSetting(Setting setting) {
        if (store != null) {
            settings.add(setting);
        }
    }

    @Override
    public void onAlarm(AlarmTransition transition) {
        events.write(transition);
        if (store != null && keepAlarms) {
            transitions.add(transition);
        }
    }

    @Override
    public void onBurnBoundary(BurnBoundary boundary) {
        events.write(boundary);
    }

    @Override
    public void onBurn(Burn burn) {
        if (store != null) {
            burns.add(burn);
        }
    }

    @Override
    public void onSource(SourceEvent event) {
        events.write(event);
    }

    /** Stores what has gathered, when it is enough. */
    @Override
    public void afterPack() throws StoreException {
        if (readings.size() >= BATCH_READINGS) {
            atEnd();
        }
    }

    /** Stores what has gathered. */
    @Override
    public void atEnd() throws StoreException {
        if (store == null) {
            return;
        }
        store.append(new StoreBatch(readings, notes, settings, transitions, burns));
        readings.clear();
        notes.clear();
        settings.clear();
        transitions.clear();
        burns.clear();
    }
}
