package org.bankfire.daemon.acquire.virtual;

/**
 * What propane and air become, and the heat that it carries: molar heat capacities by the Shomate equations of the NIST
 * Chemistry WebBook (SRD 69; coefficients from memory, checked against the JANAF tables), burnt to the end when there is air
 * enough, else to the water-gas equilibrium frozen at 1500 K. No dissociation.
 *
 * <p>Holds tables over temperature with straight lines between; nothing is allocated after construction.
 */
final class BurntGas {
    private static final double PROPANE_KG_PER_MOL = 44.096e-3;
    private static final double LOWER_HEAT_J_PER_MOL = 2_043.1e3;
    private static final double CO_HEAT_J_PER_MOL = 283.0e3;
    private static final double H2_HEAT_J_PER_MOL = 241.8e3;
    /** Of CO + H2O = CO2 + H2 at 1500 K: JANAF, log Kf 13.801 − 8.485 − 5.725, from memory. */
    private static final double WATER_GAS = 0.39;
    /** Nitrogen with argon over oxygen in air, mol/mol. */
    private static final double N2_PER_O2 = 3.774;

    private static final double AIR_KG_PER_MOL_O2 = (1 + N2_PER_O2) * 28.964e-3;

    private static final double FIRST_C = -50;
    private static final double STEP_K = 10;
    private static final int POINTS = 266;

    /** A to E of a Shomate heat capacity, J/(mol K), of t = T/1000 K. */
    private record Curve(double a, double b, double c, double d, double e) {
        double at(double t) {
            return a + t * (b + t * (c + t * d)) + e / (t * t);
        }
    }

    /** Its curves below and above a border in K. */
    private record Species(double borderK, Curve low, Curve high) {
        /** J/(mol K); below room temperature as at 298 K. */
        double heatCapacity(double kelvin) {
            return (kelvin < borderK ? low : high).at(Math.max(298.15, kelvin) / 1_000);
        }
    }

    private static final Species N2 = new Species(
            500,
            new Curve(28.98641, 1.853978, -9.647459, 16.63537, 0.000117),
            new Curve(19.50583, 19.88705, -8.598535, 1.369784, 0.527601));
    private static final Species O2 = new Species(
            700,
            new Curve(31.32234, -20.23531, 57.86644, -36.50624, -0.007374),
            new Curve(30.03235, 8.772972, -3.988133, 0.788313, -0.741599));
    private static final Species CO2 = new Species(
            1_200,
            new Curve(24.99735, 55.18696, -33.69137, 7.948387, -0.136638),
            new Curve(58.16639, 2.720074, -0.492289, 0.038844, -6.447293));
    private static final Species H2O = new Species(
            1_700,
            new Curve(30.09200, 6.832514, 6.793435, -2.534480, 0.082139),
            new Curve(41.96426, 8.622053, -1.499780, 0.098119, -11.15764));
    private static final Species CO = new Species(
            1_300,
            new Curve(25.56759, 6.096130, 4.054656, -2.671301, 0.131021),
            new Curve(35.15070, 1.300095, -0.205921, 0.013550, -3.282780));
    private static final Species H2 = new Species(
            1_000,
            new Curve(33.066178, -11.363417, 11.432816, -2.772874, -0.158558),
            new Curve(18.563083, 12.257357, -2.859786, 0.268238, 1.977990));

    private final double co2;
    private final double h2o;
    private final double co;
    private final double h2;
    private final double o2;
    private final double n2;
    private final double[] burntJ = new double[POINTS];
    private final double[] airJ = new double[POINTS];
    private final double[] glow = new double[POINTS];
    private final double roomC;

    /**
     * Tables for one mixture in one chamber.
     *
     * @param mixture air over stoichiometric air
     * @param roomC temperature at which the gas carries nothing, °C
     * @param pathM mean length of a ray through the chamber, m
     * @param glowFactor on the emissivity of the gas
     * @param pressurePa of the air
     */
    BurntGas(double mixture, double roomC, double pathM, double glowFactor, double pressurePa) {
        this.roomC = roomC;
        double oxygen = 5 * mixture;
        n2 = N2_PER_O2 * oxygen;
        if (mixture >= 1) {
            co2 = 3;
            h2o = 4;
            co = 0;
            h2 = 0;
            o2 = oxygen - 5;
        } else {
            co2 = carbonDioxide(oxygen);
            co = 3 - co2;
            h2o = 2 * oxygen - 2 * co2 - co;
            h2 = 4 - h2o;
            o2 = 0;
        }
        fill(pathM, glowFactor, pressurePa);
    }

