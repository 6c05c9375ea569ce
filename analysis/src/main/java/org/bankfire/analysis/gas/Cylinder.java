package org.bankfire.analysis.gas;

import org.bankfire.analysis.quantity.Range;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;

/**
 * A gas cylinder: how cold its liquid gets while gas is drawn, what pressure is left, and how long it lasts.
 *
 * <p>Steady draw: the heat of boiling comes in through the wall that the liquid wets,
 *
 * <pre>  m · L(T) = G · share(contents) · (T ambient − T)</pre>
 *
 * with m the draw, L the latent heat and G the heat gain of a full cylinder. The liquid needs an hour or so to get there,
 * because it and the steel must cool first: a short burn ends warmer. The share of the heat gain that is left as the
 * liquid falls follows the table for the draw of propane tanks in the <i>LP-Gas Serviceman's Manual</i> L-102-SV (from
 * memory). Ice on the wall takes off more.
 *
 * @param fuel what it holds, one that {@link VapourPressure#liquefies}; its fractions are taken as those of the liquid
 * @param capacityKg gas that it holds when full, kg, 0.1 to 100
 * @param tareKg mass of the empty cylinder with its valve, kg, 0.1 to 200; NaN when not known
 * @param heatGainWPerK heat gain from ambient over the difference of temperatures, full, W/K, 0.1 to 100; see
 *     {@link #usualHeatGainWPerK}
 */
public record Cylinder(Fuel fuel, double capacityKg, double tareKg, double heatGainWPerK) {
    /** Contents of a full one, kg: from a cartridge to what one person can just roll. */
    public static final Range CAPACITY_KG = new Range(0.1, 100);
    /** Masses when empty, kg. */
    public static final Range TARE_KG = new Range(0.1, 200);
    /** Heat gains of a full one, W/K. */
    public static final Range HEAT_GAIN_W_PER_K = new Range(0.1, 100);

    /**
     * Of a full cylinder of 11 kg: some 0.5 m² of wetted wall, and 10 W/(m² K) of still air and radiation together. Common
     * practice, no source; in a wind, in a basin of water, or iced up it is another figure, by a factor of two and more.
     */
    private static final double USUAL_GAIN_W_PER_K = 5;

    private static final double USUAL_CAPACITY_KG = 11;

    /** Part of the volume that the liquid of a full cylinder fills: the 80 % at which stop valves close. */
    private static final double FULL_VOLUME = 0.8;

    /** The manual's draw over that at 60 % of the volume and above, for every 10 % of the volume from none. */
    private static final double[] SHARES = {0.3, 0.45, 0.6, 0.7, 0.8, 0.9, 1};

    private static final int MAX_EVALUATIONS = 60;
    private static final double TEMPERATURE_ACCURACY_K = 1e-6;
    private static final double SECONDS_PER_HOUR = 3600;

    public Cylinder {
        CAPACITY_KG.require("capacity of the cylinder in kg", capacityKg);
        if (!Double.isNaN(tareKg)) {
            TARE_KG.require("mass of the empty cylinder in kg", tareKg);
        }
        HEAT_GAIN_W_PER_K.require("heat gain of the cylinder in W/K", heatGainWPerK);
        if (!VapourPressure.liquefies(fuel)) {
            throw new IllegalArgumentException(
                    "a cylinder of liquefied gas holds no methane; the fuel is " + fuel.name());
        }
    }

    /** A cylinder of unknown tare with the usual heat gain of its size. */
    public static Cylinder ofCapacity(Fuel fuel, double capacityKg) {
        CAPACITY_KG.require("capacity of the cylinder in kg", capacityKg);
        return new Cylinder(fuel, capacityKg, Double.NaN, usualHeatGainWPerK(capacityKg));
    }

    /**
     * Heat gain of a cylinder that stands in still air: 5 W/K at 11 kg, in proportion to the wall of a like shape. Common
     * practice, no source.
     *
     * @param capacityKg kg, in {@link #CAPACITY_KG}
     * @return W/K
     */
    public static double usualHeatGainWPerK(double capacityKg) {
        return USUAL_GAIN_W_PER_K * Math.pow(capacityKg / USUAL_CAPACITY_KG, 2.0 / 3);
    }

    /**
     * Gas in it, from its mass on a scale.
     *
     * @param massKg of cylinder and gas, kg
     * @return kg, 0 or more; NaN when the tare is not known
     */
    public double contentsKg(double massKg) {
        return Math.max(0, massKg - tareKg);
    }

