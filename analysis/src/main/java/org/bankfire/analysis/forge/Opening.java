package org.bankfire.analysis.forge;

/**
 * A hole in the lining that radiates and lets gas out.
 *
 * @param name such as {@code front}
 * @param widthM clear width, m
 * @param heightM clear height, m
 * @param plugged whether a plug closes it
 */
public record Opening(String name, double widthM, double heightM, boolean plugged) {
    /** Clear area, m². */
    public double areaM2() {
        return widthM * heightM;
    }
}
