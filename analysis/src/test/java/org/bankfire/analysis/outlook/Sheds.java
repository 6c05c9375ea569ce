package org.bankfire.analysis.outlook;

import java.util.List;
import java.util.SplittableRandom;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.analysis.burnfit.RecordDrive;
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
import org.bankfire.analysis.prediction.KnownForge;

/**
 * Burns for tests whose subject is the outlook itself: made by the model that looks ahead, so they say nothing of whether
 * the model is right. That is judged against the virtual forge, whose equations are others.
 */
final class Sheds {
    static final double AMBIENT_K = 293.15;
    static final double TARGET_K = 1373.15;

    private Sheds() {}

    static ForgeDescription shed() {
        return new ForgeDescription(
                "shed",
                "Shed",
                TARGET_K,
                AMBIENT_K,
                0,
                new Burner(Fuel.PROPANE, 0.8e-3, 18e-3, 0.85, 0.025),
                0.2,
                0.16,
                0.23,
                8,
                List.of(new Layer(Materials.find("insulating-firebrick-23").orElseThrow(), 0.076)),
                List.of(new Opening("front", 0.09, 0.11, false), new Opening("rear", 0.076, 0.08, true)));
    }

    static ForgeParameters asDescribed() {
        return ForgeParameters.of(shed());
    }

    /** A forge that differs from its description in everything a little. */
    static ForgeParameters other() {
        return new ForgeParameters(1.02, 1.18, 1.12, 0.95, 1.08, 10, 0.9, 1.05, 1, 0.35, 1.1);
    }

    /** Known exactly: no member, no doubt. */
    static KnownForge sure() {
        return new KnownForge(shed(), asDescribed(), List.of(), KnownForge.Basis.FITTED);
    }

    static KnownForge described() {
        return KnownForge.described(shed(), 64);
    }

    /** A burn that goes on. */
    static final class Going {
        private final ForgeModel model;
        private final ForgeRun run;
        private final BurnRecorder recorder = new BurnRecorder();
        private final SplittableRandom random = new SplittableRandom(11);
        private double gaugePa;

        Going(ForgeParameters parameters) {
            model = new ForgeModel(shed(), parameters);
            run = new ForgeRun(model, AMBIENT_K, AMBIENT_K);
        }

        /** Goes on for so many seconds at a pressure, Pa gauge. */
        Going at(double pascal, int seconds) {
            gaugePa = pascal;
            run.fire(pascal > 0 ? new Firing(model.gasKgPerS(pascal, AMBIENT_K), true) : Firing.OFF);
            for (int i = 0; i < seconds; i++) {
                run.advanceTo(run.timeS() + 1);
                recorder.chamber(run.timeS(), run.chamberK() + 0.3 * random.nextGaussian());
                recorder.gas(run.timeS(), pascal * (1 + 0.003 * random.nextGaussian()));
            }
            return this;
        }

        Going stock(boolean in) {
            recorder.stock(run.timeS(), in);
            if (in) {
                run.stockIn(RecordDrive.USUAL_BAR, AMBIENT_K);
            } else {
                run.stockOut();
            }
            return this;
        }

        Going plug(boolean in) {
            recorder.plug(run.timeS(), in);
            run.plug(in);
            return this;
        }

        BurnRecord record() {
            return recorder.record();
        }

        ForgeModel model() {
            return model;
        }

        double gaugePa() {
            return gaugePa;
        }

        /** The forge now, to go its own way from here. */
        ForgeRun now() {
            return new ForgeRun(run);
        }

        /** What the probe will show after so long at a pressure, K. */
        double aheadK(double pascal, double seconds) {
            ForgeRun ahead = now();
            ahead.fire(new Firing(model.gasKgPerS(pascal, AMBIENT_K), true));
            ahead.advanceTo(ahead.timeS() + seconds);
            return ahead.chamberK();
        }
    }

    /** Heated until the probe shows the target, within a second. */
    static Going atTarget(ForgeParameters parameters) {
        Going going = new Going(parameters).at(40e3, 60);
        while (going.now().chamberK() < TARGET_K) {
            going.at(110e3, 1);
        }
        return going;
    }
}
