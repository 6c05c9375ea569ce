package org.bankfire.daemon.trials;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.analysis.trial.TrialBurn;
import org.bankfire.analysis.trial.TrialSeries;
import org.bankfire.daemon.fitting.GatheredBurn;
import org.bankfire.daemon.fitting.KnownForges;
import org.bankfire.daemon.fitting.StoredBurn;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.StoredLog;
import org.bankfire.daemon.store.TimeRange;
import org.bankfire.dashboard.source.TrialBook;
import org.bankfire.dashboard.source.TrialBook.Asked;

/**
 * Trials of the burns that a store holds. Burns that were read are kept as long as neither the log book nor their fit says
 * anything new. Safe for use by many threads; one series is worked out at a time.
 */
public final class StoredTrialBurns {
    /** Burns that a span is looked for in: some years of them. */
    private static final int MOST_LOOKED_AT = 5_000;
    /** Burns kept at hand, over all forges: two answers of the longest, some 300 kB a burn. */
    private static final int MOST_KEPT = 2 * TrialBook.MOST_BURNS;

    private final ReadingStore store;
    private final Map<String, Kept> kept = new LinkedHashMap<>(16, 0.75f, true);

    private record Kept(Version version, TrialBurn burn) {}

    /** What a burn as trials see it depends on: itself, settings, notes and corrections as they stand, and its fit. */
    private record Version(Burn burn, List<Setting> settings, WallTime fittedAt, int notes, int corrections) {}

    public StoredTrialBurns(ReadingStore store) {
        this.store = store;
    }

    /**
     * The series of a forge.
     *
     * @throws IllegalArgumentException naming a burn that the forge does not have
     */
    public synchronized TrialSeries series(ForgeDescription forge, Asked asked) throws StoreException {
        List<TrialBurn> burns = new ArrayList<>();
        StoredLog log = new StoredLog(store, forge.id());
        ResolvedLog settings = log.settingsTo(TimeRange.ALL.to());
        for (Burn burn : burns(forge.id(), asked)) {
            read(forge, burn, settings.settings(), log.corrections().size()).ifPresent(burns::add);
        }
        List<Setting> inForce = List.copyOf(settings.inForce(TimeRange.ALL.to()).values());
        return TrialSeries.of(forge, burns, inForce);
    }

    private List<Burn> burns(String forge, Asked asked) throws StoreException {
        List<Burn> burns = new ArrayList<>();
        for (String id : asked.burns()) {
            burns.add(store.burn(id)
                    .filter(burn -> burn.forge().equals(forge))
                    .orElseThrow(() -> new IllegalArgumentException(
                            "burns names \"" + id + "\": forge \"" + forge + "\" has no such burn")));
        }
        if (!asked.burns().isEmpty()) {
            return burns;
        }
        return store.burns(forge, MOST_LOOKED_AT).stream()
                .filter(burn ->
                        !burn.start().isBefore(asked.from()) && burn.start().isBefore(asked.to()))
                .limit(TrialBook.MOST_BURNS)
                .toList();
    }

    private Optional<TrialBurn> read(ForgeDescription forge, Burn burn, List<Setting> settings, int corrections)
            throws StoreException {
        Optional<StoredFit> fit = store.fit(burn.id());
        WallTime end = burn.end();
        TimeRange span = new TimeRange(burn.start(), end == null ? new WallTime(Long.MAX_VALUE) : end);
        Version version = new Version(
                burn,
                settings.stream()
                        .filter(setting -> setting.time().isBefore(span.to()))
                        .toList(),
                fit.map(StoredFit::finishedAt).orElse(burn.start()),
                store.notes(forge.id(), span).size(),
                corrections);
        Kept known = kept.get(burn.id());
        if (known != null && end != null && known.version().equals(version)) {
            return Optional.of(known.burn());
        }
        TrialTap tap = new TrialTap();
        Optional<GatheredBurn> gathered = new StoredBurn(store, forge, burn).gather(step -> {}, tap);
        if (gathered.isEmpty()) {
            return Optional.empty();
        }
        GatheredBurn found = gathered.get();
        KnownForge told =
                fit.flatMap(each -> KnownForges.of(found.forge(), each.json())).orElse(null);
        TrialBurn read = tap.recorder().burn(burn.id(), burn.start(), found.forge(), found.record(), told);
        kept.put(burn.id(), new Kept(version, read));
        if (kept.size() > MOST_KEPT) {
            kept.remove(kept.keySet().iterator().next());
        }
        return Optional.of(read);
    }
}
