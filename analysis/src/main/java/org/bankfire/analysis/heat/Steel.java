package org.bankfire.analysis.heat;

import java.util.Arrays;
import org.bankfire.analysis.quantity.Constants;

/**
 * Carbon steel with its transformation, EN 1993-1-2:2005 section 3.4.1 (specific heat, 3.4.1.2; conductivity, 3.4.1.3; the
 * density of 3.2.2), given there from 20 to 1,200 °C and held constant outside. Heat is counted from 0 K with the heat
 * capacity of 20 °C below that.
 */
public final class Steel {
    /** kg/m³. */
    public static final double DENSITY_KG_PER_M3 = 7850;

    /** Heat between two points of the table, J/kg: some 2 K, and a fifth of a kelvin in the transformation. */
    private static final double STEP_J_PER_KG = 1000;

    private static final double HIGHEST_K = 1800;
    private static final double[] TEMPERATURES_K = table();

    private Steel() {}

    /** Specific heat, J/(kg K); NaN for NaN. */
    public static double heatCapacityJPerKgK(double temperatureK) {
        double t = Math.max(20, temperatureK - Constants.ZERO_CELSIUS_K);
        if (t < 600) {
            return 425 + t * (7.73e-1 + t * (-1.69e-3 + t * 2.22e-6));
        }
        if (t < 735) {
            return 666 + 13_002 / (738 - t);
        }
        if (t < 900) {
            return 545 + 17_820 / (t - 731);
        }
        return Double.isNaN(t) ? t : 650;
    }

    /** Conductivity, W/(m K); NaN for NaN. */
    public static double conductivityWPerMK(double temperatureK) {
        double t = Math.max(20, temperatureK - Constants.ZERO_CELSIUS_K);
        return t >= 800 ? 27.3 : 54 - 3.33e-2 * t;
    }

    /** Temperature of steel that holds this heat above 0 K, K; NaN for NaN. */
    static double temperatureK(double heatJPerKg) {
        double place = heatJPerKg / STEP_J_PER_KG;
        if (!(place >= 0)) {
            return Double.isNaN(place) ? place : place * STEP_J_PER_KG / heatCapacityJPerKgK(0);
        }
        int i = Math.min((int) place, TEMPERATURES_K.length - 2);
        return TEMPERATURES_K[i] + (place - i) * (TEMPERATURES_K[i + 1] - TEMPERATURES_K[i]);
    }

    /** Slope of {@link #temperatureK}, turned round: J/(kg K). */
    static double apparentHeatCapacityJPerKgK(double heatJPerKg) {
        double place = heatJPerKg / STEP_J_PER_KG;
        int i = Math.min((int) Math.max(0, place), TEMPERATURES_K.length - 2);
        return STEP_J_PER_KG / (TEMPERATURES_K[i + 1] - TEMPERATURES_K[i]);
    }

    /** Heat above 0 K of steel at a temperature, J/kg; the inverse of {@link #temperatureK}. */
    static double heatJPerKg(double temperatureK) {
        int low = 0;
        int high = TEMPERATURES_K.length - 1;
        while (high - low > 1) {
            int middle = (low + high) >>> 1;
            if (TEMPERATURES_K[middle] <= temperatureK) {
                low = middle;
            } else {
                high = middle;
            }
        }
        double part = (temperatureK - TEMPERATURES_K[low]) / (TEMPERATURES_K[low + 1] - TEMPERATURES_K[low]);
        return (low + part) * STEP_J_PER_KG;
    }

    /** Temperatures at even steps of heat, by the midpoint rule over a hundredth of a kelvin. */
    private static double[] table() {
        double[] temperatures = new double[2000];
        double stepK = 0.01;
        double heat = 0;
        int filled = 1;
        for (long n = 0; n * stepK < HIGHEST_K; n++) {
            double next = heat + heatCapacityJPerKgK((n + 0.5) * stepK) * stepK;
            while (filled * STEP_J_PER_KG <= next) {
                temperatures[filled] = (n + (filled * STEP_J_PER_KG - heat) / (next - heat)) * stepK;
                filled++;
            }
            heat = next;
        }
        return Arrays.copyOf(temperatures, filled);
    }
}
