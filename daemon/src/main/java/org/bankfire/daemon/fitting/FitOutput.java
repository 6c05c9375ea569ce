package org.bankfire.daemon.fitting;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.logbook.RunningLog;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.ledger.PipelineOutput;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Passes everything on, and gathers burns from it by the way. A fault of the gathering is logged and passed over. */
public final class FitOutput implements PipelineOutput {
    private static final Logger log = LoggerFactory.getLogger(FitOutput.class);

    private final PipelineOutput next;
    private final Map<String, BurnGatherer> gatherers = new HashMap<>();
    private long faults;

    /**
     * An output that gathers.
     *
     * @param next where everything goes first
     * @param coolDownS how much of a cool-down belongs to its burn, s
     */
    public FitOutput(PipelineOutput next, List<ForgeDescription> forges, double coolDownS, List<BurnTaker> takers) {
        this.next = next;
        for (ForgeDescription forge : forges) {
            gatherers.put(forge.id(), new BurnGatherer(forge, coolDownS, takers));
        }
    }

    /** What was written down of a forge before. */
    public void restore(String forge, RunningLog before) {
        gather(forge, gatherer -> gatherer.restore(before));
    }

    /** What was gathered is all there will be. */
    public void finish() {
        gatherers.keySet().forEach(forge -> gather(forge, BurnGatherer::finish));
    }

    private void gather(String forge, Consumer<BurnGatherer> what) {
        BurnGatherer gatherer = gatherers.get(forge);
        if (gatherer == null) {
            return;
        }
        try {
            what.accept(gatherer);
        } catch (RuntimeException fault) {
            faults++;
            // The first and then ever rarer: a fault at one reading may be there at every one.
            if (Long.bitCount(faults) == 1) {
                log.error("a burn of {} could not be gathered for its fit, {} times so far", forge, faults, fault);
            }
        }
    }

    @Override
    public void onReading(Reading reading) {
        next.onReading(reading);
        gather(reading.channel().forge(), gatherer -> gatherer.accept(reading));
    }

    @Override
    public void onNote(Note note) {
        next.onNote(note);
        gather(note.forge(), gatherer -> gatherer.accept(note));
    }

    @Override
    public void onSetting(Setting setting) {
        next.onSetting(setting);
        gather(setting.forge(), gatherer -> gatherer.accept(setting));
    }

    @Override
    public void onAlarm(AlarmTransition transition) {
        next.onAlarm(transition);
    }

    @Override
    public void onBurnBoundary(BurnBoundary boundary) {
        next.onBurnBoundary(boundary);
    }

    @Override
    public void onBurn(Burn burn) {
        next.onBurn(burn);
        gather(burn.forge(), gatherer -> gatherer.accept(burn));
    }

    @Override
    public void onSource(SourceEvent event) {
        next.onSource(event);
    }
}
