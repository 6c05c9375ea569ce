package org.bankfire.analysis.prediction;

import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeRun;

/** Drives a run along a gas programme. */
final class Course {
    /** Along a ramp the pressure is held for no longer than this. */
    private static final double RAMP_STEP_S = 5;

    private final ForgeModel model;
    private final GasProgramme programme;
    private final ForgeRun run;
    private final double ambientK;

    Course(ForgeDescription forge, ForgeModel model, PredictionRequest request) {
        this.model = model;
        programme = request.programme();
        ambientK = forge.ambientK();
        run = new ForgeRun(model, ambientK, ambientK);
        run.plug(request.plugIn());
    }

    void advanceTo(double toS) {
        while (run.timeS() < toS) {
            double fromS = run.timeS();
            boolean ramps = programme.ramps(fromS);
            double stopS = Math.min(toS, programme.nextPointS(fromS));
            stopS = ramps ? Math.min(stopS, fromS + RAMP_STEP_S) : stopS;
            // The pressure at the middle of a piece makes the piece right to second order.
            run.fire(firing(programme.gaugePaAt(ramps ? (fromS + stopS) / 2 : fromS)));
            run.advanceTo(stopS);
        }
    }

    Firing firing(double gaugePa) {
        return new Firing(model.gasKgPerS(gaugePa, ambientK), gaugePa > 0);
    }

    ForgeRun run() {
        return run;
    }
}
