package org.bankfire.daemon.bridge;

import org.bankfire.dashboard.source.SourceException;
import org.bankfire.dashboard.source.TrialBook;

/** Trials of the stored burns; nothing gathers them yet, and it says so. */
public final class StoredTrials implements TrialBook {
    @Override
    public String trials(String forge, Asked asked) {
        throw new SourceException("trials of " + forge + " are not computed yet");
    }

    @Override
    public String csv(String forge, Asked asked) {
        throw new SourceException("trials of " + forge + " are not computed yet");
    }
}
