package org.bankfire.analysis.monitor;

import org.bankfire.analysis.gas.Cylinder;
import org.bankfire.analysis.lining.FirstFiring;
import org.jspecify.annotations.Nullable;

/**
 * What the user says of the cylinder, of the first firing and of the thermocouple's wire, for the conditions that are
 * watched beside limits and flame.
 *
 * @param cylinder that the gas comes from; null when not told
 * @param lowestStablePa lowest gauge pressure at which the flame keeps, as the user has marked it, Pa; NaN when not told
 * @param firstFiring how a new lining is fired for the first time; {@link FirstFiring#NONE} when it is not watched
 * @param wireLimitC temperature suggested for the wire or sheath of the chamber thermocouple, °C; NaN when not known
 */
public record ConditionSettings(
        @Nullable Cylinder cylinder, double lowestStablePa, FirstFiring firstFiring, double wireLimitC) {
    /** Nothing is told. */
    public static final ConditionSettings NONE = new ConditionSettings(null, Double.NaN, FirstFiring.NONE, Double.NaN);
}
