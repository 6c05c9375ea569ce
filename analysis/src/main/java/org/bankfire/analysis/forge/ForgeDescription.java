package org.bankfire.analysis.forge;

import java.util.List;

/**
 * One forge as its builder describes it.
 *
 * @param id the forge's id
 * @param name for the reader
 * @param targetK forging temperature that the user works at, K
 * @param ambientK of the surroundings unless measured, K
 * @param altitudeM of the site above sea level, m
 * @param burner the burner
 * @param chamberWidthM inside, m
 * @param chamberHeightM inside, m
 * @param chamberDepthM inside, m
 * @param probeLagS first-order time constant of the chamber probe, s
 * @param lining layers from the hot face outwards, at least one
 * @param openings none or more
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
    public ForgeDescription {
        lining = List.copyOf(lining);
        openings = List.copyOf(openings);
    }
}
