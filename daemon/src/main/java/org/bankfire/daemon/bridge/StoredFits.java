package org.bankfire.daemon.bridge;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.daemon.fitting.FitKeeper;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.bankfire.dashboard.source.FitBook;
import org.bankfire.dashboard.source.SourceException;

/** Fits as the store holds them, and the latest ones as they were made. */
public final class StoredFits implements FitBook {
    private final ReadingStore store;
    private final FitKeeper keeper;

    public StoredFits(ReadingStore store, FitKeeper keeper) {
        this.store = store;
        this.keeper = keeper;
    }

    @Override
    public Optional<String> fitOf(String burnId) {
        Optional<String> atHand = keeper.fitOf(burnId);
        if (atHand.isPresent()) {
            return atHand;
        }
        try {
            return store.fit(burnId).map(StoredFit::json);
        } catch (StoreException failure) {
            throw new SourceException(
                    "the fit of burn " + burnId + " cannot be read: " + failure.getMessage(), failure);
        }
    }

    @Override
    public Optional<String> fitNow(String forge) {
        return keeper.fitNow(forge);
    }

    @Override
    public List<BurnLoss> losses(String forge, int limit) {
        try {
            return store.losses(forge, limit);
        } catch (StoreException failure) {
            throw new SourceException("the losses of " + forge + " cannot be read: " + failure.getMessage(), failure);
        }
    }
}
