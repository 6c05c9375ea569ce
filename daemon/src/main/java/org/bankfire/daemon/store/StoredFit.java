package org.bankfire.daemon.store;

import org.bankfire.analysis.burnfit.BurnLoss;
import org.bankfire.analysis.reading.WallTime;
import org.jspecify.annotations.Nullable;

/**
 * What a burn told of its forge, as it is kept with the burn.
 *
 * @param burnId the burn's id; the key
 * @param forge the forge's id
 * @param start of the burn
 * @param finishedAt when the fit was made
 * @param loss the loss coefficient of that burn; null when the burn did not tell one
 * @param json the whole fit, one JSON object, some 100 kB
 */
public record StoredFit(
        String burnId,
        String forge,
        WallTime start,
        WallTime finishedAt,
        @Nullable BurnLoss loss,
        String json) {
    /** Many times what a fit of the longest burn takes, bytes; a longer text is none of ours. */
    public static final int MAX_JSON_LENGTH = 4_000_000;

    public StoredFit {
        if (json.length() > MAX_JSON_LENGTH) {
            throw new IllegalArgumentException("the fit of burn " + burnId + " is " + json.length()
                    + " characters long; allowed are " + MAX_JSON_LENGTH);
        }
        if (loss != null && !(loss.burnId().equals(burnId) && loss.start().equals(start))) {
            throw new IllegalArgumentException("loss of burn " + loss.burnId() + " at " + loss.start()
                    + " in the fit of burn " + burnId + " at " + start);
        }
    }
}
