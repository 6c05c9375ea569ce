package org.bankfire.daemon.fitting;

import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.reading.WallTime;

/**
 * A burn as far as it was gathered. Immutable, to be handed to another thread.
 *
 * @param forge as it was described, with the jet that was in when the burn began
 * @param burnId the burn's id
 * @param start of the burn
 * @param end of what was gathered
 * @param stage how far it has come
 * @param record what was measured
 */
public record GatheredBurn(
        ForgeDescription forge, String burnId, WallTime start, WallTime end, Stage stage, BurnRecord record) {
    /** How far a burn has come. */
    public enum Stage {
        /** It burns. */
        BURNING,
        /** The gas is off or the flame out; the cool-down has just begun. */
        ENDED,
        /** With its cool-down, as long as it lasted. */
        COOLED
    }
}