    /**
     * Pressure that the liquid keeps up above ambient, before the regulator.
     *
     * @param liquidK temperature of the liquid, K
     * @param ambientPa pressure of the air, Pa absolute
     * @return Pa gauge, below 0 when the liquid is too cold to boil; NaN when an argument is, or the temperature is outside
     *     {@link VapourPressure#TEMPERATURE_K}
     */
    public double gaugePa(double liquidK, double ambientPa) {
        return VapourPressure.pressurePa(fuel, liquidK) - ambientPa;
    }

    /**
     * Temperature that the liquid comes to under a steady draw.
     *
     * @param contentsKg gas in it, kg, 0 to the capacity
     * @param drawKgPerS kg/s, 0 or more
     * @param ambientK temperature of the air, K
     * @return K; NaN when an argument is NaN or negative, or when it would cool below {@link VapourPressure#TEMPERATURE_K}:
     *     no such draw lasts
     */
    public double liquidK(double contentsKg, double drawKgPerS, double ambientK) {
        double gainWPerK = heatGainWPerK * share(contentsKg);
        double lowestK = VapourPressure.TEMPERATURE_K.low();
        double atLowestW = gainWPerK * (ambientK - lowestK) - drawKgPerS * latentHeatJPerKg(lowestK);
        if (!(drawKgPerS >= 0 && atLowestW > 0 && VapourPressure.TEMPERATURE_K.contains(ambientK))) {
            return Double.NaN;
        }
        if (drawKgPerS == 0) {
            return ambientK;
        }
        return new BracketingNthOrderBrentSolver(TEMPERATURE_ACCURACY_K, 5)
                .solve(
                        MAX_EVALUATIONS,
                        kelvin -> gainWPerK * (ambientK - kelvin) - drawKgPerS * latentHeatJPerKg(kelvin),
                        lowestK,
                        ambientK);
    }

    /**
     * Greatest steady draw that leaves a given pressure before the regulator.
     *
     * @param contentsKg gas in it, kg, 0 to the capacity
     * @param neededGaugePa Pa gauge before the regulator: what it gives, and what it needs above that
     * @param ambientK temperature of the air, K
     * @param ambientPa pressure of the air, Pa absolute
     * @return kg/s; 0 when the cylinder does not keep up that pressure even at rest; NaN when an argument is NaN or out of
     *     range
     */
    public double greatestDrawKgPerS(double contentsKg, double neededGaugePa, double ambientK, double ambientPa) {
        double atRestPa = gaugePa(ambientK, ambientPa);
        double share = share(contentsKg);
        if (Double.isNaN(atRestPa) || Double.isNaN(neededGaugePa) || Double.isNaN(share)) {
            return Double.NaN;
        }
        if (atRestPa <= neededGaugePa) {
            return 0;
        }
        double liquidK = VapourPressure.temperatureK(fuel, neededGaugePa + ambientPa);
        return heatGainWPerK * share * (ambientK - liquidK) / latentHeatJPerKg(liquidK);
    }

    /**
     * How long the contents last at a steady flow, as far as pressure does not end it before; see
     * {@link #greatestDrawKgPerS}.
     *
     * @param contentsKg gas in it, kg
     * @param flowKgPerS kg/s
     * @return h; NaN when an argument is NaN, or the flow is not above 0
     */
    public static double hoursLeft(double contentsKg, double flowKgPerS) {
        return flowKgPerS > 0 ? contentsKg / flowKgPerS / SECONDS_PER_HOUR : Double.NaN;
    }

    /**
     * Heat gain from ambient over the difference of temperatures, with the wall that the contents wet.
     *
     * @param contentsKg gas in it, kg, 0 or more
     * @return W/K; NaN for contents that cannot be
     */
    public double heatGainWPerK(double contentsKg) {
        return heatGainWPerK * share(contentsKg);
    }

    private double latentHeatJPerKg(double liquidK) {
        return VapourPressure.latentHeatJPerKg(fuel, liquidK);
    }

    /** Part of a full cylinder's heat gain that the contents leave; NaN for contents that cannot be. */
    private double share(double contentsKg) {
        if (!(contentsKg >= 0)) {
            return Double.NaN;
        }
        double tenths = Math.min(SHARES.length - 1.0, 10 * FULL_VOLUME * contentsKg / capacityKg);
        int below = Math.min(SHARES.length - 2, (int) tenths);
        return SHARES[below] + (tenths - below) * (SHARES[below + 1] - SHARES[below]);
    }
}
