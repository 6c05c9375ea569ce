package org.bankfire.analysis.outlook;

import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeRun;

/**
 * One forge that agrees with the burn so far, at the present moment.
 *
 * @param model the forge
 * @param run at the present moment, its time at 0; whoever goes on takes a copy
 * @param gasK temperature of the gas before the jet, K
 */
record Member(ForgeModel model, ForgeRun run, double gasK) {
    Firing firing(double gaugePa) {
        return gaugePa > 0 ? new Firing(model.gasKgPerS(gaugePa, gasK), true) : Firing.OFF;
    }
}
