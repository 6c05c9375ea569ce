package org.bankfire.analysis.lining;

import org.bankfire.analysis.quantity.Range;

/**
 * One layer of the lining.
 *
 * @param material of what
 * @param thicknessM m, 1 mm to 1 m
 */
public record Layer(Material material, double thicknessM) {
    /** Thicknesses of a layer, m. */
    public static final Range THICKNESS_M = new Range(1e-3, 1);

    public Layer {
        THICKNESS_M.require("thickness of " + material.name() + " in m", thicknessM);
    }
}
