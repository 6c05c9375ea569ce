package org.bankfire.dashboard.source;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.burnfit.BurnLoss;

/** What the burns told of their forges. Safe for use by many threads; may throw {@link SourceException}. */
public interface FitBook {
    /**
     * The latest fit of a burn, stored or of the burn that goes on.
     *
     * @return one JSON object; empty when there is no such burn or no fit of it yet
     */
    Optional<String> fitOf(String burnId);

    /**
     * The latest fit of the burn that goes on, or that cools down.
     *
     * @return one JSON object; empty when nothing burns or there is no fit of it yet
     */
    Optional<String> fitNow(String forge);

    /** Loss coefficients of the newest {@code limit} burns that told one, in order of time. */
    List<BurnLoss> losses(String forge, int limit);
}
