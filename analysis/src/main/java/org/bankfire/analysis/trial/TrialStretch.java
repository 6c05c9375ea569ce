package org.bankfire.analysis.trial;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.quantity.Constants;
import org.bankfire.analysis.reading.Setting;

/** A stretch of a burn under one set of settings, and what it looks like. Immutable. */
public final class TrialStretch {
    /** Less than this is a closed valve with a zero that drifted. Common practice, no source. */
    private static final double GAS_ON_PA = 500;
    /** A forge this near to ambient is cold: the first mean already holds some of the rise. */
    private static final double COLD_K = 8;
    /** Points of a curve: as many as a chart of a hand's breadth can show. */
    private static final int MOST_POINTS = 200;
    /** A stretch that begins this soon holds the lighting. Hands are no clocks. */
    private static final double FROM_LIGHTING_S = 5;

    private final TrialBurn burn;
    private final TrialSettings settings;
    private final double fromS;
    private final double toS;
    private final List<Stretch> parts;

    private TrialStretch(TrialBurn burn, TrialSettings settings, double fromS, double toS, List<Stretch> parts) {
        this.burn = burn;
        this.settings = settings;
        this.fromS = fromS;
        this.toS = toS;
        this.parts = parts;
    }

    /**
     * Cuts a burn where its settings change; spans without fire are left out.
     *
     * @param described settings that the description makes known when nobody noted them, such as the jet
     */
    static List<TrialStretch> cut(TrialBurn burn, TrialSettings described) {
        List<TrialStretch> stretches = new ArrayList<>();
        for (TrialBurn.Span span : burn.spans()) {
            List<Stretch> parts = burn.record().stretches().stream()
                    .filter(part -> middleS(part) >= span.fromS() && middleS(part) < span.toS())
                    .toList();
            int last = parts.size() - 1;
            while (last >= 0 && !burns(parts.get(last))) {
                last--;
            }
            if (last >= 0) {
                List<Stretch> lit = parts.subList(0, last + 1);
                TrialSettings settings = described;
                for (var entry : span.settings().values().entrySet()) {
                    settings = settings.with(entry.getKey(), entry.getValue());
                }
                double fromS = span.fromS() > 0 ? span.fromS() : lit.get(0).startS();
                double toS = Math.min(span.toS(), lit.get(last).endS());
                stretches.add(new TrialStretch(burn, settings, fromS, toS, lit));
            }
        }
        return stretches;
    }

    private static boolean burns(Stretch part) {
        return part.lit() && (Double.isNaN(part.gaugePa()) || part.gaugePa() > GAS_ON_PA);
    }

    private static double middleS(Stretch part) {
        return (part.startS() + part.endS()) / 2;
    }

    /** The burn that it is of. */
    public TrialBurn burn() {
        return burn;
    }

    /** In force throughout. */
    public TrialSettings settings() {
        return settings;
    }

    /** Beginning, s since the burn's start. */
    public double fromS() {
        return fromS;
    }

    /** End, s since the burn's start. */
    public double toS() {
        return toS;
    }

    List<Stretch> parts() {
        return parts;
    }

    /** Whether it begins with the lighting. */
    boolean isFromLighting() {
        return fromS <= FROM_LIGHTING_S;
    }

    /** Whether nothing but the plug was set anew during the burn: the fit of a burn knows the plug, and no more. */
    boolean isOfOneForge() {
        return burn.spans().stream()
                .allMatch(span -> TrialSettings.differing(
                                span.settings(), burn.spans().get(0).settings())
                        .stream()
                        .allMatch(Setting.PLUG::equals));
    }

    /** Whether the plug is in. */
    boolean isPlugIn() {
        return !settings.of(Setting.PLUG).equals("out");
    }

    boolean hasPressure() {
        return parts.stream().anyMatch(part -> !Double.isNaN(part.gaugePa()));
    }

    double gaugePa(Stretch part) {
        return Double.isNaN(part.gaugePa()) ? burn.forge().burner().heatUpPressurePa() : part.gaugePa();
    }

    /** Whether stock is in at any time up to {@code untilS}. */
    boolean hasStockUntil(double untilS) {
        return parts.stream().anyMatch(part -> part.stockIn() && part.startS() < untilS);
    }

    /** Mean gas pressure while it burned up to a time, Pa gauge; NaN without fire. */
    public double gaugePaUntil(double untilS) {
        double sum = 0;
        double seconds = 0;
        for (Stretch part : parts) {
            if (burns(part) && part.startS() < untilS) {
                sum += gaugePa(part) * part.lengthS();
                seconds += part.lengthS();
            }
        }
        return seconds > 0 ? sum / seconds : Double.NaN;
    }

    /**
     * Until it was as hot as is asked for, or as hot as it got, s since the burn's start: after that a hand may have turned
     * the gas down.
     */
    public double heatUpEndS(double toK) {
        double hottestK = Double.NEGATIVE_INFINITY;
        double atS = toS;
        for (Stretch part : parts) {
            if (part.samples() > 0 && part.chamberK() > hottestK) {
                hottestK = part.chamberK();
                atS = part.endS();
                if (hottestK >= toK) {
                    break;
                }
            }
        }
        return atS;
    }

    /** Mean of the surroundings, K; as described when they were not measured. */
    public double ambientK() {
        double sum = 0;
        double seconds = 0;
        for (Stretch part : parts) {
            if (ForgeDescription.AMBIENT_K.contains(part.ambientK())) {
                sum += part.ambientK() * part.lengthS();
                seconds += part.lengthS();
            }
        }
        return seconds > 0 ? sum / seconds : burn.forge().ambientK();
    }

    /** Chamber at its beginning, K; a forge within some kelvin of the surroundings is as cold as they are. */
    public double startK() {
        for (Stretch part : parts) {
            if (part.samples() > 0) {
                double ambientK = ambientK();
                return Math.abs(part.chamberK() - ambientK) < COLD_K ? ambientK : part.chamberK();
            }
        }
        return ambientK();
    }

    /** Temperature that the model begins with throughout, K. */
    double throughoutK() {
        return Conditions.throughoutK(startK(), ambientK());
    }

    /** Whether it began well above the surroundings. */
    boolean isWarm() {
        return startK() - ambientK() > COLD_K;
    }

    /** The chamber as measured. */
    HeatUpCurve measured() {
        List<Stretch> told = parts.stream().filter(part -> part.samples() > 0).toList();
        return new HeatUpCurve(
                told.stream().mapToDouble(TrialStretch::middleS).toArray(),
                told.stream().mapToDouble(Stretch::chamberK).toArray(),
                told.stream().mapToDouble(Stretch::samples).toArray());
    }

    /** Points of its curve, thinned: time since gas on in s, and the chamber in °C. */
    public List<double[]> curve() {
        List<Stretch> told = parts.stream().filter(part -> part.samples() > 0).toList();
        int group = (told.size() + MOST_POINTS - 1) / MOST_POINTS;
        List<double[]> points = new ArrayList<>();
        for (int from = 0; from < told.size(); from += Math.max(1, group)) {
            List<Stretch> together = told.subList(from, Math.min(told.size(), from + group));
            double seconds = together.stream().mapToDouble(Stretch::lengthS).sum();
            double timeS = 0;
            double kelvin = 0;
            for (Stretch part : together) {
                timeS += middleS(part) * part.lengthS() / seconds;
                kelvin += part.chamberK() * part.lengthS() / seconds;
            }
            points.add(new double[] {timeS, kelvin - Constants.ZERO_CELSIUS_K});
        }
        return points;
    }
}
