package org.bankfire.analysis.outlook;

import java.util.List;
import org.bankfire.analysis.prediction.Band;

/**
 * How well forecasts of this forge did.
 *
 * @param count forecasts that could be compared
 * @param meanErrorK forecast less what happened, K; NaN without any
 * @param rmsErrorK root mean square of it, K; NaN without any
 * @param shareInBand of them within their 95 % bands, 0 to 1; NaN without any
 * @param latest the latest ones, oldest first, at most {@value #MOST_LATEST}
 */
public record Score(long count, double meanErrorK, double rmsErrorK, double shareInBand, List<Compared> latest) {
    /** As many as a list on a page can show. */
    public static final int MOST_LATEST = 20;

    public Score {
        latest = List.copyOf(latest);
    }

    /**
     * A forecast and what happened.
     *
     * @param touchedS when the regulator was turned, s since the burn's start
     * @param beforePa pressure before that, Pa gauge
     * @param gaugePa pressure after it, Pa gauge
     * @param madeS when the forecast was made, s since the burn's start
     * @param dueS the moment that it was made for, s since the burn's start
     * @param forecastK K
     * @param happenedK mean reading about {@code dueS}, K
     */
    public record Compared(
            double touchedS,
            double beforePa,
            double gaugePa,
            double madeS,
            double dueS,
            Band forecastK,
            double happenedK) {
        /** Forecast less what happened, K. */
        public double errorK() {
            return forecastK.value() - happenedK;
        }

        /** Whether what happened lies in the band. */
        public boolean isInBand() {
            return forecastK.low95() <= happenedK && happenedK <= forecastK.high95();
        }
    }
}
