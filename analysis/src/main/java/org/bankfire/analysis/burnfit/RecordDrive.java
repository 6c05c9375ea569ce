package org.bankfire.analysis.burnfit;

import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.Bar;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeRun;

/** Drives the model of a forge by what a record says of gas, surroundings and hands. */
public final class RecordDrive {
    /** Less than this is a closed valve with a zero that drifted, Pa gauge. Common practice, no source. */
    public static final double GAS_ON_PA = 500;
    /** Stock whose size nobody noted. Common practice, no source. */
    public static final Bar USUAL_BAR = new Bar(0.016, 0.15);
    /** Its heat is a guess: what is measured while it is in, and until it is forgotten, counts for so little. */
    public static final double STOCK_WEIGHT = 0.15;
    /** Until then stock that was taken out still shows, s. */
    public static final double FORGOTTEN_AFTER_S = 120;
    /** A forge this near to ambient is cold. */
    private static final double COLD_K = 40;
    /** From readings that begin later nothing leads back to the beginning, s. */
    private static final double SOON_S = 5;

    private final ForgeDescription forge;

    /** For records of that forge. */
    public RecordDrive(ForgeDescription forge) {
        this.forge = forge;
    }

    /**
     * Temperature that a record begins with, K; of one without chamber readings, ambient. A burner that is lit at once has
     * warmed the first mean already, so the first two lead back to the beginning.
     */
    public double startK(List<Stretch> stretches) {
        List<Stretch> read = stretches.stream()
                .filter(stretch -> stretch.samples() > 0)
                .limit(2)
                .toList();
        if (read.isEmpty()) {
            return forge.ambientK();
        }
        Stretch first = read.get(0);
        double ambientK = Double.isNaN(first.ambientK()) ? forge.ambientK() : first.ambientK();
        double startK = first.chamberK();
        if (read.size() > 1 && first.startS() - stretches.get(0).startS() < SOON_S && first.chamberK() > ambientK) {
            Stretch next = read.get(1);
            double sinceS =
                    (first.startS() + first.endS()) / 2 - stretches.get(0).startS();
            double apartS = (next.startS() + next.endS() - first.startS() - first.endS()) / 2;
            double risenK = Math.max(0, next.chamberK() - first.chamberK()) / apartS * sinceS;
            startK = Math.max(ambientK, startK - risenK);
        }
        // A thermocouple that is wrong by so much that no forge can start there is for the residuals to show.
        return ForgeRun.START_K.nearest(Math.abs(startK - ambientK) < COLD_K ? ambientK : startK);
    }

    /** Sets a run to what a stretch says. */
    public void prepare(ForgeRun run, ForgeModel model, Stretch stretch) {
        run.ambient(ambientK(stretch));
        run.plug(stretch.plugIn());
        run.fire(firing(model, stretch));
        if (stretch.stockIn() && Double.isNaN(run.stockCentreK())) {
            run.stockIn(USUAL_BAR, ambientK(stretch));
        } else if (!stretch.stockIn()) {
            run.stockOut();
        }
    }

    /** What the burner does in a stretch. */
    public Firing firing(ForgeModel model, Stretch stretch) {
        // A fire that is out, and a pressure that nobody measured: the gas was turned off, not left to flow unburnt.
        boolean shut = !stretch.lit() && Double.isNaN(stretch.gaugePa());
        double gaugePa = gaugePa(stretch);
        if (shut || !(gaugePa > GAS_ON_PA)) {
            return Firing.OFF;
        }
        return new Firing(model.gasKgPerS(gaugePa, forge.ambientK()), stretch.lit());
    }

    /** Pressure in a stretch, Pa gauge; a burner whose pressure nobody measured burns as it does when heating up. */
    public double gaugePa(Stretch stretch) {
        return Double.isNaN(stretch.gaugePa()) ? forge.burner().heatUpPressurePa() : stretch.gaugePa();
    }

    /** Surroundings in a stretch, K; the described ones when they were not measured. */
    public double ambientK(Stretch stretch) {
        double kelvin = stretch.ambientK();
        return ForgeDescription.AMBIENT_K.contains(kelvin) ? kelvin : forge.ambientK();
    }
}
