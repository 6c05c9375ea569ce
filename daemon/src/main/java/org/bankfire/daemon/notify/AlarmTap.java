package org.bankfire.daemon.notify;

import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.ledger.PipelineOutput;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Passes everything on, and shows the steps of alarms to the outputs by the way. */
public final class AlarmTap implements PipelineOutput {
    private static final Logger log = LoggerFactory.getLogger(AlarmTap.class);

    private final PipelineOutput next;
    private final Outputs outputs;

    /** A tap before {@code next}, where everything goes first. */
    public AlarmTap(PipelineOutput next, Outputs outputs) {
        this.next = next;
        this.outputs = outputs;
    }

    @Override
    public void onAlarm(AlarmTransition transition) {
        try {
            next.onAlarm(transition);
        } finally {
            // An alarm that could not be kept is told all the same.
            tell(transition);
        }
    }

    private void tell(AlarmTransition transition) {
        try {
            outputs.onAlarm(transition);
        } catch (RuntimeException fault) {
            log.error("an alarm of {} could not be handed to the outputs", transition.forge(), fault);
        }
    }

    @Override
    public void onReading(Reading reading) {
        next.onReading(reading);
    }

    @Override
    public void onNote(Note note) {
        next.onNote(note);
    }

    @Override
    public void onSetting(Setting setting) {
        next.onSetting(setting);
    }

    @Override
    public void onBurnBoundary(BurnBoundary boundary) {
        next.onBurnBoundary(boundary);
    }

    @Override
    public void onBurn(Burn burn) {
        next.onBurn(burn);
    }

    @Override
    public void onSource(SourceEvent event) {
        next.onSource(event);
    }
}
