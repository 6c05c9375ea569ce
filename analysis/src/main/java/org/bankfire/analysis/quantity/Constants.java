package org.bankfire.analysis.quantity;

/** Constants of nature, exact by the SI of 2019 or as CODATA 2018 rounds them. */
public final class Constants {
    /** Stefan–Boltzmann constant, W/(m² K⁴). */
    public static final double STEFAN_BOLTZMANN_W_PER_M2_K4 = 5.670_374_419e-8;
    /** 0 °C, K. */
    public static final double ZERO_CELSIUS_K = 273.15;
    /** Standard acceleration of free fall, m/s². */
    public static final double GRAVITY_M_PER_S2 = 9.80665;

    private Constants() {}
}