    /** Moles of CO2 of three moles of carbon when oxygen is short: bisection on the water-gas equilibrium. */
    private static double carbonDioxide(double oxygen) {
        double low = Math.max(0, 2 * oxygen - 7);
        double high = Math.min(3, 2 * oxygen - 3);
        for (int i = 0; i < 60; i++) {
            double trial = (low + high) / 2;
            double monoxide = 3 - trial;
            double water = 2 * oxygen - trial - 3;
            double hydrogen = 4 - water;
            if (trial * hydrogen < WATER_GAS * monoxide * water) {
                low = trial;
            } else {
                high = trial;
            }
        }
        return (low + high) / 2;
    }

    private void fill(double pathM, double glowFactor, double pressurePa) {
        double burnt = 0;
        double air = 0;
        for (int i = 0; i < POINTS; i++) {
            double kelvin = FIRST_C + i * STEP_K + 273.15;
            burntJ[i] = burnt;
            airJ[i] = air;
            glow[i] = Math.min(1, glowFactor * emissivity(kelvin, pathM, pressurePa));
            double middle = kelvin + STEP_K / 2;
            burnt += STEP_K * burntHeatCapacity(middle) / PROPANE_KG_PER_MOL;
            air += STEP_K * (O2.heatCapacity(middle) + N2_PER_O2 * N2.heatCapacity(middle)) / AIR_KG_PER_MOL_O2;
        }
        double burntAtRoom = at(burntJ, roomC);
        double airAtRoom = at(airJ, roomC);
        for (int i = 0; i < POINTS; i++) {
            burntJ[i] -= burntAtRoom;
            airJ[i] -= airAtRoom;
        }
    }

    /** J/K per mole of propane burnt. */
    private double burntHeatCapacity(double kelvin) {
        return co2 * CO2.heatCapacity(kelvin)
                + h2o * H2O.heatCapacity(kelvin)
                + co * CO.heatCapacity(kelvin)
                + h2 * H2.heatCapacity(kelvin)
                + o2 * O2.heatCapacity(kelvin)
                + n2 * N2.heatCapacity(kelvin);
    }

    /**
     * Emissivity of clear combustion gas as boilers are reckoned (Gurvich and Blokh; the normative method of 1973, from
     * memory): absorption k = ((7.8 + 16 r_w)/(3.16 √(p s)) − 1)(1 − 0.37 T/1000), p in MPa, T in K.
     */
    private double emissivity(double kelvin, double pathM, double pressurePa) {
        double all = co2 + h2o + co + h2 + o2 + n2;
        double water = h2o / all;
        double partial = (co2 + h2o) / all * pressurePa / 1e6;
        double absorption = (7.8 + 16 * water) / (3.16 * Math.sqrt(partial * pathM)) - 1;
        // The line falls to nothing at 2700 K; above 2100 K no chamber gas is.
        double warm = 1 - 0.37 * Math.min(2_100, Math.max(500, kelvin)) / 1_000;
        return -Math.expm1(-absorption * warm * partial * pathM);
    }

    private static double at(double[] table, double celsius) {
        double place = (celsius - FIRST_C) / STEP_K;
        int i = Math.max(0, Math.min(POINTS - 2, (int) place));
        return table[i] + (place - i) * (table[i + 1] - table[i]);
    }

    private static double slope(double[] table, double celsius) {
        int i = Math.max(0, Math.min(POINTS - 2, (int) ((celsius - FIRST_C) / STEP_K)));
        return (table[i + 1] - table[i]) / STEP_K;
    }

    /** Set free by a kilogram of propane, less what leaves unburnt, J/kg. */
    double releasedJPerKg() {
        return (LOWER_HEAT_J_PER_MOL - co * CO_HEAT_J_PER_MOL - h2 * H2_HEAT_J_PER_MOL) / PROPANE_KG_PER_MOL;
    }

    /** Air for a kilogram of propane at a mixture, kg. */
    static double airPerFuel(double mixture) {
        return 5 * mixture * AIR_KG_PER_MOL_O2 / PROPANE_KG_PER_MOL;
    }

    /** Carried by what a kilogram of propane became, above room temperature, J/kg. */
    double burntJPerKg(double celsius) {
        return at(burntJ, celsius);
    }

    /** J/(kg K). */
    double burntSlope(double celsius) {
        return slope(burntJ, celsius);
    }

    /** Carried by air above room temperature, J/kg. */
    double airJPerKg(double celsius) {
        return at(airJ, celsius);
    }

    /** J/(kg K). */
    double airSlope(double celsius) {
        return slope(airJ, celsius);
    }

    double emissivity(double celsius) {
        return at(glow, celsius);
    }

    /** Mole fractions of CO and H2 together in the wet gas, 0 to 1. */
    double unburntFraction() {
        return (co + h2) / (co2 + h2o + co + h2 + o2 + n2);
    }
}
