package org.bankfire.analysis.prediction;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.prediction.KnownForge.Basis;

/**
 * What a burn told of a forge, carried over to the same forge changed, with what became of each factor. The rules are those
 * of {@link KnownForge#carriedTo}; besides, where part of what a factor belongs to is new, the factor goes to its
 * ({@code 1 − share})th power, and its members get {@code share} times the deviation that the {@link Prior} names. How much
 * air is drawn in keeps its ratio as the best guess, but with another jet, throat or fuel its members get the whole
 * deviation besides. Members keep their order, so that two forges can be compared member by member.
 *
 * @param forge the changed one
 * @param learnt what became of each factor; empty when no burn has told any
 */
public record CarryOver(KnownForge forge, List<Learnt> learnt) {
    public CarryOver {
        learnt = List.copyOf(learnt);
    }

    /** What became of a factor. */
    public enum Fate {
        /** It holds for the changed forge as it did. */
        KEPT,
        /** Kept as the best guess, but less sure. */
        LESS_SURE,
        /** Part of what it belongs to is new. */
        PARTLY_NEW,
        /** All that it belongs to is new: as described. */
        RESET;

        /** In words. */
        public String words() {
            return switch (this) {
                case KEPT -> "kept";
                case LESS_SURE -> "kept, but less sure";
                case PARTLY_NEW -> "kept in part";
                case RESET -> "as described";
            };
        }
    }

    /**
     * A factor.
     *
     * @param name that of its {@link Prior}
     * @param today its most probable value, on what is described; the mixture and the probe's lag over what is described
     * @param changed the same of the changed forge
     * @param fate what became of it
     * @param why in words, empty when it was kept
     */
    public record Learnt(String name, double today, double changed, Fate fate, String why) {}

    /** How much of what a factor belongs to is new, 0 to 1, how much less sure it is, and why. */
    private record Newness(double share, double doubt, String why, boolean carried) {
        static final Newness NONE = new Newness(0, 0, "", false);

        static Newness of(double share, String why) {
            return share > 0 ? new Newness(Math.min(1, share), Math.min(1, share), why, false) : NONE;
        }

        /** Still the best guess, but of another piece. */
        static Newness another(boolean is, String why) {
            return is ? new Newness(0, 1, why, false) : NONE;
        }

        /** {@link KnownForge#carriedTo} has put it back to what is described already. */
        static Newness reset(boolean is, String why) {
            return is ? new Newness(1, 1, why, true) : NONE;
        }

        Fate fate() {
            if (doubt == 0) {
                return Fate.KEPT;
            }
            return share == 0 ? Fate.LESS_SURE : share < 1 ? Fate.PARTLY_NEW : Fate.RESET;
        }
    }

    /**
     * Carries over.
     *
     * @param known the forge today
     * @param changed how it would be
     */
    public static CarryOver of(KnownForge known, ForgeDescription changed) {
        if (known.basis() == Basis.DESCRIBED) {
            return new CarryOver(KnownForge.described(changed, known.members().size()), List.of());
        }
        KnownForge carried = known.carriedTo(changed);
        List<Newness> news = news(known, changed);
        List<Prior> priors = Prior.of(changed);
        double[] described = ForgeParameters.of(changed).inOrder();
        double[][] deviations = LatinHypercube.normal(known.members().size(), news.size());
        List<ForgeParameters> members = new ArrayList<>(deviations.length);
        for (int i = 0; i < deviations.length; i++) {
            members.add(renewed(carried.members().get(i), described, news, priors, deviations[i]));
        }
        ForgeParameters middle = renewed(carried.parameters(), described, news, priors, new double[news.size()]);
        return new CarryOver(
                new KnownForge(changed, middle, members, Basis.FITTED), learnt(known, middle, described, news, priors));
    }

    private static List<Learnt> learnt(
            KnownForge known, ForgeParameters middle, double[] described, List<Newness> news, List<Prior> priors) {
        double[] was = known.parameters().inOrder();
        double[] wasDescribed = ForgeParameters.of(known.description()).inOrder();
        double[] is = middle.inOrder();
        List<Learnt> learnt = new ArrayList<>(is.length);
        for (int i = 0; i < is.length; i++) {
            learnt.add(new Learnt(
                    priors.get(i).name(),
                    ratio(was[i], wasDescribed[i]),
                    ratio(is[i], described[i]),
                    news.get(i).fate(),
                    news.get(i).why()));
        }
        return learnt;
    }

