package org.bankfire.analysis.monitor;

import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;

/**
 * Heat radiated out of the openings. The chamber is taken as an isothermal grey cavity with uniform irradiation, effective
 * emissivity 1 / (1 + (a/S)(1/ε − 1)) with a the open area and S the wall area without it (enclosure of two surfaces,
 * Incropera, Fundamentals of Heat and Mass Transfer, chapter 13). ε = 0.8 for hot refractory: common practice, no source.
 * The wall is taken to be as hot as the probe reads.
 */
final class OpeningLoss {
    private static final double STEFAN_BOLTZMANN = 5.670374419e-8;
    private static final double WALL_EMISSIVITY = 0.8;

    private final ForgeDescription description;
    private boolean plugIn = true;
    private double factor;

    OpeningLoss(ForgeDescription description) {
        this.description = description;
        plug(true);
    }

    /** The plug, of the openings that have one, is in or out. */
    final void plug(boolean in) {
        plugIn = in;
        double open = 0;
        for (Opening opening : description.openings()) {
            if (!(opening.plugged() && plugIn)) {
                open += opening.areaM2();
            }
        }
        double wall = description.innerSurfaceM2() - open;
        factor = STEFAN_BOLTZMANN * open / (1 + open / wall * (1 / WALL_EMISSIVITY - 1));
    }

    /** Net radiation to the surroundings, W. */
    double watts(double chamberK, double ambientK) {
        double chamber2 = chamberK * chamberK;
        double ambient2 = ambientK * ambientK;
        return factor * (chamber2 * chamber2 - ambient2 * ambient2);
    }
}
