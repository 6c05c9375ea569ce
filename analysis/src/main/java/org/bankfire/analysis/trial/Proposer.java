package org.bankfire.analysis.trial;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SortedMap;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.trial.NextTrial.Known;
import org.bankfire.analysis.trial.NextTrial.Proposal;
import org.jspecify.annotations.Nullable;

/**
 * Finds the burn that would tell most: of the present settings with one of them changed to a value that the user has marked
 * as possible, and the present ones once more.
 */
final class Proposer {
    /** Of a change that neither burns nor the model know, on a figure's scale. Common practice, no source. */
    private static final double WIDE = 0.1;

    private static final double WIDE_K = 40;
    /** What the model may be wrong by in the effect of a jet or the plug, beyond its members. Common practice, no source. */
    private static final double MODEL_DOUBT = 0.05;

    private static final double MODEL_DOUBT_K = 15;
    /** A forge that never gets there takes at least so much longer, on the scale of a time. */
    private static final double NEVER = Math.log(2);

    private static final int MOST_MEMBERS = 12;
    /** Candidates that are weighed: beyond it a user does not read on, and the arithmetic grows with its square. */
    private static final int MOST_CANDIDATES = 25;
    /** Proposals that are told. */
    private static final int MOST_TOLD = 8;

    private static final double NORMAL95 = 1.959964;

    private final FigureKey about;
    private final List<Trial> trials;
    private final TrialSettings present;
    private final @Nullable Conditions common;
    private final KnownForge known;
    private final double noise;

    /** A setting that could be burnt, and what is believed of it. */
    private static final class Candidate {
        private final TrialSettings settings;
        private final String change;
        private double mean;
        /** Variance that is its own. */
        private double variance;
        /** Whether it rests on the level of the present settings. */
        private boolean onPresent;

        private Known known = Known.NOTHING;

        Candidate(TrialSettings settings, String change) {
            this.settings = settings;
            this.change = change;
        }
    }

    /**
     * A proposer.
     *
     * @param about the figure that is to become better
     * @param scatter of that figure from burn to burn
     * @param common conditions of the series; null without a burn
     */
    Proposer(
            FigureKey about,
            List<Trial> trials,
            TrialSettings present,
            @Nullable Conditions common,
            KnownForge known,
            BurnScatter scatter) {
        this.about = about;
        this.trials = trials;
        this.present = present;
        this.common = common;
        this.known = known;
        noise = scatter.variance();
    }