    /** A probe without lag has no ratio. */
    private static double ratio(double value, double described) {
        return described == 0 ? 1 : value / described;
    }

    private static ForgeParameters renewed(
            ForgeParameters told, double[] described, List<Newness> news, List<Prior> priors, double[] deviations) {
        double[] values = told.inOrder();
        for (int i = 0; i < values.length; i++) {
            Newness is = news.get(i);
            if (is.doubt() > 0 && !is.carried()) {
                double spread = priors.get(i).relativeStandardDeviation() * is.doubt() * deviations[i];
                double kept = Math.pow(ratio(values[i], described[i]), 1 - is.share());
                values[i] = described[i] * kept * Math.exp(spread);
            }
        }
        return new ForgeParameters(
                ForgeParameters.FACTOR.nearest(values[0]),
                ForgeParameters.MIXTURE.nearest(values[1]),
                ForgeParameters.FACTOR.nearest(values[2]),
                ForgeParameters.FACTOR.nearest(values[3]),
                ForgeParameters.OPENING.nearest(values[4]),
                ForgeDescription.PROBE_LAG_S.nearest(values[5]),
                ForgeParameters.EXCHANGE.nearest(values[6]),
                ForgeParameters.EXCHANGE.nearest(values[7]),
                ForgeParameters.EXCHANGE.nearest(values[8]),
                ForgeParameters.DRAUGHT.nearest(values[9]),
                ForgeParameters.EXCHANGE.nearest(values[10]));
    }

    /** In the order of {@link ForgeParameters#inOrder()}, which is that of {@link Prior#of}. */
    private static List<Newness> news(KnownForge known, ForgeDescription is) {
        ForgeDescription was = known.description();
        Burner before = was.burner();
        Burner after = is.burner();
        boolean otherFuel = !before.fuel().equals(after.fuel());
        boolean otherJet = before.jetDiameterM() != after.jetDiameterM();
        boolean otherTube = before.throatDiameterM() != after.throatDiameterM()
                || before.freeThroatFraction() != after.freeThroatFraction();
        boolean otherChamber = was.chamberWidthM() != is.chamberWidthM()
                || was.chamberHeightM() != is.chamberHeightM()
                || was.chamberDepthM() != is.chamberDepthM();
        Newness jet = known.hasOtherJet(is)
                ? Newness.reset(true, otherJet ? "another jet" : "another fuel")
                : Newness.of(
                        before.dischargeCoefficient() == after.dischargeCoefficient() ? 0 : 1,
                        "the jet's discharge coefficient is described anew");
        Newness mixture = Newness.another(
                otherJet || otherTube || otherFuel, "how much air another jet, throat or fuel draws in");
        Newness lining = Newness.reset(known.hasOtherLining(is), "other materials than the burn told of");
        Newness holes = Newness.of(newOpenings(was.openings(), is.openings()), "an opening or plug that is new");
        Newness flame = Newness.another(otherChamber || otherFuel, otherChamber ? "another chamber" : "another fuel");
        Newness probe = Newness.of(was.probeLagS() == is.probeLagS() ? 0 : 1, "another probe");
        return Arrays.asList(
                jet,
                mixture,
                lining,
                lining,
                holes,
                probe,
                flame,
                flame,
                Newness.NONE,
                holes,
                probe.share() > 0 ? probe : flame);
    }

    /** Share of the area that was cut, closed or opened: what of an opening is larger than before, and another plug. */
    private static double newOpenings(List<Opening> was, List<Opening> is) {
        double newM2 = 0;
        double allM2 = 0;
        for (Opening opening : is) {
            double areaM2 = opening.areaM2();
            double keptM2 = was.stream()
                    .filter(before -> before.name().equals(opening.name()) && before.plugged() == opening.plugged())
                    .mapToDouble(Opening::areaM2)
                    .sum();
            allM2 += areaM2;
            newM2 += Math.max(0, areaM2 - keptM2);
        }
        return allM2 > 0 ? newM2 / allM2 : 0;
    }
}
