package org.bankfire.daemon.bridge;

import java.util.List;
import java.util.concurrent.Semaphore;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.trial.TrialSeries;
import org.bankfire.daemon.report.TrialCsv;
import org.bankfire.daemon.report.TrialJson;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.trials.StoredTrialBurns;
import org.bankfire.dashboard.source.SourceException;
import org.bankfire.dashboard.source.TrialBook;

/** Trials of the stored burns. */
public final class StoredTrials implements TrialBook {
    private final Semaphore comparing = new Semaphore(1);
    private final StoredTrialBurns burns;
    private final List<ForgeDescription> forges;

    public StoredTrials(ReadingStore store, List<ForgeDescription> forges) {
        burns = new StoredTrialBurns(store);
        this.forges = List.copyOf(forges);
    }

    @Override
    public String trials(String forge, Asked asked) {
        return TrialJson.of(series(forge, asked));
    }

    @Override
    public String csv(String forge, Asked asked) {
        return TrialCsv.of(series(forge, asked));
    }

    /**
     * The series itself.
     *
     * @throws IllegalArgumentException naming a burn that the forge does not have
     */
    TrialSeries series(String forge, Asked asked) {
        ForgeDescription described = forges.stream()
                .filter(each -> each.id().equals(forge))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no forge \"" + forge + "\""));
        // It may take a minute, and the pages' threads are few: whoever came second asks again.
        if (!comparing.tryAcquire()) {
            throw new SourceException("other trials are being compared; try again in a moment");
        }
        try {
            return burns.series(described, asked);
        } catch (StoreException failure) {
            throw new SourceException("burns of " + forge + " cannot be read: " + failure.getMessage(), failure);
        } finally {
            comparing.release();
        }
    }
}