    NextTrial propose(SortedMap<String, List<String>> possible) {
        List<Candidate> candidates = candidates(possible);
        if (candidates.size() < 2) {
            return new NextTrial(
                    List.of(),
                    "Mark what can be set, and an experiment is proposed: a setting named setting-possible-jet of \"0.7, 0.8,"
                            + " 0.9\", say.");
        }
        believe(candidates);
        int n = candidates.size();
        boolean less = about.figure().better() != TrialFigure.Better.MORE;
        double[] means = new double[n];
        double[][] covariance = new double[n][n];
        for (int i = 0; i < n; i++) {
            means[i] = less ? candidates.get(i).mean : -candidates.get(i).mean;
            for (int j = 0; j < n; j++) {
                boolean shared = (i == 0 || candidates.get(i).onPresent) && (j == 0 || candidates.get(j).onPresent);
                covariance[i][j] =
                        (shared ? candidates.get(0).variance : 0) + (i == j && i > 0 ? candidates.get(i).variance : 0);
            }
        }
        ExpectedInformation information = new ExpectedInformation(means, covariance);
        double[] chances = information.chances();
        List<Proposal> proposals = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            proposals.add(proposal(candidates, i, information.aboutLeast(i, noise), covariance[i][i], chances[i]));
        }
        double repeatBits = proposals.get(0).informationBits();
        proposals.sort(Comparator.comparingDouble(Proposal::informationBits)
                .thenComparingDouble(Proposal::effectBits)
                .reversed());
        return new NextTrial(proposals.subList(0, Math.min(MOST_TOLD, n)), why(proposals.get(0), repeatBits));
    }

    private List<Candidate> candidates(SortedMap<String, List<String>> possible) {
        List<Candidate> candidates = new ArrayList<>();
        candidates.add(new Candidate(present, "the present settings once more"));
        for (Map.Entry<String, List<String>> entry : possible.entrySet()) {
            for (String value : entry.getValue()) {
                if (!present.of(entry.getKey()).equals(value) && candidates.size() < MOST_CANDIDATES) {
                    candidates.add(new Candidate(present.with(entry.getKey(), value), entry.getKey() + " " + value));
                }
            }
        }
        return candidates;
    }

    private void believe(List<Candidate> candidates) {
        double wide = about.figure().isPlain() ? WIDE_K : WIDE;
        Candidate base = candidates.get(0);
        base.known = Known.PRESENT;
        List<BurnScatter.Value> values = valuesOf(present);
        base.mean = values.isEmpty() ? BurnScatter.mean(latest()) : BurnScatter.mean(values);
        base.mean = Double.isNaN(base.mean) ? 0 : base.mean;
        base.variance = values.isEmpty() ? wide * wide : noise / values.size();
        for (Candidate candidate : candidates.subList(1, candidates.size())) {
            List<BurnScatter.Value> tried = valuesOf(candidate.settings);
            if (!tried.isEmpty()) {
                candidate.known = Known.TRIED;
                candidate.mean = BurnScatter.mean(tried);
                candidate.variance = noise / tried.size();
                continue;
            }
            candidate.onPresent = true;
            candidate.mean = base.mean;
            candidate.variance = wide * wide;
            byModel(candidate, base);
        }
    }

    private List<BurnScatter.Value> valuesOf(TrialSettings settings) {
        return trials.stream()
                .filter(trial -> trial.settings().equals(settings))
                .findFirst()
                .map(trial -> trial.values(about))
                .orElse(List.of());
    }

    private List<BurnScatter.Value> latest() {
        return trials.isEmpty() ? List.of() : trials.get(trials.size() - 1).values(about);
    }

    /** What the model says of another jet or the plug; of other settings it knows nothing. */
    private void byModel(Candidate candidate, Candidate base) {
        ForgeDescription other = described(candidate.settings);
        ForgeDescription now = described(base.settings);
        if (common == null || other == null || now == null || !Corrector.isOfHeatUp(about)) {
            return;
        }
        KnownForge there = known.carriedTo(other);
        KnownForge here = known.carriedTo(now);
        double best = effect(there, there.parameters(), candidate, here, here.parameters(), base);
        boolean never = !Double.isFinite(best);
        double squares = 0;
        int members = Math.min(MOST_MEMBERS, known.members().size());
        int told = 0;
        for (int m = 0; m < members; m++) {
            double one = effect(
                    there,
                    there.members().get(m),
                    candidate,
                    here,
                    here.members().get(m),
                    base);
            if (Double.isFinite(one) && !never) {
                squares += (one - best) * (one - best);
                told++;
            }
        }
        double doubt = about.figure().isPlain() ? MODEL_DOUBT_K : MODEL_DOUBT;
        candidate.known = Known.MODEL;
        candidate.mean += never ? (about.figure().better() == TrialFigure.Better.LESS ? NEVER : -NEVER) : best;
        candidate.variance = doubt * doubt + (told > 0 ? squares / told : 0);
    }

    private double effect(
            KnownForge there,
            ForgeParameters thereParameters,
            Candidate candidate,
            KnownForge here,
            ForgeParameters hereParameters,
            Candidate base) {
        return level(there.description(), thereParameters, candidate.settings)
                - level(here.description(), hereParameters, base.settings);
    }

    private double level(ForgeDescription forge, ForgeParameters parameters, TrialSettings settings) {
        Conditions at = common;
        if (at == null) {
            return Double.NaN;
        }
        boolean plugIn = !settings.of(Setting.PLUG).equals("out");
        HeatUpCurve curve = HeatUp.constant(forge, plugIn, at.gaugePa())
                .curve(parameters, at.throughoutK(), at.ambientK(), about.atK());
        return Corrector.of(curve, about);
    }

    /** The forge with the jet of those settings, when nothing else but the plug differs from the present ones. */
    private @Nullable ForgeDescription described(TrialSettings settings) {
        List<String> changed = TrialSettings.differing(settings, present);
        if (!changed.stream().allMatch(name -> name.equals(TrialSettings.JET) || name.equals(Setting.PLUG))) {
            return null;
        }
        double jetM = jetM(settings.of(TrialSettings.JET));
        ForgeDescription forge = known.description();
        return Burner.JET_M.contains(jetM) && jetM < forge.burner().throatDiameterM() ? forge.withJet(jetM) : null;
    }

    /** Bore of a jet as a setting has it, m; that of the description when nothing is set, NaN when nobody can read it. */
    private double jetM(String value) {
        if (value.isEmpty()) {
            return known.description().burner().jetDiameterM();
        }
        String[] parts = value.split(" ", 2);
        try {
            return Unit.ofSymbol(parts.length > 1 ? parts[1] : "mm").toSi(Double.parseDouble(parts[0]));
        } catch (IllegalArgumentException unreadable) {
            return Double.NaN;
        }
    }

    private Proposal proposal(List<Candidate> candidates, int i, double bits, double variance, double chanceBest) {
        Candidate base = candidates.get(0);
        Candidate candidate = candidates.get(i);
        TrialFigure figure = about.figure();
        double value = candidate.mean - base.mean;
        double between = i == 0 ? 0 : candidate.variance + (candidate.onPresent ? 0 : base.variance);
        double half = NORMAL95 * Math.sqrt(between);
        Band expected = new Band(figure.shown(value), figure.shown(value - half), figure.shown(value + half));
        double effectBits = ExpectedInformation.bits(variance, noise);
        return new Proposal(
                candidate.change,
                candidate.settings,
                i == 0,
                bits,
                effectBits,
                chanceBest,
                expected,
                candidate.known,
                sentence(candidate, expected, bits));
    }

    private String sentence(Candidate candidate, Band expected, double bits) {
        String unit = about.figure().isPlain() ? "K" : "%";
        String size = String.format(
                Locale.ROOT,
                "%+.0f %s in the %s (%+.0f to %+.0f)",
                expected.value(),
                unit,
                about.words(),
                expected.low95(),
                expected.high95());
        String known = switch (candidate.known) {
            case PRESENT -> "it tells the level that the others are held against more surely";
            case TRIED -> "burnt before, with " + size;
            case MODEL -> "the model of the forge expects " + size;
            case NOTHING ->
                "nobody has burnt it and the model does not know it, so anything is taken for possible, " + size;
        };
        return String.format(
                Locale.ROOT,
                "%s: %s; one burn is expected to tell %.2f bit about which setting is best.",
                candidate.change.substring(0, 1).toUpperCase(Locale.ROOT) + candidate.change.substring(1),
                known,
                bits);
    }

    private String why(Proposal most, double repeatBits) {
        String best = about.figure().better() == TrialFigure.Better.MORE ? "most" : "least";
        return String.format(
                Locale.ROOT,
                "%s would tell most: %.2f bit about which of the possible settings has the %s %s%s.",
                most.change().substring(0, 1).toUpperCase(Locale.ROOT)
                        + most.change().substring(1),
                most.informationBits(),
                best,
                about.words(),
                most.repeat()
                        ? ""
                        : String.format(
                                Locale.ROOT, ", against %.2f bit from the present settings once more", repeatBits));
    }
}
