package org.bankfire.daemon.bridge;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.dashboard.source.FitBook;

/** Fits of burns: none are made yet. */
public final class StoredFits implements FitBook {
    @Override
    public Optional<String> fitOf(String burnId) {
        return Optional.empty();
    }

    @Override
    public Optional<String> fitNow(String forge) {
        return Optional.empty();
    }

    @Override
    public List<BurnLoss> losses(String forge, int limit) {
        return List.of();
    }
}
