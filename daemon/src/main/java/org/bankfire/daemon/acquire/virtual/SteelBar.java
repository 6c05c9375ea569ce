package org.bankfire.daemon.acquire.virtual;

/**
 * A round bar of carbon steel with part of its length in the chamber, as rings around one another: one up to 20 mm, one more
 * for every further 8 mm of diameter.
 */
final class SteelBar {
    /** Scale. Common practice, no source. */
    static final double EMISSIVITY = 0.8;

    private static final double DENSITY_KG_PER_M3 = 7_850;
    private static final double SOLID_TO_M = 0.020;
    private static final double RING_M = 0.004;
    private static final int MOST_RINGS = 12;

    private final double surfaceM2;
    private final int rings;
    private final double[] celsius;
    private final double[] massKg;
    /** Area over distance to the ring inside, m. */
    private final double[] link;

    /**
     * A bar.
     *
     * @param diameterM 2 to 100 mm
     * @param lengthM in the chamber
     * @param startC its temperature
     */
    SteelBar(double diameterM, double lengthM, double startC) {
        if (!(diameterM >= 0.002 && diameterM <= 0.1)) {
            throw new IllegalArgumentException("bar of " + diameterM + " m: allowed are 0.002 to 0.1");
        }
        surfaceM2 = Math.PI * diameterM * lengthM;
        rings = Math.min(MOST_RINGS, 1 + (int) Math.ceil(Math.max(0, diameterM - SOLID_TO_M) / (2 * RING_M) - 1e-9));
        celsius = new double[rings];
        massKg = new double[rings];
        link = new double[rings];
        double thick = diameterM / 2 / rings;
        for (int i = 0; i < rings; i++) {
            double outer = diameterM / 2 - i * thick;
            double inner = outer - thick;
            celsius[i] = startC;
            massKg[i] = DENSITY_KG_PER_M3 * Math.PI * (outer * outer - inner * inner) * lengthM;
            link[i] = 2 * Math.PI * inner * lengthM / thick;
        }
    }

    /** Another of the same size and heat. */
    SteelBar copy() {
        return new SteelBar(this);
    }

    private SteelBar(SteelBar other) {
        surfaceM2 = other.surfaceM2;
        rings = other.rings;
        celsius = other.celsius.clone();
        massKg = other.massKg;
        link = other.link;
    }

    void take(double watts, double stepS) {
        double coming = watts;
        for (int i = 0; i < rings; i++) {
            double going = 0;
            if (i < rings - 1) {
                double middle = (celsius[i] + celsius[i + 1]) / 2;
                going = link[i] * conductivity(middle) * (celsius[i] - celsius[i + 1]);
            }
            celsius[i] += (coming - going) * stepS / (massKg[i] * heatCapacity(celsius[i]));
            coming = going;
        }
    }

    /** Carbon steel with the hump of its transformation, J/(kg K); shape from memory. */
    private static double heatCapacity(double celsius) {
        double away = (celsius - 735) / 28;
        return 460 + 0.26 * celsius + 1_100 * Math.exp(-away * away);
    }

    /** Falls to that of austenite, W/(m K); shape from memory. */
    private static double conductivity(double celsius) {
        return Math.max(27, 54 - 0.0333 * celsius);
    }

    double surfaceM2() {
        return surfaceM2;
    }

    double surfaceC() {
        return celsius[0];
    }

    double coreC() {
        return celsius[rings - 1];
    }

    /** Mean by mass, °C. */
    double celsius() {
        double sum = 0;
        double mass = 0;
        for (int i = 0; i < rings; i++) {
            sum += massKg[i] * celsius[i];
            mass += massKg[i];
        }
        return sum / mass;
    }
}
