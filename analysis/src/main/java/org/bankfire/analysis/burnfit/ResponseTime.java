package org.bankfire.analysis.burnfit;

import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeRun;
import org.bankfire.analysis.heat.SteadyForge;
import org.bankfire.analysis.prediction.GasProgramme;

/** How long a soaked forge takes to follow a small change of its gas. */
final class ResponseTime {
    private static final double CHANGE = 1.05;
    /** 1 − 1/e. */
    private static final double SHARE = 1 - Math.exp(-1);

    private static final double SOAK_S = 1e6;
    private static final double FIRST_LOOK_S = 5;
    private static final double NEXT_LOOK = 1.05;
    private static final int MOST_LOOKS = 300;

    private ResponseTime() {}

    /**
     * Time to 63 % of the change.
     *
     * @param model the forge
     * @param chamberK soaked temperature, K
     * @param ambientK K
     * @return s; NaN when no gas holds that temperature
     */
    static double seconds(ForgeModel model, double chamberK, double ambientK) {
        SteadyForge rest = new SteadyForge(model, true, ambientK);
        double most = model.gasKgPerS(GasProgramme.GAUGE_PA.high(), ambientK);
        double holding = rest.holdingKgPerS(chamberK, most);
        if (!(holding > 0)) {
            return Double.NaN;
        }
        ForgeRun run = new ForgeRun(model, Math.min(chamberK, 1900), ambientK);
        run.fire(new Firing(holding, true));
        run.advanceTo(SOAK_S);
        double fromK = run.chamberK();
        Firing more = new Firing(holding * CHANGE, true);
        double toK = fromK + SHARE * (rest.at(more).chamberK() - fromK);
        run.fire(more);
        double lookS = FIRST_LOOK_S;
        double beforeS = 0;
        double beforeK = fromK;
        for (int n = 0; n < MOST_LOOKS; n++) {
            run.advanceTo(SOAK_S + lookS);
            if (run.chamberK() >= toK) {
                return beforeS + (lookS - beforeS) * (toK - beforeK) / (run.chamberK() - beforeK);
            }
            beforeS = lookS;
            beforeK = run.chamberK();
            lookS *= NEXT_LOOK;
        }
        return Double.NaN;
    }
}
