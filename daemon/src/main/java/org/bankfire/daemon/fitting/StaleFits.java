package org.bankfire.daemon.fitting;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burnfit.LiningTrend;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.ResolvedLog;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.daemon.store.StoredLog;
import org.bankfire.daemon.store.TimeRange;

/** Finds burns whose stored fit was made when the log told otherwise what hands did. */
final class StaleFits {
    /** As many as the lining's trend looks at; what is known of a forge comes from the newest of them. */
    private static final int MOST_BURNS = LiningTrend.MOST_BURNS;
    /** A correction that no daemon saw, made by command, is found at the next start when it is no older than a year. */
    private static final double LOOKED_BACK_S = 366 * 86_400.0;

    private final ReadingStore store;
    private final Map<String, ForgeDescription> forges;

    StaleFits(ReadingStore store, Map<String, ForgeDescription> forges) {
        this.store = store;
        this.forges = Map.copyOf(forges);
    }

    /** Corrections of the log of the last year, for {@link #of}. */
    List<Retold> corrections(String forge, WallTime now) throws StoreException {
        TimeRange year = new TimeRange(now.plusSeconds(-LOOKED_BACK_S), TimeRange.ALL.to());
        List<Retold> found = new ArrayList<>();
        for (Note note : store.notes(forge, Note.CORRECTION, year)) {
            Correction.of(note)
                    .filter(correction -> Retold.concernsFits(correction.entry().name()))
                    .ifPresent(correction -> found.add(Retold.by(correction)));
        }
        return found;
    }

    /** Burns that have ended and whose fit was made before one of these, which concerns them; newest first. */
    List<Burn> of(String forge, List<Retold> retold) throws StoreException {
        List<Burn> stale = new ArrayList<>();
        if (retold.isEmpty() || !forges.containsKey(forge)) {
            return stale;
        }
        List<Burn> burns = store.burns(forge, MOST_BURNS);
        ResolvedLog settings = new StoredLog(store, forge).settingsTo(TimeRange.ALL.to());
        for (Burn burn : burns) {
            WallTime end = burn.end();
            if (end == null) {
                continue;
            }
            WallTime to = end.plusSeconds(RecordedBurns.COOL_DOWN_S);
            List<Retold> ofIt = retold.stream()
                    .filter(one -> one.first().isBefore(to) && reaches(one, burn.start(), settings))
                    .toList();
            if (ofIt.isEmpty()) {
                continue;
            }
            Optional<StoredFit> fit = store.fit(burn.id());
            if (fit.isPresent()
                    && ofIt.stream().anyMatch(one -> one.isAfter(fit.get().finishedAt()))) {
                stale.add(burn);
            }
        }
        return stale;
    }

    /** Whether what began then is still concerned: a setting is until the next of its name, stock for the while before. */
    private static boolean reaches(Retold one, WallTime start, ResolvedLog settings) {
        if (!one.lasts()) {
            return !one.last().isBefore(start.plusSeconds(-StoredBurn.STOCK_BEFORE_S));
        }
        for (Setting other : settings.settings()) {
            boolean between = other.time().isAfter(one.last()) && !other.time().isAfter(start);
            if (between && other.name().equals(one.entry().name())) {
                return false;
            }
        }
        return true;
    }

    /** The burn as the log tells it now; empty without a good chamber reading or when it is not there. */
    Optional<GatheredBurn> gather(Burn burn) throws StoreException {
        ForgeDescription forge = forges.get(burn.forge());
        return forge == null
                ? Optional.empty()
                : new StoredBurn(store, forge, burn).gather(step -> {}, StoredBurn.Tap.NONE);
    }
}
