package org.bankfire.analysis.heat;

import org.bankfire.analysis.combustion.DryAir;
import org.bankfire.analysis.combustion.FlueGas;
import org.bankfire.analysis.quantity.Constants;

/**
 * The gas in the chamber, well stirred and without heat capacity of its own: what the flame releases leaves with the flue
 * at the gas temperature or goes to hot face and stock by convection and gas radiation. The emissivity of a surface enters
 * as (ε + 1) / 2 beside that of the gas (Hottel; Incropera, section 13.6), and the gas absorbs as it emits.
 *
 * <p>Holds the last solution; not safe for use by several threads.
 */
final class ChamberGas {
    /** Flue gas and emissivity in steps, straight lines between: 0.1 % of the heat at most. */
    private static final double STEP_K = 25;

    /** The lowest start of a run, below every ambient temperature: gas without a flame is as cold as what is around it. */
    private static final double FIRST_K = 200;

    private static final int POINTS = 113;
    private static final double SIGMA = Constants.STEFAN_BOLTZMANN_W_PER_M2_K4;
    private static final double SURFACE_FACTOR = (OpeningShape.WALL_EMISSIVITY + 1) / 2;
    /** Newton's method on a falling, smooth function ends in four or five. */
    private static final int MOST_ITERATIONS = 50;

    private static final double TOLERANCE_K = 1e-9;

    private final double lowerHeatingValueJPerKg;
    private final double[] flueJPerKg;
    private final double[] airJPerKg;
    private final double[] emissivity;

    // What is asked.
    private double fuelKgPerS;
    private double airKgPerS;
    private double arrivingW;
    private double convection;
    private double wallM2;
    private double stockM2;

    // The solution.
    private double gasK = 1000;
    private double toWallW;
    private double toStockW;
    private double wallPerWall;
    private double wallPerStock;
    private double stockPerWall;
    private double stockPerStock;

    ChamberGas(FlueGas flue, double fuelJPerKg, double pressurePa, double meanBeamM, double emissivityFactor) {
        lowerHeatingValueJPerKg = fuelJPerKg;
        flueJPerKg = new double[POINTS];
        airJPerKg = new double[POINTS];
        emissivity = new double[POINTS];
        for (int i = 0; i < POINTS; i++) {
            double kelvin = FIRST_K + i * STEP_K;
            flueJPerKg[i] = flue.heatLeftJPerKg(kelvin);
            airJPerKg[i] = DryAir.heatOfAirJPerKg(kelvin);
            double gas = GasRadiation.emissivity(
                    kelvin, flue.carbonDioxideFraction(), flue.waterFraction(), pressurePa, meanBeamM);
            emissivity[i] = Math.min(1, gas * emissivityFactor) * SURFACE_FACTOR;
        }
    }

    /** The same gas for a run of its own; what never changes is shared. */
    ChamberGas(ChamberGas other) {
        lowerHeatingValueJPerKg = other.lowerHeatingValueJPerKg;
        flueJPerKg = other.flueJPerKg;
        airJPerKg = other.airJPerKg;
        emissivity = other.emissivity;
    }

    /**
     * What goes in, until told otherwise.
     *
     * @param fuel burning, kg/s
     * @param draught air and unburnt gas that only pass through, as air, kg/s
     * @param burnedAir air that burns the fuel, kg/s
     * @param ambientK of all that comes in, K
     */
    void supply(double fuel, double draught, double burnedAir, double ambientK) {
        fuelKgPerS = fuel;
        airKgPerS = draught;
        double ambientJPerKg = at(airJPerKg, ambientK);
        arrivingW = fuel * lowerHeatingValueJPerKg + (draught + burnedAir) * ambientJPerKg;
    }

    /** The surfaces and the coefficient of convection to them, W/(m² K), until told otherwise. */
    void surfaces(double coefficient, double wall, double stock) {
        convection = coefficient;
        wallM2 = wall;
        stockM2 = stock;
    }

