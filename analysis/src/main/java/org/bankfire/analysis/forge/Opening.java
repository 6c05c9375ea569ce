package org.bankfire.analysis.forge;

import org.bankfire.analysis.quantity.Range;

/**
 * A hole in the lining that radiates and lets gas out.
 *
 * @param name such as {@code front}, not blank
 * @param widthM clear width, m, 1 mm to 2 m
 * @param heightM clear height, m, 1 mm to 2 m
 * @param plugged whether a plug closes it
 */
public record Opening(String name, double widthM, double heightM, boolean plugged) {
    /** Clear widths and heights, m. */
    public static final Range SIDE_M = new Range(1e-3, 2);

    public Opening {
        if (name.isBlank()) {
            throw new IllegalArgumentException("an opening needs a name");
        }
        SIDE_M.require("width of opening " + name + " in m", widthM);
        SIDE_M.require("height of opening " + name + " in m", heightM);
    }

    /** Clear area, m². */
    public double areaM2() {
        return widthM * heightM;
    }
}
