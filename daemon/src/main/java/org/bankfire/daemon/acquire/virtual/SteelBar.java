package org.bankfire.daemon.acquire.virtual;

/** A round bar of 16 mm with 200 mm of its length in the chamber, at one temperature throughout. */
final class SteelBar {
    static final double SURFACE_M2 = Math.PI * 0.016 * 0.2;
    private static final double MASS_KG = 7_850 * Math.PI / 4 * 0.016 * 0.016 * 0.2;

    private double celsius;

    SteelBar(double celsius) {
        this.celsius = celsius;
    }

    void take(double watts, double stepS) {
        celsius += watts * stepS / (MASS_KG * heatCapacity(celsius));
    }

    /** Carbon steel with the hump of its transformation, J/(kg K); shape from memory. */
    private static double heatCapacity(double celsius) {
        double away = (celsius - 735) / 28;
        return 460 + 0.26 * celsius + 1_100 * Math.exp(-away * away);
    }

    double celsius() {
        return celsius;
    }
}
