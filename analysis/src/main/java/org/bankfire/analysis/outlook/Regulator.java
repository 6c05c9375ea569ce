package org.bankfire.analysis.outlook;

import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;

/**
 * What the regulator was turned to, and when.
 *
 * @param gaugePa pressure now, Pa gauge; NaN when unknown
 * @param touchedS when it was turned last while gas flowed, s since the burn's start; NaN when it was not
 * @param beforePa pressure before that, Pa gauge; NaN likewise
 * @param workingPa the highest pressure that was held for two minutes, Pa gauge; NaN when none was
 */
record Regulator(double gaugePa, double touchedS, double beforePa, double workingPa) {
    /** Sag, droop and noise of a regulator that nobody touches change less than this at once. Common practice, no source. */
    private static final double TURN_SHARE = 0.05;

    private static final double TURN_PA = 1000;
    /** Turns within this are one. */
    private static final double ONE_TURN_S = 30;
    /** What the pressure takes to come to rest after a turn. */
    private static final double REST_S = 4;
    /** The pressure now is the mean of so long. */
    private static final double NOW_S = 120;
    /** As long a pressure must be held to be one that the burner works at. */
    private static final double HELD_S = 120;

    static Regulator of(List<Stretch> stretches, double gasOnPa) {
        double touchedS = Double.NaN;
        double beforePa = Double.NaN;
        double levelPa = Double.NaN;
        double levelFromS = 0;
        double workingPa = Double.NaN;
        for (Stretch stretch : stretches) {
            double pascal = stretch.gaugePa();
            boolean flows = stretch.lit() && pascal > gasOnPa;
            if (!flows) {
                levelPa = Double.NaN;
                continue;
            }
            if (Double.isNaN(levelPa)) {
                levelPa = pascal;
                levelFromS = stretch.startS();
            } else if (Math.abs(pascal - levelPa) > Math.max(TURN_PA, TURN_SHARE * levelPa)) {
                beforePa = stretch.startS() - touchedS < ONE_TURN_S ? beforePa : levelPa;
                touchedS = stretch.startS();
                levelPa = pascal;
                levelFromS = stretch.startS();
            } else {
                double part = stretch.lengthS() / Math.min(NOW_S, stretch.endS() - levelFromS);
                levelPa += Math.min(1, part) * (pascal - levelPa);
            }
            if (stretch.endS() - levelFromS >= HELD_S) {
                workingPa = Double.isNaN(workingPa) ? levelPa : Math.max(workingPa, levelPa);
            }
        }
        return new Regulator(now(stretches, touchedS, gasOnPa), touchedS, beforePa, workingPa);
    }

    private static double now(List<Stretch> stretches, double touchedS, double gasOnPa) {
        if (stretches.isEmpty()) {
            return Double.NaN;
        }
        Stretch last = stretches.get(stretches.size() - 1);
        double fromS = last.endS() - NOW_S;
        fromS = touchedS + REST_S > fromS ? touchedS + REST_S : fromS;
        double sum = 0;
        double seconds = 0;
        for (int i = stretches.size() - 1; i >= 0; i--) {
            Stretch stretch = stretches.get(i);
            boolean same = stretch.lit() == last.lit() && stretch.gaugePa() > gasOnPa == last.gaugePa() > gasOnPa;
            if (stretch.startS() < fromS || !same) {
                break;
            }
            sum += stretch.gaugePa() * stretch.lengthS();
            seconds += stretch.lengthS();
        }
        return seconds > 0 ? sum / seconds : last.gaugePa();
    }
}
