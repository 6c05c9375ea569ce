package org.bankfire.analysis.prediction;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeParameters;

/**
 * What is known of a forge: as it was described, or as a burn has told.
 *
 * @param description the forge with the jet that its parameters belong to
 * @param parameters the most probable ones
 * @param members forges that are as likely as one another, which together say how sure it all is; none: nothing is said
 * @param basis where the parameters come from
 */
public record KnownForge(
        ForgeDescription description, ForgeParameters parameters, List<ForgeParameters> members, Basis basis) {
    /** Where the parameters come from. */
    public enum Basis {
        /** From the description and what forges of its kind differ by. */
        DESCRIBED,
        /** From the fit of a burn. */
        FITTED
    }

    public KnownForge {
        members = List.copyOf(members);
    }

    /**
     * A forge of which only the description is known.
     *
     * @param members how many are drawn from the {@link Prior}s, 0 or more
     */
    public static KnownForge described(ForgeDescription forge, int members) {
        List<Prior> priors = Prior.of(forge);
        List<ForgeParameters> drawn = new ArrayList<>(members);
        for (double[] deviations : LatinHypercube.normal(members, priors.size())) {
            drawn.add(Prior.apply(forge, priors, deviations));
        }
        return new KnownForge(forge, ForgeParameters.of(forge), drawn, Basis.DESCRIBED);
    }

    /**
     * The same knowledge carried over to a forge that is built or described otherwise: factors stay, and what stands for
     * itself, the mixture and the probe's lag, keeps its ratio to what is described.
     */
    public KnownForge carriedTo(ForgeDescription other) {
        ForgeParameters was = ForgeParameters.of(description);
        ForgeParameters is = ForgeParameters.of(other);
        return new KnownForge(
                other,
                carried(parameters, was, is),
                members.stream().map(member -> carried(member, was, is)).toList(),
                basis);
    }

    private static ForgeParameters carried(ForgeParameters told, ForgeParameters was, ForgeParameters is) {
        double lagS = was.probeLagS() > 0 ? is.probeLagS() * told.probeLagS() / was.probeLagS() : is.probeLagS();
        return new ForgeParameters(
                told.heatRelease(),
                ForgeParameters.MIXTURE.nearest(is.mixture() * told.mixture() / was.mixture()),
                told.conductivity(),
                told.capacity(),
                told.opening(),
                ForgeDescription.PROBE_LAG_S.nearest(lagS),
                told.convection(),
                told.gasEmissivity(),
                told.outerFace(),
                told.draught(),
                told.probeConvection());
    }
}
