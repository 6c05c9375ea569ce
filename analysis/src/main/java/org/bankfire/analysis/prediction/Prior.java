package org.bankfire.analysis.prediction;

import java.util.List;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeParameters;

/**
 * How well a parameter of the forge is known before it is measured: log-normal about what the description says.
 *
 * @param name of the parameter
 * @param relativeStandardDeviation of its logarithm, which is the relative one while it is small; above 0
 * @param reason where that comes from
 */
public record Prior(String name, double relativeStandardDeviation, String reason) {
    public Prior {
        if (!(relativeStandardDeviation > 0 && relativeStandardDeviation <= 1)) {
            throw new IllegalArgumentException("relative standard deviation of " + name + " is "
                    + relativeStandardDeviation + ": allowed are above 0 to 1");
        }
    }

    /** Bore of a drilled jet and temperature of the gas before it, beside the discharge coefficient's own. */
    private static final double BORE_AND_GAS = 0.03;

    /** The priors of a forge, in the order of {@link #apply}. */
    public static List<Prior> of(ForgeDescription forge) {
        Burner burner = forge.burner();
        double discharge = burner.dischargeStandardUncertainty() / burner.dischargeCoefficient();
        return List.of(
                new Prior(
                        "heatReleaseFactor",
                        Math.min(1, Math.hypot(discharge, BORE_AND_GAS)),
                        "discharge coefficient of the jet as described; bore and gas temperature 3 % (common practice)"),
                new Prior(
                        "mixture",
                        0.08,
                        "air drawn in by the jet, of which the relation for atmospheric burners tells no more"
                                + " (common practice)"),
                new Prior(
                        "liningConductivityScale",
                        0.1,
                        "bricks, blocks and blankets differ by 20 % either way (common practice)"),
                new Prior("liningCapacityScale", 0.07, "density and specific heat as sold (common practice)"),
                new Prior("effectiveOpeningArea", 0.12, "shape of holes, plugs that do not close (common practice)"),
                new Prior("sensorLag", 0.25, "sheath and gas speed (common practice)"),
                new Prior("convection", 0.35, "the correlation is used outside its range, and flames differ"),
                new Prior("gasEmissivity", 0.2, "mean beam length and flame shape (common practice)"),
                new Prior("outerFace", 0.15, "wind, frame and paint (common practice)"),
                new Prior("draught", 0.7, "how much air comes in beside the flame is hardly known (common practice)"),
                new Prior("probeConvection", 0.4, "where the probe sits in the flame (common practice)"));
    }

    /**
     * A forge whose parameters lie so many standard deviations from what the description says.
     *
     * @param forge the description
     * @param priors of it, as {@link #of} gives them
     * @param deviations of each, in the same order
     */
    public static ForgeParameters apply(ForgeDescription forge, List<Prior> priors, double[] deviations) {
        ForgeParameters base = ForgeParameters.of(forge);
        double[] factor = new double[priors.size()];
        for (int i = 0; i < factor.length; i++) {
            factor[i] = Math.exp(priors.get(i).relativeStandardDeviation() * deviations[i]);
        }
        double mixture = base.mixture() * factor[1];
        double lagS = base.probeLagS() * factor[5];
        return new ForgeParameters(
                Math.min(ForgeParameters.FACTOR.high(), Math.max(ForgeParameters.FACTOR.low(), factor[0])),
                Math.min(ForgeParameters.MIXTURE.high(), Math.max(ForgeParameters.MIXTURE.low(), mixture)),
                factor[2],
                factor[3],
                factor[4],
                Math.min(ForgeDescription.PROBE_LAG_S.high(), lagS),
                factor[6],
                factor[7],
                factor[8],
                base.draught() * factor[9],
                factor[10]);
    }
}
