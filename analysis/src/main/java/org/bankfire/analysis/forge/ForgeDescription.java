package org.bankfire.analysis.forge;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.quantity.Range;

/**
 * One forge as its builder describes it.
 *
 * @param id the forge's id, as {@link org.bankfire.analysis.reading.Channel} allows it
 * @param name for the reader
 * @param targetK forging temperature that the user works at, K, 573 to 1,873
 * @param ambientK of the surroundings unless measured, K, 223 to 333
 * @param altitudeM of the site above sea level, m, −430 to 5,500
 * @param burner the burner
 * @param chamberWidthM inside, m, 20 mm to 3 m
 * @param chamberHeightM inside, m, 20 mm to 3 m
 * @param chamberDepthM inside, m, 20 mm to 3 m
 * @param probeLagS first-order time constant of the chamber probe, s, 0 to 300
 * @param lining layers from the hot face outwards, at least one
 * @param openings none or more, no two of one name, together smaller than the chamber's inner surface
 */
public record ForgeDescription(
        String id,
        String name,
        double targetK,
        double ambientK,
        double altitudeM,
        Burner burner,
        double chamberWidthM,
        double chamberHeightM,
        double chamberDepthM,
        double probeLagS,
        List<Layer> lining,
        List<Opening> openings) {
    /** Forging and heat-treating temperatures, K: 300 to 1,600 °C. */
    public static final Range TARGET_K = new Range(573.15, 1873.15);
    /** Workshop temperatures, K: −50 to 60 °C. */
    public static final Range AMBIENT_K = new Range(223.15, 333.15);
    /** Places where people live, m: from the Dead Sea's shore to the highest towns. */
    public static final Range ALTITUDE_M = new Range(-430, 5500);
    /** Inner sides of a chamber, m. */
    public static final Range CHAMBER_SIDE_M = new Range(0.02, 3);
    /** Time constants of a probe, s: bare junction to thick ceramic sheath. */
    public static final Range PROBE_LAG_S = new Range(0, 300);

    public ForgeDescription {
        lining = List.copyOf(lining);
        openings = List.copyOf(openings);
        TARGET_K.require("target in K", targetK);
        AMBIENT_K.require("ambient in K", ambientK);
        ALTITUDE_M.require("altitude in m", altitudeM);
        CHAMBER_SIDE_M.require("chamber width in m", chamberWidthM);
        CHAMBER_SIDE_M.require("chamber height in m", chamberHeightM);
        CHAMBER_SIDE_M.require("chamber depth in m", chamberDepthM);
        PROBE_LAG_S.require("probe lag in s", probeLagS);
        if (lining.isEmpty()) {
            throw new IllegalArgumentException("forge " + id + " needs one lining layer at least");
        }
        Set<String> names = new HashSet<>();
        double openM2 = 0;
        for (Opening opening : openings) {
            if (!names.add(opening.name())) {
                throw new IllegalArgumentException("two openings of forge " + id + " are named " + opening.name());
            }
            openM2 += opening.areaM2();
        }
        double wallM2 = innerSurfaceM2(chamberWidthM, chamberHeightM, chamberDepthM);
        if (openM2 >= wallM2) {
            throw new IllegalArgumentException("the openings of forge " + id + " take " + openM2
                    + " m2, and its chamber has no more than " + wallM2 + " m2 of wall");
        }
    }

    /** The same forge with another jet, of that bore, m. */
    public ForgeDescription withJet(double jetM) {
        Burner other = new Burner(
                burner.fuel(),
                jetM,
                burner.throatDiameterM(),
                burner.dischargeCoefficient(),
                burner.dischargeStandardUncertainty(),
                burner.freeThroatFraction(),
                burner.heatUpPressurePa());
        return new ForgeDescription(
                id,
                name,
                targetK,
                ambientK,
                altitudeM,
                other,
                chamberWidthM,
                chamberHeightM,
                chamberDepthM,
                probeLagS,
                lining,
                openings);
    }

    /** Inner surface of the chamber with its openings closed, m². */
    public double innerSurfaceM2() {
        return innerSurfaceM2(chamberWidthM, chamberHeightM, chamberDepthM);
    }

    private static double innerSurfaceM2(double widthM, double heightM, double depthM) {
        return 2 * (widthM * heightM + widthM * depthM + heightM * depthM);
    }
}
