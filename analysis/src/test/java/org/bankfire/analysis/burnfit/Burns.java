package org.bankfire.analysis.burnfit;

import java.util.List;
import java.util.Random;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.ForgeRun;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Materials;

/**
 * Records for tests whose subject is the fit itself: made by the model that is fitted, so they say nothing of whether the
 * model is right. That is judged against the virtual forge, whose equations are others.
 */
final class Burns {
    static final double AMBIENT_K = 293.15;

    private Burns() {}

    static ForgeDescription shed() {
        return new ForgeDescription(
                "shed",
                "Shed",
                1423.15,
                AMBIENT_K,
                0,
                new Burner(Fuel.PROPANE, 0.8e-3, 18e-3, 0.85, 0.025),
                0.2,
                0.16,
                0.23,
                12,
                List.of(new Layer(Materials.find("insulating-firebrick-23").orElseThrow(), 0.076)),
                List.of(new Opening("front", 0.09, 0.11, false), new Opening("rear", 0.076, 0.08, true)));
    }

    /** A forge that differs from its description in everything a little. */
    static ForgeParameters other() {
        return new ForgeParameters(1.02, 1.18, 1.12, 0.95, 1.08, 15, 0.9, 1.05, 1, 0.35, 1.1);
    }

    static ForgeModel model() {
        return new ForgeModel(shed(), other());
    }

    /** A stretch of pressure, Pa gauge, up to a time, s. */
    record Stage(double toS, double gaugePa) {}

    static final List<Stage> HEAT_UP = List.of(new Stage(60, 40e3), new Stage(1500, 100e3));
    static final List<Stage> WHOLE =
            List.of(new Stage(60, 40e3), new Stage(1500, 100e3), new Stage(2400, 30e3), new Stage(3600, 0));

    /** What to leave out of a record. */
    record With(boolean pressure, double cylinderUncertaintyKg) {
        static final With ALL = new With(true, Double.NaN);
    }

    /** Readings at 4 Hz with noise of half a kelvin. */
    static BurnRecord record(List<Stage> stages, With with) {
        ForgeModel model = model();
        ForgeRun run = new ForgeRun(model, AMBIENT_K, AMBIENT_K);
        BurnRecorder recorder = new BurnRecorder();
        Random random = new Random(7);
        double endS = stages.get(stages.size() - 1).toS();
        int stage = 0;
        for (int i = 0; i < endS * 4; i++) {
            double timeS = i * 0.25;
            stage += timeS >= stages.get(stage).toS() ? 1 : 0;
            double gaugePa = stages.get(stage).gaugePa();
            run.advanceTo(timeS);
            run.fire(gaugePa > 0 ? new Firing(model.gasKgPerS(gaugePa, AMBIENT_K), true) : Firing.OFF);
            recorder.chamber(timeS, run.chamberK() + 0.5 * random.nextGaussian());
            if (with.pressure()) {
                recorder.gas(timeS, gaugePa * (1 + 0.005 * random.nextGaussian()));
            }
        }
        if (with.cylinderUncertaintyKg() > 0) {
            recorder.cylinder(15, with.cylinderUncertaintyKg());
            recorder.cylinder(15 - run.gasKg(), with.cylinderUncertaintyKg());
        }
        return recorder.record();
    }
}
