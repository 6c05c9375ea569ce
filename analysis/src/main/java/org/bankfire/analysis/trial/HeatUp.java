package org.bankfire.analysis.trial;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.ForgeRun;

/**
 * A heat-up of the model along a course of gas pressure: that of a stretch up to the target, or one pressure from gas on.
 * After the course the last pressure is held, so that a model that is slower than the forge gets there too.
 */
final class HeatUp {
    private static final double STEP_S = 10;
    /** Heating up for longer than this is no heating up; it bounds a model that never gets there. */
    private static final double LONGEST_S = 4 * 3600;
    /** Above the highest level, so that a slope there has points on both sides. */
    private static final double MARGIN_K = 30;

    private final ForgeDescription forge;
    private final List<Piece> course;
    private final boolean plugIn;

    private record Piece(double endS, double gaugePa, boolean lit) {}

    private HeatUp(ForgeDescription forge, List<Piece> course, boolean plugIn) {
        this.forge = forge;
        this.course = course;
        this.plugIn = plugIn;
    }

    /** One pressure from gas on. */
    static HeatUp constant(ForgeDescription forge, boolean plugIn, double gaugePa) {
        return new HeatUp(forge, List.of(new Piece(0, gaugePa, true)), plugIn);
    }

    /** As it was burnt up to a time. */
    static HeatUp of(TrialStretch stretch, double untilS) {
        List<Piece> course = new ArrayList<>();
        for (Stretch part : stretch.parts()) {
            if (course.isEmpty() || part.endS() <= untilS) {
                course.add(new Piece(part.endS(), stretch.gaugePa(part), part.lit()));
            }
        }
        return new HeatUp(stretch.burn().forge(), course, stretch.isPlugIn());
    }

    /**
     * Runs it.
     *
     * @param startK temperature of the whole forge at gas on, K
     * @param toK temperature beyond which nothing is asked, K
     */
    HeatUpCurve curve(ForgeParameters parameters, double startK, double ambientK, double toK) {
        ForgeModel model = new ForgeModel(forge, parameters);
        ForgeRun run =
                new ForgeRun(model, ForgeRun.START_K.nearest(startK), ForgeDescription.AMBIENT_K.nearest(ambientK));
        run.plug(plugIn);
        List<Double> timesS = new ArrayList<>();
        List<Double> kelvins = new ArrayList<>();
        for (Piece piece : course) {
            fire(run, model, piece, ambientK);
            while (run.timeS() < piece.endS() && run.chamberK() < toK + MARGIN_K) {
                note(run, timesS, kelvins);
                run.advanceTo(Math.min(piece.endS(), run.timeS() + STEP_S));
            }
        }
        while (run.timeS() < LONGEST_S && run.chamberK() < toK + MARGIN_K) {
            note(run, timesS, kelvins);
            run.advanceTo(run.timeS() + STEP_S);
        }
        note(run, timesS, kelvins);
        double[] weights = new double[timesS.size()];
        Arrays.fill(weights, 1);
        return new HeatUpCurve(
                timesS.stream().mapToDouble(Double::doubleValue).toArray(),
                kelvins.stream().mapToDouble(Double::doubleValue).toArray(),
                weights);
    }

    private static void note(ForgeRun run, List<Double> timesS, List<Double> kelvins) {
        timesS.add(run.timeS());
        kelvins.add(run.chamberK());
    }

    /** Gas before the jet is as warm as the surroundings: of colder gas more goes through. */
    private static void fire(ForgeRun run, ForgeModel model, Piece piece, double ambientK) {
        double gaugePa = Math.max(0, piece.gaugePa());
        run.fire(new Firing(model.gasKgPerS(gaugePa, ambientK), piece.lit() && gaugePa > 0));
    }
}
