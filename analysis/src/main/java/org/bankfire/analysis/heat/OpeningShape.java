package org.bankfire.analysis.heat;

import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.quantity.Constants;
import org.bankfire.analysis.quantity.Range;

/** What holes in a hot chamber do: radiate, and let air in when no flame keeps it out. */
public final class OpeningShape {
    /** Emissivities, 1. */
    public static final Range EMISSIVITY = new Range(0.01, 1);
    /** Of hot refractory. Common practice, no source; data sheets and handbooks give 0.7 to 0.9. */
    static final double WALL_EMISSIVITY = 0.8;

    private static final double AIR_KG_PER_M3 = 1.2;
    private static final double DISCHARGE = 0.7;
    /** Newton's method from a good guess. */
    private static final int PLANE_ROUNDS = 4;

    private OpeningShape() {}

    /**
     * Effective emissivity of an opening in an isothermal grey cavity with uniform irradiation: two surfaces in an
     * enclosure, Incropera, chapter 13.
     *
     * @param emissivity of the wall, 0.01 to 1
     * @param openM2 area of all openings, 0 or more
     * @param wallM2 area of the wall without them, above 0
     */
    public static double cavityEmissivity(double emissivity, double openM2, double wallM2) {
        EMISSIVITY.require("emissivity of the wall", emissivity);
        return 1 / (1 + openM2 / wallM2 * (1 / emissivity - 1));
    }

    /**
     * The same by A. Gouffé (1945), with the shape of the cavity: The Infrared Handbook (from memory).
     *
     * @param emissivity of the wall, 0.01 to 1
     * @param openM2 area of the opening, a
     * @param surfaceM2 area of the whole cavity with its opening, S
     * @param sphereM2 area of the sphere that touches the opening and has the cavity's depth as its diameter, S0
     */
    public static double gouffe(double emissivity, double openM2, double surfaceM2, double sphereM2) {
        EMISSIVITY.require("emissivity of the wall", emissivity);
        double share = openM2 / surfaceM2;
        return emissivity * (1 + (1 - emissivity) * (share - openM2 / sphereM2)) / (emissivity * (1 - share) + share);
    }

    /**
     * View factor between equal, aligned, parallel rectangles: Incropera, table 13.2.
     *
     * @param widthM m
     * @param heightM m
     * @param distanceM m, above 0
     */
    public static double viewFactor(double widthM, double heightM, double distanceM) {
        double x = widthM / distanceM;
        double y = heightM / distanceM;
        double x1 = Math.sqrt(1 + x * x);
        double y1 = Math.sqrt(1 + y * y);
        double sum = Math.log(x1 * y1 / Math.sqrt(1 + x * x + y * y))
                + x * y1 * Math.atan(x / y1)
                + y * x1 * Math.atan(y / x1)
                - x * Math.atan(x)
                - y * Math.atan(y);
        return 2 / (Math.PI * x * y) * sum;
    }

    /**
     * Part of a hole's radiation that gets through the thickness of the lining when the sides of the hole throw back what
     * they take: the same integral equation as for molecules in a tube (P. Clausing, Annalen der Physik 404 (1932)
     * 961–989), in D. J. Santeler's closed form (J. Vac. Sci. Technol. A 4 (1986) 338), for a rectangle with the radius of
     * the tube of equal area over circumference. From memory; within 1 % of Clausing's table.
     *
     * @param widthM m, above 0
     * @param heightM m, above 0
     * @param thicknessM m, 0 or more
     */
    public static double tunnelFactor(double widthM, double heightM, double thicknessM) {
        double radiusM = widthM * heightM / (widthM + heightM);
        double ratio = thicknessM / radiusM;
        return 1 / (1 + 3.0 / 8 * ratio * (1 + 1 / (3 * (1 + ratio / 7))));
    }

    /**
     * Air that comes in through the lower part of an opening while hot gas leaves by its upper part, with the neutral plane
     * where both agree with what the burner blows in (J. A. Rockett, Combustion Science and Technology 12 (1976) 165–175; D.
     * Drysdale, An Introduction to Fire Dynamics, section 10.1: 0.5 A √H for fires).
     *
     * @param shape area times root of height of the opening, m^2.5, 0 or more
     * @param insideK K
     * @param outsideK K
     * @param blownKgPerS what the burner blows in, kg/s, 0 or more
     * @return kg/s; 0 when the chamber is no hotter than its surroundings or the burner fills the opening
     */
    public static double draughtKgPerS(double shape, double insideK, double outsideK, double blownKgPerS) {
        double ratio = insideK / outsideK;
        if (!(ratio > 1 && shape > 0)) {
            return 0;
        }
        double whole = 2.0
                / 3
                * DISCHARGE
                * AIR_KG_PER_M3
                * shape
                * Math.sqrt(2 * Constants.GRAVITY_M_PER_S2 * (1 - 1 / ratio));
        // Out by the part above the neutral plane at n, in by the part below it, over the whole opening's hot outflow.
        double root = Math.sqrt(ratio);
        double blown = blownKgPerS * root / whole;
        if (blown >= 1) {
            return 0;
        }
        double plane = 1 / (1 + Math.cbrt(ratio)) * (1 - blown);
        for (int i = 0; i < PLANE_ROUNDS; i++) {
            double above = Math.sqrt(1 - plane);
            double below = Math.sqrt(plane);
            double gap = (1 - plane) * above - root * plane * below - blown;
            plane += gap / (1.5 * (above + root * below));
            plane = Math.min(1, Math.max(0, plane));
        }
        return whole * plane * Math.sqrt(plane);
    }

    /** Area of all openings that no plug closes, m². */
    static double openM2(ForgeDescription forge, boolean plugIn) {
        double sum = 0;
        for (Opening opening : forge.openings()) {
            sum += isOpen(opening, plugIn) ? opening.areaM2() : 0;
        }
        return sum;
    }

    /** Area of a black hole that would radiate as much as the openings that no plug closes, m². */
    public static double effectiveM2(ForgeDescription forge, boolean plugIn) {
        double thicknessM = thicknessM(forge);
        double through = 0;
        for (Opening opening : forge.openings()) {
            if (isOpen(opening, plugIn)) {
                through += opening.areaM2() * tunnelFactor(opening.widthM(), opening.heightM(), thicknessM);
            }
        }
        double openM2 = openM2(forge, plugIn);
        return through * cavityEmissivity(WALL_EMISSIVITY, openM2, forge.innerSurfaceM2() - openM2);
    }

    /** Draught of all openings that no plug closes over that of an opening of 1 m² and 1 m height: Σ A √H, m^2.5. */
    static double draughtShape(ForgeDescription forge, boolean plugIn) {
        double sum = 0;
        for (Opening opening : forge.openings()) {
            sum += isOpen(opening, plugIn) ? opening.areaM2() * Math.sqrt(opening.heightM()) : 0;
        }
        return sum;
    }

    static double thicknessM(ForgeDescription forge) {
        double sum = 0;
        for (Layer layer : forge.lining()) {
            sum += layer.thicknessM();
        }
        return sum;
    }

    private static boolean isOpen(Opening opening, boolean plugIn) {
        return !(opening.plugged() && plugIn);
    }
}
