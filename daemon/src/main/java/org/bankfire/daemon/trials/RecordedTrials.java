package org.bankfire.daemon.trials;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.burnfit.BurnFitResult;
import org.bankfire.analysis.logbook.LogResolver;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.trial.TrialBurn;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.fitting.GatheredBurn;
import org.bankfire.daemon.fitting.RecordedBurns;
import org.bankfire.daemon.ledger.RecordSink;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.dashboard.source.TrialBook;
import org.jspecify.annotations.Nullable;

/**
 * Finds the burns of a record that runs through the pipeline, fits them and keeps them as trials see them, with settings as
 * they stand after every correction.
 */
public final class RecordedTrials implements RecordSink {
    /** A few settings a burn, over years of them; of a longer record the earliest are forgotten. */
    private static final int MOST_SETTINGS = 20_000;

    private final RecordedBurns burns;
    private final List<Note> corrections;
    private final Function<GatheredBurn, BurnFitResult> fitter;
    private final Map<String, Forge> forges = new LinkedHashMap<>();

    /** What is known of one forge. */
    private static final class Forge {
        private final Deque<Setting> settings = new ArrayDeque<>();
        private final Deque<Found> found = new ArrayDeque<>();
        private @Nullable WallTime start;
        private String burnId = "";
        private TrialTap tap = new TrialTap();
        /** Of the burn before, until it is told that it is complete. */
        private String beforeId = "";

        private TrialTap before = new TrialTap();
    }

    private record Found(GatheredBurn burn, BurnFitResult fit, TrialTap tap) {}

    /**
     * Nothing found yet.
     *
     * @param corrections those of the whole record
     * @param fitter makes the fit of a burn
     */
    public RecordedTrials(
            List<ForgeConfig> forges, List<Note> corrections, Function<GatheredBurn, BurnFitResult> fitter) {
        this.fitter = fitter;
        this.corrections = List.copyOf(corrections);
        burns = new RecordedBurns(forges, corrections, this::found);
        forges.forEach(forge -> this.forges.put(forge.id(), new Forge()));
    }

    private void found(GatheredBurn burn) {
        Forge forge = forges.get(burn.forge().id());
        if (forge == null) {
            return;
        }
        TrialTap tap = burn.burnId().equals(forge.burnId)
                ? forge.tap
                : burn.burnId().equals(forge.beforeId) ? forge.before : new TrialTap();
        if (forge.found.size() == TrialBook.MOST_BURNS) {
            forge.found.removeFirst();
        }
        forge.found.addLast(new Found(burn, fitter.apply(burn), tap));
    }

    /** Burns of a forge, the newest {@link TrialBook#MOST_BURNS}; to be asked for once, at the end of the record. */
    public List<TrialBurn> burns(String forge) {
        Forge known = forges.get(forge);
        List<TrialBurn> told = new ArrayList<>();
        if (known == null) {
            return told;
        }
        ResolvedLog log = log(forge, known);
        for (Found found : known.found) {
            GatheredBurn burn = found.burn();
            log.inForce(burn.start()).values().forEach(setting -> found.tap().setting(0, setting));
            for (Setting setting : log.settings()) {
                if (setting.time().isAfter(burn.start()) && setting.time().isBefore(burn.end())) {
                    found.tap().setting(setting.time().secondsSince(burn.start()), setting);
                }
            }
            told.add(found.tap()
                    .recorder()
                    .burn(
                            burn.burnId(),
                            burn.start(),
                            burn.forge(),
                            burn.record(),
                            found.fit().converged() ? found.fit().known() : null));
        }
        return told;
    }

    private ResolvedLog log(String forge, Forge known) {
        return LogResolver.resolve(
                corrections.stream().filter(note -> note.forge().equals(forge)).toList(), known.settings);
    }

    /** Settings in force at the end of the record. */
    public List<Setting> inForce(String forge) {
        Forge known = forges.get(forge);
        return known == null
                ? List.of()
                : List.copyOf(log(forge, known).inForce(TimeRange.ALL.to()).values());
    }

    @Override
    public void onReading(Reading reading) {
        burns.onReading(reading);
        Forge forge = forges.get(reading.channel().forge());
        WallTime start = forge == null ? null : forge.start;
        if (forge != null && start != null) {
            forge.tap.reading(reading.sourceTime().secondsSince(start), reading);
        }
    }

    @Override
    public void onSetting(Setting setting) {
        Forge forge = forges.get(setting.forge());
        if (forge != null) {
            if (forge.settings.size() == MOST_SETTINGS) {
                forge.settings.removeFirst();
            }
            forge.settings.addLast(setting);
        }
        burns.onSetting(setting);
    }

    @Override
    public void onBurn(Burn burn) {
        Forge forge = forges.get(burn.forge());
        if (forge != null && burn.end() == null && !burn.id().equals(forge.burnId)) {
            forge.before = forge.tap;
            forge.beforeId = forge.burnId;
            forge.tap = new TrialTap();
            forge.burnId = burn.id();
            forge.start = burn.start();
        }
        burns.onBurn(burn);
    }

    @Override
    public void onNote(Note note) {
        burns.onNote(note);
    }

    @Override
    public void atEnd() {
        burns.atEnd();
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
