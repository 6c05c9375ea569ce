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

    private final ForgeDescription forge;

    /** For records of that forge. */
    public RecordDrive(ForgeDescription forge) {
        this.forge = forge;
    }

    /** Temperature that a record begins with, K; of one without chamber readings, ambient. */
    public double startK(List<Stretch> stretches) {
        for (Stretch stretch : stretches) {
            if (stretch.samples() > 0) {
                double ambientK = Double.isNaN(stretch.ambientK()) ? forge.ambientK() : stretch.ambientK();
                // The first mean already holds some of the rise. A thermocouple that is wrong by so much that no forge
                // can
                // start there is for the residuals to show.
                return ForgeRun.START_K.nearest(
                        Math.abs(stretch.chamberK() - ambientK) < COLD_K ? ambientK : stretch.chamberK());
            }
        }
        return forge.ambientK();
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
