package org.bankfire.analysis.trial;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.bankfire.analysis.trial.Trial.StretchTold;
import org.bankfire.analysis.trial.TrialComparison.Difference;
import org.bankfire.analysis.trial.TrialComparison.Scatter;
import org.jspecify.annotations.Nullable;

/** Compares two trials figure by figure. */
final class Comparer {
    /** Chance of any false "real" in a comparison. */
    static final double LEVEL = 0.05;
    /** Share of that chance that the figure of the verdict has; the others share the rest. */
    private static final double FIRST_SHARE = 0.8;
    /** Share of a corrections' difference that no member of the model accounts for. Common practice, no source. */
    private static final double MODEL_DOUBT = 0.1;
    /** Standard deviation of a normal distribution over its median absolute deviation. */
    private static final double OF_NORMAL = 1.4826;
    /** More burns than this nobody makes for one question. */
    private static final int MOST_MORE = 40;

    private final Trial from;
    private final Trial to;
    private final List<FigureKey> keys;
    private final Map<FigureKey, BurnScatter> scatters;

    Comparer(Trial from, Trial to, List<FigureKey> keys, Map<FigureKey, BurnScatter> scatters) {
        this.from = from;
        this.to = to;
        this.keys = keys;
        this.scatters = scatters;
    }

    /** A difference before it is judged. */
    private record Raw(FigureKey key, MeanDifference mean, BurnScatter scatter, Scatter shown, double systematic) {}

    TrialComparison compare(List<FigureKey> byRank) {
        List<@Nullable Raw> raws = new ArrayList<>();
        for (FigureKey key : keys) {
            raws.add(raw(key));
        }
        FigureKey about = byRank.stream()
                .filter(key -> raws.get(keys.indexOf(key)) != null)
                .findFirst()
                .orElse(null);
        long told = raws.stream().filter(raw -> raw != null).count();
        double[] p = new double[keys.size()];
        double[] weights = new double[keys.size()];
        for (int i = 0; i < p.length; i++) {
            Raw raw = raws.get(i);
            p[i] = raw == null ? Double.NaN : raw.mean().p();
            weights[i] = keys.get(i).equals(about) ? FIRST_SHARE : (1 - FIRST_SHARE) / Math.max(1, told - 1);
        }
        double[] together = Holm.adjusted(p, weights);
        List<Difference> differences = new ArrayList<>();
        for (int i = 0; i < p.length; i++) {
            Raw raw = raws.get(i);
            differences.add(raw == null ? untold(keys.get(i)) : judged(raw, p[i], together[i], told));
        }
        List<String> changed = TrialSettings.differing(from.settings(), to.settings());
        Difference first = about == null ? null : differences.get(keys.indexOf(about));
        return new TrialComparison(
                from,
                to,
                changed,
                about,
                first == null ? Verdict.CANNOT_TELL : first.verdict(),
                sentence(first, changed),
                differences);
    }

    private @Nullable Raw raw(FigureKey key) {
        List<BurnScatter.Value> a = from.values(key);
        List<BurnScatter.Value> b = to.values(key);
        BurnScatter scatter = scatters.get(key);
        if (a.isEmpty() || b.isEmpty() || scatter == null) {
            return null;
        }
        MeanDifference.Part[] own = scatter.parts(a, b);
        double systematic = corrections(key) + jets(key);
        MeanDifference.Part[] parts = Arrays.copyOf(own, own.length + 1);
        parts[own.length] = new MeanDifference.Part(systematic, Double.POSITIVE_INFINITY);
        MeanDifference mean = MeanDifference.of(BurnScatter.mean(b) - BurnScatter.mean(a), parts);
        double share = key.figure().isPlain() ? 1 : 100;
        Scatter shown = new Scatter(
                scatter.sourceOf(a, b),
                share * Math.sqrt(scatter.variance()),
                mean.degreesOfFreedom(),
                share * Math.sqrt(systematic));
        return new Raw(key, mean, scatter, shown, systematic);
    }

    /** Variance of the difference of the corrections: where both trials were corrected alike, it cancels. */
    private double corrections(FigureKey key) {
        Correction a = mean(from, key);
        Correction b = mean(to, key);
        if (a == null || b == null) {
            return 0;
        }
        int members = Math.min(a.members().size(), b.members().size());
        double best = b.total() - a.total();
        double[] off = new double[members];
        for (int m = 0; m < members; m++) {
            off[m] = Math.abs(b.members().get(m) - a.members().get(m) - best);
        }
        Arrays.sort(off);
        // Members are drawn to first order: a few of them hardly get to the target, which the forge did.
        double spread = members == 0 ? 0 : OF_NORMAL * (off[(members - 1) / 2] + off[members / 2]) / 2;
        double doubt = MODEL_DOUBT * best;
        return spread * spread + doubt * doubt + a.doubt() * a.doubt() + b.doubt() * b.doubt();
    }

    /** Mean correction of a trial; null where nothing was corrected. */
    private static @Nullable Correction mean(Trial trial, FigureKey key) {
        List<Correction> all = new ArrayList<>();
        for (StretchTold told : Trial.telling(trial.stretches(), key)) {
            Correction by = Trial.corrected(told, key).by();
            if (by != null) {
                all.add(by);
            }
        }
        if (all.isEmpty()) {
            return null;
        }
        int n = all.size();
        int members = all.stream().mapToInt(by -> by.members().size()).min().orElse(0);
        List<Double> means = new ArrayList<>();
        for (int m = 0; m < members; m++) {
            int member = m;
            means.add(all.stream().mapToDouble(by -> by.members().get(member)).sum() / n);
        }
        return new Correction(
                all.stream().mapToDouble(Correction::start).sum() / n,
                all.stream().mapToDouble(Correction::ambient).sum() / n,
                all.stream().mapToDouble(Correction::pressure).sum() / n,
                // Every rest before a burn was another.
                Math.sqrt(all.stream()
                                .mapToDouble(by -> by.doubt() * by.doubt())
                                .sum())
                        / n,
                means);
    }

