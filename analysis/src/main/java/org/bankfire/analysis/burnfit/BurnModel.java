package org.bankfire.analysis.burnfit;

import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.ForgeRun;

/**
 * The forge's model along a record: driven by the measured pressure and what the hands did, compared with the measured
 * chamber temperature. It takes the same steps for whatever parameters, so that differences of two runs are smooth.
 */
final class BurnModel {
    /** Short stretches are those in which much happens: equal steps must be finer there than growing ones. */
    private static final double SHORT_S = 4;

    private static final int FINER = 3;

    private final ForgeDescription forge;
    private final RecordDrive drive;
    private final List<Stretch> stretches;
    private final double nominalOpeningM2;
    private final double startK;
    private final int[] steps;
    private final int[] residualOf;
    private final double[] weights;
    private final int residuals;

    BurnModel(ForgeDescription forge, BurnRecord record, double[] nominal) {
        this.forge = forge;
        stretches = record.stretches();
        nominalOpeningM2 = Unknown.nominalOpeningM2(forge);
        drive = new RecordDrive(forge);
        startK = drive.startK(stretches);
        residualOf = new int[stretches.size()];
        weights = new double[stretches.size()];
        residuals = weigh();
        steps = countSteps(nominal);
    }

    private int weigh() {
        int count = 0;
        double stockOutS = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < weights.length; i++) {
            Stretch stretch = stretches.get(i);
            stockOutS = stretch.stockIn() ? stretch.endS() : stockOutS;
            weights[i] = stretch.startS() - stockOutS < RecordDrive.FORGOTTEN_AFTER_S ? RecordDrive.STOCK_WEIGHT : 1;
            residualOf[i] = stretch.samples() > 0 ? count++ : -1;
        }
        return count;
    }

    /** As many steps a stretch as the error asks for with the nominal parameters. */
    private int[] countSteps(double[] nominal) {
        int[] counts = new int[stretches.size()];
        ForgeModel model = model(nominal);
        ForgeRun run = start(model);
        for (int i = 0; i < counts.length; i++) {
            long before = run.steps();
            prepare(run, model, i);
            run.advanceTo(stretches.get(i).endS());
            int finer = stretches.get(i).lengthS() <= SHORT_S ? FINER : 1;
            counts[i] = (int) Math.max(1, finer * (run.steps() - before));
        }
        return counts;
    }

    ForgeModel model(double[] at) {
        return new ForgeModel(forge, Unknown.forgeParameters(at, nominalOpeningM2));
    }

    int residualCount() {
        return residuals;
    }

    /** Temperature that the record begins with, K. */
    double startK() {
        return startK;
    }

    /** What a walk along the record passes. */
    interface Visitor {
        /**
         * After a stretch.
         *
         * @param stretch its number
         * @param meanK mean chamber temperature of the model over it, K
         * @param run the forge at its end
         */
        void after(int stretch, double meanK, ForgeRun run);
    }

    /** Walks along the whole record. */
    void walk(double[] at, Visitor visitor) {
        ForgeModel model = model(at);
        ForgeRun run = start(model);
        for (int i = 0; i < steps.length; i++) {
            prepare(run, model, i);
            Stretch stretch = stretches.get(i);
            double stepS = stretch.lengthS() / steps[i];
            double sum = run.chamberK() / 2;
            for (int n = 0; n < steps[i]; n++) {
                run.stride(stepS);
                sum += n < steps[i] - 1 ? run.chamberK() : run.chamberK() / 2;
            }
            visitor.after(i, sum / steps[i], run);
        }
    }

    /** Model less measurement, K, each with the weight of its stretch. */
    void residuals(double[] at, double[] into) {
        walk(at, (i, meanK, run) -> {
            if (residualOf[i] >= 0) {
                into[residualOf[i]] = weights[i] * (meanK - stretches.get(i).chamberK());
            }
        });
    }

    private ForgeRun start(ForgeModel model) {
        return new ForgeRun(model, startK, drive.ambientK(stretches.get(0)));
    }

    private void prepare(ForgeRun run, ForgeModel model, int i) {
        drive.prepare(run, model, stretches.get(i));
    }

    /** A burner whose pressure nobody measured burns as it does when heating up. */
    double gaugePa(Stretch stretch) {
        return drive.gaugePa(stretch);
    }

    ForgeParameters forgeParameters(double[] at) {
        return Unknown.forgeParameters(at, nominalOpeningM2);
    }
}
