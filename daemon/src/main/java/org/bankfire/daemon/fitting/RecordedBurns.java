package org.bankfire.daemon.fitting;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.fitting.GatheredBurn.Stage;
import org.bankfire.daemon.ledger.RecordSink;
import org.jspecify.annotations.Nullable;

/**
 * Finds the burns of a record that runs through the pipeline. Of a forge of which no burn begins in the record, all of it
 * is taken for one burn: it may have been cut out of the middle of one.
 */
public final class RecordedBurns implements RecordSink {
    /** Of a cool-down, s: by then light block has given back most of its heat. Common practice, no source. */
    public static final double COOL_DOWN_S = 2_700;
    /** A burn without an end ends with its readings; this bounds the search for them, s. */
    public static final double LONGEST_S = 86_400;

    private final Map<String, Forge> forges = new LinkedHashMap<>();
    private final Consumer<GatheredBurn> found;
    private final List<Note> corrections;

    /** What is known of one forge. */
    private static final class Forge {
        private final ForgeDescription description;
        private final BurnGatherer gatherer;
        private boolean burned;
        private @Nullable BurnIntake whole;
        private WallTime first = new WallTime(0);

        Forge(ForgeDescription description, BurnGatherer gatherer) {
            this.description = description;
            this.gatherer = gatherer;
        }
    }

    /**
     * Nothing found yet.
     *
     * @param forges whose burns are looked for
     * @param corrections those of the whole record: a burn may be corrected long after it is complete
     * @param found told each burn as soon as it is complete
     */
    public RecordedBurns(List<ForgeConfig> forges, List<Note> corrections, Consumer<GatheredBurn> found) {
        this.found = found;
        this.corrections = List.copyOf(corrections);
        BurnTaker taker = new BurnTaker() {
            @Override
            public boolean wants(String forge, String burnId, Stage stage) {
                return stage == Stage.COOLED;
            }

            @Override
            public void take(GatheredBurn burn) {
                if (burn.record().samples() > 0) {
                    found.accept(burn);
                }
            }
        };
        for (ForgeConfig config : forges) {
            Forge forge = new Forge(
                    config.description(), new BurnGatherer(config.description(), COOL_DOWN_S, List.of(taker)));
            correctionsOf(forge).forEach(forge.gatherer::accept);
            this.forges.put(config.id(), forge);
        }
    }

    @Override
    public void onReading(Reading reading) {
        Forge forge = forges.get(reading.channel().forge());
        if (forge == null) {
            return;
        }
        forge.gatherer.accept(reading);
        BurnIntake whole = wholeOf(forge, reading.sourceTime());
        if (whole != null) {
            whole.take(reading);
        }
    }

    @Override
    public void onNote(Note note) {
        Forge forge = forges.get(note.forge());
        if (forge != null) {
            forge.gatherer.accept(note);
            BurnIntake whole = wholeOf(forge, note.time());
            if (whole != null) {
                whole.take(note);
            }
        }
    }

    @Override
    public void onSetting(Setting setting) {
        Forge forge = forges.get(setting.forge());
        if (forge != null) {
            forge.gatherer.accept(setting);
            BurnIntake whole = wholeOf(forge, setting.time());
            if (whole != null) {
                whole.take(setting);
            }
        }
    }

    /** The record as one burn, as long as nothing else is known. */
    private @Nullable BurnIntake wholeOf(Forge forge, WallTime time) {
        if (!forge.burned && forge.whole == null) {
            forge.first = time;
            BurnIntake whole = new BurnIntake(time);
            correctionsOf(forge).forEach(whole::take);
            forge.whole = whole;
        }
        return forge.whole;
    }

    private List<Note> correctionsOf(Forge forge) {
        return corrections.stream()
                .filter(note -> note.forge().equals(forge.description.id()))
                .toList();
    }

    @Override
    public void onBurn(Burn burn) {
        Forge forge = forges.get(burn.forge());
        if (forge != null) {
            forge.burned = true;
            forge.whole = null;
            forge.gatherer.accept(burn);
        }
    }

    @Override
    public void atEnd() {
        for (Forge forge : forges.values()) {
            forge.gatherer.finish();
            BurnIntake whole = forge.whole;
            if (whole != null && whole.hasChamber()) {
                String id = Burn.idOf(forge.description.id(), forge.first);
                found.accept(whole.gathered(forge.description, id, Stage.COOLED, Double.POSITIVE_INFINITY));
            }
        }
    }

    @Override
    public void onRecord(Pack recorded) {}

    @Override
    public void afterPack() {}

    @Override
    public void onAlarm(AlarmTransition transition) {}

    @Override
    public void onBurnBoundary(BurnBoundary boundary) {}

    @Override
    public void onSource(SourceEvent event) {}
}
