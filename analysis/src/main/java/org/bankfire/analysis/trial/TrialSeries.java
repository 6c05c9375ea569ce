package org.bankfire.analysis.trial;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.prediction.Band;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.trial.Trial.Corrected;
import org.bankfire.analysis.trial.Trial.StretchTold;
import org.jspecify.annotations.Nullable;

/**
 * Burns of one forge, as trials.
 *
 * @param forge as described
 * @param common conditions that all were brought to: the middle ones; null without a burn
 * @param correctedWith what was known of the forge for that
 * @param keys figures that were looked for, in the order in which they are told
 * @param first the figure that verdicts are about where both trials tell it
 * @param trials in order of their first burn
 * @param comparisons of the newest ones with each other, and of each with the one before it
 * @param next what to try next
 * @param remarks what the reader must know, in words
 */
public record TrialSeries(
        ForgeDescription forge,
        @Nullable Conditions common,
        KnownForge.Basis correctedWith,
        List<FigureKey> keys,
        FigureKey first,
        List<Trial> trials,
        List<TrialComparison> comparisons,
        NextTrial next,
        List<String> remarks) {
    /** Trials that are kept, the newest: as many sets of settings nobody holds in the head. */
    private static final int MOST_TRIALS = 12;
    /** Of those, the newest that are compared each with each: fifteen pairs. */
    private static final int EACH_WITH_EACH = 6;
    /** A shorter stretch tells nothing. */
    private static final double SHORTEST_S = 60;
    /** Without a fit, as many members as corrections use. */
    private static final int DESCRIBED_MEMBERS = 12;

    private static final double NORMAL95_SHARE = 0.95;

    public TrialSeries {
        keys = List.copyOf(keys);
        trials = List.copyOf(trials);
        comparisons = List.copyOf(comparisons);
        remarks = List.copyOf(remarks);
    }

    /**
     * Cuts burns into trials and compares these.
     *
     * @param forge as described
     * @param burns in any order
     * @param inForce settings in force now, those that say what is possible among them
     */
    public static TrialSeries of(ForgeDescription forge, List<TrialBurn> burns, List<Setting> inForce) {
        return new Maker(forge, burns, inForce).series();
    }

    /** Works a series out. */
    private static final class Maker {
        private final ForgeDescription forge;
        private final List<Setting> inForce;
        private final List<TrialStretch> stretches = new ArrayList<>();
        private final TrialSettings present;
        private final List<FigureKey> keys;
        private final KnownForge known;

        Maker(ForgeDescription forge, List<TrialBurn> burns, List<Setting> inForce) {
            this.forge = forge;
            this.inForce = inForce;
            TrialSettings described = described(forge);
            TrialSettings now = described;
            for (Setting setting : inForce) {
                now = now.with(setting);
            }
            present = now;
            keys = FigureKey.all(forge.targetK());
            List<TrialBurn> sorted = new ArrayList<>(burns);
            sorted.sort(Comparator.comparing(TrialBurn::start));
            for (TrialBurn burn : sorted) {
                for (TrialStretch stretch : TrialStretch.cut(burn, described)) {
                    if (stretch.toS() - stretch.fromS() >= SHORTEST_S) {
                        stretches.add(stretch);
                    }
                }
            }
            known = known(sorted);
        }

        /** What the description says of settings that nobody noted. */
        private static TrialSettings described(ForgeDescription forge) {
            TrialSettings settings = TrialSettings.NONE.with(
                    TrialSettings.JET,
                    TrialSettings.valueOf(
                            String.format(Locale.ROOT, "%.4f", forge.burner().jetDiameterM() * 1000), "mm"));
            return forge.openings().stream().anyMatch(Opening::plugged) ? settings.with(Setting.PLUG, "in") : settings;
        }

        private KnownForge known(List<TrialBurn> sorted) {
            for (int i = sorted.size() - 1; i >= 0; i--) {
                KnownForge fit = sorted.get(i).fit();
                if (fit != null && fit.basis() == KnownForge.Basis.FITTED) {
                    return fit;
                }
            }
            return KnownForge.described(forge, DESCRIBED_MEMBERS);
        }

        TrialSeries series() {
            Conditions common = common();
            List<Trial> trials = common == null ? List.of() : trials(common);
            Map<FigureKey, BurnScatter> scatters = new HashMap<>();
            for (FigureKey key : keys) {
                List<List<BurnScatter.Value>> values =
                        trials.stream().map(trial -> trial.values(key)).toList();
                scatters.put(key, BurnScatter.of(key.figure(), values));
            }
            List<Trial> withMeans =
                    trials.stream().map(trial -> withMeans(trial, scatters)).toList();
            List<FigureKey> byRank = byRank();
            FigureKey first = byRank.stream()
                    .filter(key -> withMeans.stream()
                                    .filter(trial -> !trial.values(key).isEmpty())
                                    .count()
                            >= Math.min(2, Math.max(1, withMeans.size())))
                    .findFirst()
                    .orElse(keys.get(0));
            List<FigureKey> rank = new ArrayList<>(byRank);
            rank.remove(first);
            rank.add(0, first);
            BurnScatter scatter = scatters.getOrDefault(first, BurnScatter.of(first.figure(), List.of()));
            return new TrialSeries(
                    forge,
                    common,
                    known.basis(),
                    keys,
                    first,
                    withMeans,
                    comparisons(withMeans, rank, scatters),
                    new Proposer(first, withMeans, present, common, known, scatter)
                            .propose(TrialSettings.possible(inForce)),
                    remarks(withMeans));
        }

        /** Time to target, then the hottest heating rate, then what fits tell. Flutter is never what a trial is for. */
        private List<FigureKey> byRank() {
            List<FigureKey> rank = new ArrayList<>();
            for (TrialFigure figure : List.of(
                    TrialFigure.TIME_TO_TARGET,
                    TrialFigure.HEATING_RATE,
                    TrialFigure.GAS_AT_TARGET,
                    TrialFigure.STEADY_TEMPERATURE,
                    TrialFigure.EFFICIENCY,
                    TrialFigure.LOSS_COEFFICIENT)) {
                keys.stream()
                        .filter(key -> key.figure() == figure)
                        .sorted(Comparator.comparingDouble(FigureKey::atK).reversed())
                        .forEach(rank::add);
            }
            return rank;
        }

        /** The middle of what the burns had: nothing is brought farther than it must be. */
        private @Nullable Conditions common() {
            List<TrialStretch> usable =
                    stretches.stream().filter(TrialStretch::isFromLighting).toList();
            List<TrialStretch> from = usable.isEmpty() ? stretches : usable;
            if (from.isEmpty()) {
                return null;
            }
            return new Conditions(
                    middle(from.stream().mapToDouble(TrialStretch::startK).toArray()),
                    middle(from.stream().mapToDouble(TrialStretch::ambientK).toArray()),
                    middle(from.stream()
                            .mapToDouble(stretch -> stretch.gaugePaUntil(stretch.heatUpEndS(forge.targetK())))
                            .toArray()));
        }

        private static double middle(double[] values) {
            Arrays.sort(values);
            int n = values.length;
            return (values[(n - 1) / 2] + values[n / 2]) / 2;
        }

        private List<Trial> trials(Conditions common) {
            Corrector corrector = new Corrector(known, common);
            Map<TrialSettings, List<StretchTold>> bySettings = new LinkedHashMap<>();
            for (TrialStretch stretch : stretches) {
                bySettings
                        .computeIfAbsent(stretch.settings(), none -> new ArrayList<>())
                        .add(told(stretch, corrector, common));
            }
            List<Trial> trials = new ArrayList<>();
            for (Map.Entry<TrialSettings, List<StretchTold>> entry : bySettings.entrySet()) {
                trials.add(new Trial(
                        trials.size() + 1,
                        entry.getKey(),
                        entry.getKey().equals(present),
                        entry.getValue(),
                        List.of()));
            }
            return trials.subList(Math.max(0, trials.size() - MOST_TRIALS), trials.size());
        }

        private StretchTold told(TrialStretch stretch, Corrector corrector, Conditions common) {
            MeasuredFigures measured = new MeasuredFigures(stretch);
            FittedFigures fitted = new FittedFigures(stretch, common);
            List<StretchFigure> figures = new ArrayList<>();
            for (FigureKey key : keys) {
                figures.add(key.figure().isFitted() ? fitted.of(key) : measured.of(key));
            }
            Map<FigureKey, Correction> corrections = corrector.corrections(
                    stretch,
                    figures.stream()
                            .filter(StretchFigure::isComparable)
                            .map(StretchFigure::key)
                            .toList());
            SortedMap<FigureKey, Corrected> corrected = new TreeMap<>(Trial.ORDER);
            for (StretchFigure figure : figures) {
                if (!figure.isComparable()) {
                    continue;
                }
                FigureKey key = figure.key();
                Correction by = corrections.get(key);
                if (by != null) {
                    double scaled = key.figure().scaled(figure.band().value()) + by.total();
                    corrected.put(key, new Corrected(key.figure().unscaled(scaled), by));
                } else if (!Corrector.isOfHeatUp(key)) {
                    corrected.put(key, new Corrected(figure.band().value(), null));
                }
            }
            return new StretchTold(stretch, figures, corrected);
        }

        private Trial withMeans(Trial trial, Map<FigureKey, BurnScatter> scatters) {
            List<Trial.Mean> means = new ArrayList<>();
            for (FigureKey key : keys) {
                List<BurnScatter.Value> values = trial.values(key);
                BurnScatter scatter = scatters.get(key);
                if (values.isEmpty() || scatter == null) {
                    StretchFigure why = trial.stretches().get(0).figure(key);
                    means.add(new Trial.Mean(
                            key, 0, new Band(Double.NaN, Double.NaN, Double.NaN), why.because(), why.would()));
                    continue;
                }
                double mean = BurnScatter.mean(values);
                double half = MeanDifference.of(
                                0,
                                new MeanDifference.Part(scatter.variance() / values.size(), scatter.degreesOfFreedom()))
                        .halfWidth(NORMAL95_SHARE);
                TrialFigure figure = key.figure();
                Band band = new Band(figure.unscaled(mean), figure.unscaled(mean - half), figure.unscaled(mean + half));
                means.add(new Trial.Mean(key, values.size(), band, "", ""));
            }
            return new Trial(trial.number(), trial.settings(), trial.present(), trial.stretches(), means);
        }

        private List<TrialComparison> comparisons(
                List<Trial> trials, List<FigureKey> rank, Map<FigureKey, BurnScatter> scatters) {
            List<TrialComparison> comparisons = new ArrayList<>();
            for (int b = 1; b < trials.size(); b++) {
                for (int a = 0; a < b; a++) {
                    if (a == b - 1 || a >= trials.size() - EACH_WITH_EACH) {
                        comparisons.add(new Comparer(trials.get(a), trials.get(b), keys, scatters).compare(rank));
                    }
                }
            }
            return comparisons;
        }

        private List<String> remarks(List<Trial> trials) {
            List<String> remarks = new ArrayList<>();
            remarks.add(
                    "A comparison calls something real that is chance in no more than 5 % of cases: the figure of its"
                            + " verdict has four fifths of that, the others share the rest (Holm's method). Several comparisons each"
                            + " have their own 5 %.");
            remarks.add(
                    "Errors that all burns share, of probe, jet and description, cancel in differences and are not in"
                            + " their intervals.");
            List<TrialStretch> told = trials.stream()
                    .flatMap(trial -> trial.stretches().stream())
                    .map(StretchTold::stretch)
                    .toList();
            if (told.stream().anyMatch(stretch -> stretch.isFromLighting() && !stretch.hasPressure())) {
                remarks.add(
                        "Some burns have no gas pressure: it was taken for the pressure of heating up as described, and"
                                + " differences of pressure could not be corrected.");
            }
            if (told.stream()
                    .anyMatch(stretch ->
                            stretch.parts().stream().map(Stretch::ambientK).allMatch(kelvin -> Double.isNaN(kelvin)))) {
                remarks.add("Where the surroundings were not measured they are as described.");
            }
            if (told.stream().anyMatch(stretch -> stretch.isFromLighting() && stretch.isWarm())) {
                remarks.add("Some burns began with a warm forge, and how deep is not known: cold starts tell more.");
            }
            if (known.basis() == KnownForge.Basis.DESCRIBED && !told.isEmpty()) {
                remarks.add("No burn has a fit yet: corrections rest on the description alone.");
            }
            return remarks;
        }
    }
}
