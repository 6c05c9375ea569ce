package org.bankfire.analysis.monitor;

import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.OpeningShape;
import org.bankfire.analysis.quantity.Constants;

/** Heat radiated out of the openings, as the forge's model has it, with the wall taken to be as hot as the probe reads. */
final class OpeningLoss {
    private final double plugInM2;
    private final double plugOutM2;
    private boolean plugIn = true;

    OpeningLoss(ForgeDescription description) {
        plugInM2 = OpeningShape.effectiveM2(description, true);
        plugOutM2 = OpeningShape.effectiveM2(description, false);
    }

    /** The plug, of the openings that have one, is in or out. */
    void plug(boolean in) {
        plugIn = in;
    }

    /** Net radiation to the surroundings, W. */
    double watts(double chamberK, double ambientK) {
        double chamber2 = chamberK * chamberK;
        double ambient2 = ambientK * ambientK;
        return (plugIn ? plugInM2 : plugOutM2)
                * Constants.STEFAN_BOLTZMANN_W_PER_M2_K4
                * (chamber2 * chamber2 - ambient2 * ambient2);
    }
}
