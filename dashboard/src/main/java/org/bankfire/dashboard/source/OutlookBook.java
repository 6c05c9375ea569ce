package org.bankfire.dashboard.source;

import java.util.Optional;
import org.bankfire.analysis.outlook.Outlook;
import org.bankfire.analysis.outlook.Score;
import org.bankfire.analysis.reading.WallTime;

/** What lies ahead of the burns that go on. Safe for use by many threads. */
public interface OutlookBook {
    /**
     * The latest outlook.
     *
     * @param forge its id
     * @param pauseS pause that idling is compared over, s, within {@code OutlookSettings.PAUSE_S}; NaN for the usual one
     * @return empty when nothing burns, or nothing has been computed yet
     */
    Optional<Seen> outlook(String forge, double pauseS);

    /** How the forecasts of the forge did since the daemon was started. */
    Score score(String forge);

    /**
     * An outlook.
     *
     * @param burnId of which burn
     * @param start of the burn, from which its times count
     * @param hasFit whether the burn that goes on has been fitted
     * @param outlook what was seen
     */
    record Seen(String burnId, WallTime start, boolean hasFit, Outlook outlook) {}
}
