package org.bankfire.analysis.flame;

import java.util.List;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.lining.Material.ConductivityPoint;

/**
 * What the flame test wants to know of the forge beforehand: enough for a first guess of how far the temperature falls
 * when the heat goes away, which the burn in progress then corrects.
 *
 * @param wallAreaM2 inner surface of the chamber without its openings, m²
 * @param effusivityWs05PerM2K √(k ρ c) of the hot-face layer when hot, W s½/(m² K)
 * @param lowerHeatingValueJPerKg of the fuel, J/kg
 * @param probeLagS first-order time constant of the probe, s, 0 or more
 */
public record FlameChamber(
        double wallAreaM2, double effusivityWs05PerM2K, double lowerHeatingValueJPerKg, double probeLagS) {
    public FlameChamber {
        if (!(wallAreaM2 > 0 && effusivityWs05PerM2K > 0 && lowerHeatingValueJPerKg > 0 && probeLagS >= 0)) {
            throw new IllegalArgumentException("flame test: wall " + wallAreaM2 + " m², effusivity "
                    + effusivityWs05PerM2K + " W s½/(m² K), heating value " + lowerHeatingValueJPerKg + " J/kg, lag "
                    + probeLagS + " s; allowed are positive values");
        }
    }

    /** Hot-face temperature at which the conductivity of the lining is taken, K: half-way between lighting and forging. */
    private static final double HOT_FACE_K = 900;

    /** What the description of a forge says. */
    public static FlameChamber of(ForgeDescription description) {
        double openM2 = 0;
        for (Opening opening : description.openings()) {
            openM2 += opening.areaM2();
        }
        Material hotFace = description.lining().get(0).material();
        double effusivity = Math.sqrt(conductivityAt(hotFace.conductivity(), HOT_FACE_K)
                * hotFace.densityKgPerM3()
                * hotFace.heatCapacityJPerKgK());
        return new FlameChamber(
                description.innerSurfaceM2() - openM2,
                effusivity,
                description.burner().fuel().lowerHeatingValueJPerKg(),
                description.probeLagS());
    }

    private static double conductivityAt(List<ConductivityPoint> points, double kelvin) {
        ConductivityPoint below = points.get(0);
        for (ConductivityPoint above : points) {
            if (above.temperatureK() >= kelvin) {
                double span = above.temperatureK() - below.temperatureK();
                double part = span > 0 ? (kelvin - below.temperatureK()) / span : 0;
                return below.conductivityWPerMK()
                        + Math.max(0, part) * (above.conductivityWPerMK() - below.conductivityWPerMK());
            }
            below = above;
        }
        return below.conductivityWPerMK();
    }
}
