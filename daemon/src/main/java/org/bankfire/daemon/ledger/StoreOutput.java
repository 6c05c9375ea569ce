package org.bankfire.daemon.ledger;

import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.store.StoreWriter;

/** Keeps all that passes through a pipeline and tells the events. */
public final class StoreOutput implements PipelineOutput {
    private final StoreWriter writer;
    private final EventWriter events;
    private final Lease lease;
    private long lostLines;
    private long alarms;

    /** Keeps by {@code writer} and tells by {@code events}, for good. */
    public StoreOutput(StoreWriter writer, EventWriter events) {
        this(writer, events, new Lease());
    }

    /** Keeps by {@code writer} and tells by {@code events} as long as {@code lease} is held. */
    public StoreOutput(StoreWriter writer, EventWriter events, Lease lease) {
        this.writer = writer;
        this.events = events;
        this.lease = lease;
    }

    @Override
    public void onReading(Reading reading) {
        lease.check();
        writer.add(reading);
    }

    @Override
    public void onNote(Note note) {
        lease.check();
        writer.add(note);
    }

    @Override
    public void onSetting(Setting setting) {
        lease.check();
        writer.add(setting);
    }

    @Override
    public void onAlarm(AlarmTransition transition) {
        alarms++;
        lease.check();
        writer.add(transition);
        lease.check();
        events.write(transition);
    }

    @Override
    public void onBurnBoundary(BurnBoundary boundary) {
        lease.check();
        events.write(boundary);
    }

    @Override
    public void onBurn(Burn burn) {
        lease.check();
        writer.add(burn);
    }

    @Override
    public void onSource(SourceEvent event) {
        if (event.kind() == SourceEvent.Kind.LINES_LOST) {
            lostLines += Math.round(event.value());
        }
        lease.check();
        events.write(event);
    }

    /** Steps of alarms since the start. */
    long alarms() {
        return alarms;
    }

    /** Lines that the running numbers say are missing, since the start. */
    long lostLines() {
        return lostLines;
    }
}
