package org.bankfire.daemon.bench;

import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.ledger.PipelineOutput;

/** Hears the alarms of a pipeline and keeps nothing. */
record AlarmsOnly(Consumer<AlarmTransition> listener) implements PipelineOutput {
    @Override
    public void onAlarm(AlarmTransition transition) {
        listener.accept(transition);
    }

    @Override
    public void onReading(Reading reading) {}

    @Override
    public void onNote(Note note) {}

    @Override
    public void onSetting(Setting setting) {}

    @Override
    public void onBurnBoundary(BurnBoundary boundary) {}

    @Override
    public void onBurn(Burn burn) {}

    @Override
    public void onSource(SourceEvent event) {}
}