    /** Finds the gas temperature, and the heat to the surfaces at these temperatures and its slopes. */
    void solve(double wallK, double stockK) {
        double wall4 = fourth(wallK);
        double stock4 = fourth(stockK);
        double low = FIRST_K;
        double high = FIRST_K + (POINTS - 1) * STEP_K;
        double kelvin = Math.min(high, Math.max(low, gasK));
        double slope = 0;
        double perGas = 0;
        for (int n = 0; n < MOST_ITERATIONS; n++) {
            int i = place(kelvin);
            double part = (kelvin - FIRST_K) / STEP_K - i;
            double glow = emissivity[i] + part * (emissivity[i + 1] - emissivity[i]);
            double glowSlope = (emissivity[i + 1] - emissivity[i]) / STEP_K;
            double gas4 = fourth(kelvin);
            toWallW = wallM2 * (convection * (kelvin - wallK) + glow * SIGMA * (gas4 - wall4));
            toStockW = stockM2 * (convection * (kelvin - stockK) + glow * SIGMA * (gas4 - stock4));
            double flueW = fuelKgPerS * (flueJPerKg[i] + part * (flueJPerKg[i + 1] - flueJPerKg[i]))
                    + airKgPerS * (airJPerKg[i] + part * (airJPerKg[i + 1] - airJPerKg[i]));
            double left = arrivingW - flueW - toWallW - toStockW;
            perGas = convection + 4 * glow * SIGMA * gas4 / kelvin;
            double wallPerGas = wallM2 * (perGas + glowSlope * SIGMA * (gas4 - wall4));
            double stockPerGas = stockM2 * (perGas + glowSlope * SIGMA * (gas4 - stock4));
            slope = fuelKgPerS * (flueJPerKg[i + 1] - flueJPerKg[i]) / STEP_K
                    + airKgPerS * (airJPerKg[i + 1] - airJPerKg[i]) / STEP_K
                    + wallPerGas
                    + stockPerGas;
            if (left > 0) {
                low = kelvin;
            } else {
                high = kelvin;
            }
            double next = kelvin + left / slope;
            boolean done = Math.abs(next - kelvin) < TOLERANCE_K;
            // A Newton step out of the bracket is replaced by halving it.
            kelvin = next > low - TOLERANCE_K && next < high + TOLERANCE_K ? next : (low + high) / 2;
            if (done) {
                slopes(glow, wallK, stockK, wallPerGas, stockPerGas, slope);
                break;
            }
        }
        gasK = kelvin;
    }

    private void slopes(double glow, double wallK, double stockK, double wallPerGas, double stockPerGas, double slope) {
        double wallOwn = wallM2 * (convection + 4 * glow * SIGMA * wallK * wallK * wallK);
        double stockOwn = stockM2 * (convection + 4 * glow * SIGMA * stockK * stockK * stockK);
        wallPerWall = wallPerGas * wallOwn / slope - wallOwn;
        wallPerStock = wallPerGas * stockOwn / slope;
        stockPerWall = stockPerGas * wallOwn / slope;
        stockPerStock = stockPerGas * stockOwn / slope - stockOwn;
    }

    private static double fourth(double kelvin) {
        double square = kelvin * kelvin;
        return square * square;
    }

    private static int place(double kelvin) {
        int i = (int) ((kelvin - FIRST_K) / STEP_K);
        return Math.max(0, Math.min(POINTS - 2, i));
    }

    private static double at(double[] table, double kelvin) {
        int i = place(kelvin);
        return table[i] + ((kelvin - FIRST_K) / STEP_K - i) * (table[i + 1] - table[i]);
    }

    /** Heat that leaves with the flue above what came in with the air, by the state of the gas alone, W. */
    double flueW() {
        return fuelKgPerS * at(flueJPerKg, gasK)
                + airKgPerS * at(airJPerKg, gasK)
                - (arrivingW - fuelKgPerS * lowerHeatingValueJPerKg);
    }

    double gasK() {
        return gasK;
    }

    double toWallW() {
        return toWallW;
    }

    double toStockW() {
        return toStockW;
    }

    /** Change of the heat to the wall with the wall's temperature, W/K. */
    double wallPerWall() {
        return wallPerWall;
    }

    /** Change of the heat to the wall with the stock's temperature, W/K. */
    double wallPerStock() {
        return wallPerStock;
    }

    /** Change of the heat to the stock with the wall's temperature, W/K. */
    double stockPerWall() {
        return stockPerWall;
    }

    /** Change of the heat to the stock with the stock's temperature, W/K. */
    double stockPerStock() {
        return stockPerStock;
    }
}
