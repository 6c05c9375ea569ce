package org.bankfire.analysis.trial;

import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import org.bankfire.analysis.prediction.Band;
import org.jspecify.annotations.Nullable;

/**
 * The stretches of one or several burns under one set of settings.
 *
 * @param number from 1, in order of the first burn
 * @param settings in force
 * @param present whether they are in force now
 * @param stretches in order of time
 * @param means of its figures, at common conditions
 */
public record Trial(
        int number, TrialSettings settings, boolean present, List<StretchTold> stretches, List<Mean> means) {
    public Trial {
        stretches = List.copyOf(stretches);
        means = List.copyOf(means);
    }

    /**
     * A stretch and what it tells.
     *
     * @param stretch the stretch
     * @param figures as measured or fitted, each of the series' keys
     * @param corrected those that can be compared, brought to common conditions
     */
    public record StretchTold(
            TrialStretch stretch, List<StretchFigure> figures, SortedMap<FigureKey, Corrected> corrected) {
        public StretchTold {
            figures = List.copyOf(figures);
            SortedMap<FigureKey, Corrected> copy = new TreeMap<>(ORDER);
            copy.putAll(corrected);
            corrected = Collections.unmodifiableSortedMap(copy);
        }

        StretchFigure figure(FigureKey key) {
            return figures.stream()
                    .filter(figure -> figure.key().equals(key))
                    .findFirst()
                    .orElseThrow();
        }
    }

    /** In the order in which figures are told. */
    static final Comparator<FigureKey> ORDER =
            Comparator.comparing(FigureKey::figure).thenComparing(FigureKey::atK);

    /**
     * A figure at common conditions.
     *
     * @param value in its unit
     * @param by how it was brought there; null when there was nothing to correct, since it is of the fitted forge at those
     *     conditions, or does not depend on them
     */
    public record Corrected(double value, @Nullable Correction by) {}

    /**
     * Mean of a figure over the burns of a trial.
     *
     * @param key which figure
     * @param burns that tell it
     * @param band with its 95 % interval, by what burns differ by; NaN when no burn tells it
     * @param because why it cannot be told; else empty
     * @param would what would tell it; else empty
     */
    public record Mean(FigureKey key, int burns, Band band, String because, String would) {}

    /** Ids of its burns, in order of time. */
    public List<String> burns() {
        return stretches.stream()
                .map(told -> told.stretch().burn().burnId())
                .distinct()
                .toList();
    }

    /** One value a burn: of a burn with several stretches under the same settings the first that tells. */
    static List<StretchTold> telling(List<StretchTold> stretches, FigureKey key) {
        Map<String, StretchTold> byBurn = new LinkedHashMap<>();
        for (StretchTold told : stretches) {
            if (told.corrected().containsKey(key)) {
                byBurn.putIfAbsent(told.stretch().burn().burnId(), told);
            }
        }
        return List.copyOf(byBurn.values());
    }

    List<BurnScatter.Value> values(FigureKey key) {
        return values(stretches, key);
    }

    static List<BurnScatter.Value> values(List<StretchTold> stretches, FigureKey key) {
        return telling(stretches, key).stream()
                .map(told -> new BurnScatter.Value(
                        key.figure().scaled(corrected(told, key).value()),
                        told.figure(key).ownError()))
                .toList();
    }

    static Corrected corrected(StretchTold told, FigureKey key) {
        Corrected corrected = told.corrected().get(key);
        if (corrected == null) {
            throw new IllegalArgumentException(key + " is not told");
        }
        return corrected;
    }
}
