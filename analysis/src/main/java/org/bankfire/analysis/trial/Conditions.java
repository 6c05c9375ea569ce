package org.bankfire.analysis.trial;

/**
 * What a heat-up starts from and is driven by.
 *
 * @param startK chamber at gas on, K
 * @param ambientK of the surroundings, K
 * @param gaugePa gas pressure from gas on, Pa gauge
 */
public record Conditions(double startK, double ambientK, double gaugePa) {
    /**
     * How deep a warm lining is warm nobody measured: anything between its face alone and throughout, evenly. As heat it is
     * taken for half of the excess throughout (a lining that was soaked and stands in the cold has that), with the standard
     * deviation of a rectangle (GUM 4.3.7).
     */
    private static final double DEEP = 0.5;

    /** Standard uncertainty of the effect of a warm start, over that effect. */
    static final double DEEP_DOUBT = 1 / Math.sqrt(12) / DEEP;

    /** Temperature that the model begins with throughout, K. */
    double throughoutK() {
        return throughoutK(startK, ambientK);
    }

    static double throughoutK(double startK, double ambientK) {
        return ambientK + DEEP * (startK - ambientK);
    }
}