    /** Two jets do not share the error of their bores. */
    private double jets(FigureKey key) {
        StretchTold a = Trial.telling(from.stretches(), key).get(0);
        StretchTold b = Trial.telling(to.stretches(), key).get(0);
        double jetA = a.stretch().burn().forge().burner().jetDiameterM();
        double jetB = b.stretch().burn().forge().burner().jetDiameterM();
        double errorA = a.figure(key).jetError();
        double errorB = b.figure(key).jetError();
        return jetA == jetB ? 0 : errorA * errorA + errorB * errorB;
    }

    private Difference untold(FigureKey key) {
        Trial without = from.values(key).isEmpty() ? from : to;
        StretchFigure why = without.stretches().get(0).figure(key);
        boolean byModel = why.isComparable();
        String because =
                byModel ? "the model of the forge does not get there, so that nothing can be corrected" : why.because();
        return new Difference(
                key,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Verdict.CANNOT_TELL,
                null,
                null,
                null,
                "Trial " + without.number() + " does not tell it: " + because + ".",
                byModel ? "a burn that can be fitted" : why.would());
    }

    private Difference judged(Raw raw, double p, double together, long told) {
        TrialFigure figure = raw.key().figure();
        MeanDifference mean = raw.mean();
        double half = mean.halfWidth(0.95);
        double value = figure.shown(mean.value());
        double low = figure.shown(mean.value() - half);
        double high = figure.shown(mean.value() + half);
        Verdict verdict =
                together <= LEVEL ? Verdict.REAL : half <= figure.worth() ? Verdict.WITHIN_NOISE : Verdict.CANNOT_TELL;
        String evidence = String.format(
                Locale.ROOT,
                "%s (95 %% from %s to %s); one burn differs from the next by %s, known from %s; chance %s by itself, %s with"
                        + " %d figures in view.",
                shown(figure, value),
                shown(figure, low),
                shown(figure, high),
                plain(figure, raw.shown().value()),
                raw.shown().source().words(),
                chance(p),
                chance(together),
                told);
        return new Difference(
                raw.key(),
                value,
                low,
                high,
                p,
                together,
                verdict,
                raw.shown(),
                shown(figure, mean(from, raw.key())),
                shown(figure, mean(to, raw.key())),
                evidence,
                verdict == Verdict.CANNOT_TELL ? more(raw) : "");
    }

    private static @Nullable Correction shown(TrialFigure figure, @Nullable Correction correction) {
        return correction == null ? null : correction.shown(figure);
    }

    /** How many more burns would show a difference worth noticing. */
    private String more(Raw raw) {
        TrialFigure figure = raw.key().figure();
        int a = from.values(raw.key()).size();
        int b = to.values(raw.key()).size();
        double variance = raw.scatter().variance();
        for (int n = 1; n <= MOST_MORE; n++) {
            double degrees = raw.scatter().degreesOfFreedom() + 2 * n;
            double half = MeanDifference.of(
                            0,
                            new MeanDifference.Part(variance * (1.0 / (a + n) + 1.0 / (b + n)), degrees),
                            new MeanDifference.Part(raw.systematic(), Double.POSITIVE_INFINITY))
                    .halfWidth(0.95);
            if (half <= figure.worth()) {
                return (n == 1 ? "one more burn of each trial" : n + " more burns of each trial") + " would show "
                        + plain(figure, figure.isPlain() ? figure.worth() : 100 * figure.worth());
            }
        }
        return "burns that begin alike, at the same gas pressure: what had to be corrected is the greater doubt";
    }

    private String sentence(@Nullable Difference first, List<String> changed) {
        if (first == null) {
            return "No figure is told by both trials: they cannot be compared.";
        }
        TrialFigure figure = first.key().figure();
        String words = first.key().words();
        String capital = words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
        String size = capital + " of trial " + to.number() + " against trial " + from.number() + ": "
                + shown(figure, first.value()) + " (95 % from " + shown(figure, first.low95()) + " to "
                + shown(figure, first.high95()) + "). ";
        String verdict = switch (first.verdict()) {
            case REAL ->
                "Real: chance alone makes such a difference in " + chance(first.pTogether()) + " of comparisons.";
            case WITHIN_NOISE ->
                "Within noise: " + plain(figure, figure.isPlain() ? figure.worth() : 100 * figure.worth())
                        + " or more would have shown.";
            case CANNOT_TELL -> "These burns cannot tell: " + first.would() + ".";
        };
        return size
                + verdict
                + (changed.size() > 1 && first.verdict() == Verdict.REAL
                        ? " Several settings changed at once: which of them did it cannot be told."
                        : "");
    }

    private static String chance(double p) {
        return p < 0.001 ? "less than 0.001" : String.format(Locale.ROOT, "%.2g", p);
    }

    private static String shown(TrialFigure figure, double value) {
        return String.format(Locale.ROOT, "%+.1f %s", value, figure.isPlain() ? "K" : "%");
    }

    private static String plain(TrialFigure figure, double value) {
        return String.format(Locale.ROOT, "%.1f %s", value, figure.isPlain() ? "K" : "%");
    }
}
