package org.bankfire.analysis.burnfit;

import java.util.List;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.prediction.Prior;
import org.bankfire.analysis.quantity.Range;

/**
 * What is known of a forge before its burn is fitted: the prediction's priors, and what a weighed cylinder or a missing
 * pressure makes of the heat input.
 */
final class Knowledge {
    /** Nothing is known of the gas flow but that a burner of this kind has one. */
    private static final double UNKNOWN_HEAT = 0.5;
    /** Builders measure walls and holes with a rule, and copy figures from data sheets of other makes. */
    private static final double BUILDER = 0.05;
    /** With less than this the heat input is an anchor for watts. */
    private static final double ANCHOR = 0.15;
    /**
     * A jet is not described this wrongly, as a factor on its flow: the cylinder was lifted off its scale, or another burner
     * drew from it. Common practice, no source.
     */
    private static final Range WEIGHED_OVER_IDEAL = new Range(1 / 2.5, 2.5);

    private final List<Prior> priors;
    private final double heatRelease;
    private final double heatDeviation;
    private final boolean weighed;

    private Knowledge(List<Prior> priors, double heatRelease, double heatDeviation, boolean weighed) {
        this.priors = priors;
        this.heatRelease = heatRelease;
        this.heatDeviation = heatDeviation;
        this.weighed = weighed;
    }

    static Knowledge of(ForgeDescription forge, BurnRecord record) {
        List<Prior> priors = Prior.of(forge);
        if (!record.hasPressure()) {
            return new Knowledge(priors, 1, UNKNOWN_HEAT, false);
        }
        double fromJet = deviation(priors, Unknown.HEAT_RELEASE.code());
        double idealKg = gasKg(forge, record);
        double weighedKg = record.weighedGasKg();
        double fromScale = record.weighedUncertaintyKg() / weighedKg;
        if (!(idealKg > 0 && WEIGHED_OVER_IDEAL.contains(weighedKg / idealKg) && fromScale < fromJet)) {
            return new Knowledge(priors, 1, fromJet, false);
        }
        // Two measurements of one factor, each with the weight of its variance.
        double jetWeight = 1 / (fromJet * fromJet);
        double scaleWeight = 1 / (fromScale * fromScale);
        double log = scaleWeight * Math.log(weighedKg / idealKg) / (jetWeight + scaleWeight);
        return new Knowledge(priors, Math.exp(log), Math.sqrt(1 / (jetWeight + scaleWeight)), true);
    }

    private static double gasKg(ForgeDescription forge, BurnRecord record) {
        ForgeModel model = new ForgeModel(forge, ForgeParameters.of(forge));
        double sum = 0;
        for (BurnRecord.Stretch stretch : record.stretches()) {
            if (stretch.gaugePa() > 0) {
                sum += stretch.lengthS() * model.gasKgPerS(stretch.gaugePa(), forge.ambientK());
            }
        }
        return sum;
    }

    /** Middle of the heat release factor. */
    double heatRelease() {
        return heatRelease;
    }

    /** Whether the heat input is known well enough to speak of watts. */
    boolean hasAnchor() {
        return heatDeviation < ANCHOR;
    }

    /** Whether the cylinder told the gas. */
    boolean weighed() {
        return weighed;
    }

    /** Standard deviation of the logarithm. */
    double deviation(Unknown unknown) {
        return switch (unknown) {
            case HEAT_RELEASE -> heatDeviation;
            case CONVECTION -> deviation(priors, "convection");
            case GLOW -> deviation(priors, "gasEmissivity");
            case CONDUCTIVITY, CAPACITY, OPENING -> Math.hypot(BUILDER, deviation(priors, unknown.code()));
            case MIXTURE, LAG, DRAUGHT, PROBE -> deviation(priors, unknown.code());
        };
    }

    private static double deviation(List<Prior> priors, String name) {
        return priors.stream()
                .filter(prior -> prior.name().equals(name))
                .findFirst()
                .orElseThrow()
                .relativeStandardDeviation();
    }
}
