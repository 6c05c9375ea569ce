package org.bankfire.analysis.outlook;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.prediction.KnownForge;

/** Looks ahead of a burn that is going on. */
public final class Outlooks {
    private Outlooks() {}

    /**
     * Looks ahead.
     *
     * @param forge what is known of it, with members
     * @param soFar the burn so far, from gas on, in stretches as {@link org.bankfire.analysis.burnfit.BurnRecorder} makes them
     * @param settings what the user wants of it
     */
    public static Outlook of(KnownForge forge, BurnRecord soFar, OutlookSettings settings) {
        return new Outlook(
                soFar.endS(),
                forge.basis(),
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Optional.empty(),
                Optional.empty(),
                List.of(Doubt.SHORT));
    }
}
