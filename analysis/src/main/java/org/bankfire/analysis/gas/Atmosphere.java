package org.bankfire.analysis.gas;

/** Barometric pressure of the standard atmosphere, ISO 2533:1975. Weather moves the real one by some ±3 %. */
public final class Atmosphere {
    /** At sea level, Pa. */
    public static final double SEA_LEVEL_PA = 101_325;
    /** Lowest altitude taken, m: the shore of the Dead Sea lies higher. */
    public static final double MIN_ALTITUDE_M = -500;
    /** Highest altitude taken, m: above 11,000 m the formula is another one. */
    public static final double MAX_ALTITUDE_M = 11_000;

    private static final double SEA_LEVEL_K = 288.15;
    private static final double LAPSE_K_PER_M = 0.0065;
    private static final double GRAVITY_M_PER_S2 = 9.80665;
    private static final double AIR_J_PER_KG_K = 287.05287;

    private Atmosphere() {}

    /**
     * Pressure at an altitude.
     *
     * @param altitudeM geopotential altitude above sea level, m, −500 to 11,000
     * @return Pa, absolute
     */
    public static double pressurePa(double altitudeM) {
        if (!(altitudeM >= MIN_ALTITUDE_M && altitudeM <= MAX_ALTITUDE_M)) {
            throw new IllegalArgumentException("altitude " + altitudeM + " m; allowed are " + MIN_ALTITUDE_M + " to "
                    + MAX_ALTITUDE_M + " m above sea level");
        }
        return SEA_LEVEL_PA
                * Math.pow(
                        1 - LAPSE_K_PER_M * altitudeM / SEA_LEVEL_K,
                        GRAVITY_M_PER_S2 / (AIR_J_PER_KG_K * LAPSE_K_PER_M));
    }
}
