package org.bankfire.analysis.trial;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.prediction.KnownForge;

/**
 * Brings what stretches tell of their heat-ups to common conditions: each by what the model of the forge makes of the
 * difference, not by what the model says of the forge.
 */
final class Corrector {
    /** Members that are run: what they differ by in a correction is small against what burns differ by. */
    private static final int MOST_MEMBERS = 12;

    private final KnownForge known;
    private final Conditions common;

    /**
     * A corrector.
     *
     * @param known what is known of the forge
     * @param common conditions that all are brought to
     */
    Corrector(KnownForge known, Conditions common) {
        this.known = known;
        this.common = common;
    }

    /** Corrections of those heat-up figures that the model can tell; all others are missing. */
    Map<FigureKey, Correction> corrections(TrialStretch stretch, List<FigureKey> keys) {
        Map<FigureKey, Correction> corrections =
                new TreeMap<>(Comparator.comparing(FigureKey::figure).thenComparing(FigureKey::atK));
        List<FigureKey> asked = keys.stream().filter(Corrector::isOfHeatUp).toList();
        if (!stretch.isFromLighting() || asked.isEmpty()) {
            return corrections;
        }
        double toK = asked.stream().mapToDouble(FigureKey::atK).max().orElseThrow();
        HeatUp asBurnt = HeatUp.of(stretch, stretch.heatUpEndS(toK));
        HeatUp asCommon = HeatUp.constant(stretch.burn().forge(), stretch.isPlugIn(), common.gaugePa());
        KnownForge here = known.carriedTo(stretch.burn().forge());
        ForgeParameters best = here.parameters();
        double startK = stretch.throughoutK();
        double ambientK = stretch.ambientK();
        HeatUpCurve was = asBurnt.curve(best, startK, ambientK, toK);
        HeatUpCurve started = asBurnt.curve(best, common.throughoutK(), ambientK, toK);
        HeatUpCurve surrounded = asBurnt.curve(best, common.throughoutK(), common.ambientK(), toK);
        HeatUpCurve now = asCommon.curve(best, common.throughoutK(), common.ambientK(), toK);
        List<HeatUpCurve[]> members = new ArrayList<>();
        for (ForgeParameters member :
                here.members().stream().limit(MOST_MEMBERS).toList()) {
            members.add(new HeatUpCurve[] {
                asBurnt.curve(member, startK, ambientK, toK),
                asCommon.curve(member, common.throughoutK(), common.ambientK(), toK)
            });
        }
        for (FigureKey key : asked) {
            double start = of(started, key) - of(was, key);
            double ambient = of(surrounded, key) - of(started, key);
            double pressure = of(now, key) - of(surrounded, key);
            if (Double.isFinite(start + ambient + pressure)) {
                List<Double> totals = members.stream()
                        .map(pair -> of(pair[1], key) - of(pair[0], key))
                        .filter(Double::isFinite)
                        .toList();
                corrections.put(
                        key,
                        new Correction(
                                start,
                                ambient,
                                pressure,
                                stretch.isWarm() ? Conditions.DEEP_DOUBT * Math.abs(start) : 0,
                                // A member that does not get there says nothing of the others.
                                totals.size() == members.size() ? totals : List.of()));
            }
        }
        return corrections;
    }

    static boolean isOfHeatUp(FigureKey key) {
        return key.figure() == TrialFigure.TIME_TO_TARGET || key.figure() == TrialFigure.HEATING_RATE;
    }

    /** The figure of a curve on its scale. */
    static double of(HeatUpCurve curve, FigureKey key) {
        boolean rate = key.figure() == TrialFigure.HEATING_RATE;
        HeatUpCurve.Passing passing = curve.passing(key.atK(), rate);
        return key.figure().scaled(rate ? passing.perMin() : passing.timeS());
    }
}
