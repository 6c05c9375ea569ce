package org.bankfire.analysis.prediction;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;

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
     * The same knowledge carried over to a forge that is built or described otherwise. Factors stay, and what stands for
     * itself, the mixture and the probe's lag, keeps its ratio to what is described. What is new is as described: the heat
     * release of another jet or fuel, the conductivity and capacity of a lining of other materials.
     */
    public KnownForge carriedTo(ForgeDescription other) {
        if (other.equals(description)) {
            return this;
        }
        KnownForge fresh = described(other, members.size());
        List<ForgeParameters> carried = new ArrayList<>(members.size());
        for (int i = 0; i < members.size(); i++) {
            carried.add(carried(members.get(i), fresh.members().get(i), other));
        }
        return new KnownForge(other, carried(parameters, fresh.parameters(), other), carried, basis);
    }

    /** Whether the gas flow that was learnt is that of another jet or fuel. */
    public boolean hasOtherJet(ForgeDescription other) {
        Burner was = description.burner();
        Burner is = other.burner();
        return was.jetDiameterM() != is.jetDiameterM() || !was.fuel().equals(is.fuel());
    }

    /** Whether what was learnt of the lining is of other materials. */
    public boolean hasOtherLining(ForgeDescription other) {
        return !materials(description).equals(materials(other));
    }

    private static List<Material> materials(ForgeDescription forge) {
        return forge.lining().stream().map(Layer::material).toList();
    }

    private ForgeParameters carried(ForgeParameters told, ForgeParameters fresh, ForgeDescription other) {
        ForgeParameters was = ForgeParameters.of(description);
        ForgeParameters is = ForgeParameters.of(other);
        boolean otherJet = hasOtherJet(other);
        boolean otherLining = hasOtherLining(other);
        double lagS = was.probeLagS() > 0 ? is.probeLagS() * told.probeLagS() / was.probeLagS() : is.probeLagS();
        return new ForgeParameters(
                otherJet ? fresh.heatRelease() : told.heatRelease(),
                ForgeParameters.MIXTURE.nearest(is.mixture() * told.mixture() / was.mixture()),
                otherLining ? fresh.conductivity() : told.conductivity(),
                otherLining ? fresh.capacity() : told.capacity(),
                told.opening(),
                ForgeDescription.PROBE_LAG_S.nearest(lagS),
                told.convection(),
                told.gasEmissivity(),
                told.outerFace(),
                told.draught(),
                told.probeConvection());
    }
}
