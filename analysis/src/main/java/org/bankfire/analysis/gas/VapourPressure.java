package org.bankfire.analysis.gas;

import java.util.Map;
import org.bankfire.analysis.quantity.Range;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;

/**
 * Pressure that liquefied gas keeps up in its cylinder, and the heat that its boiling takes.
 *
 * <p>One gas: Wagner's equation, with x = 1 − T / Tc
 *
 * <pre>  ln(p / pc) = (A x + B x^1.5 + C x^3 + D x^6) / (1 − x)</pre>
 *
 * and the constants of J. McGarry, <i>Ind. Eng. Chem. Process Des. Dev.</i> 22 (1983) 313, which lie within 0.5 % of the
 * reference equations of state from −45 to 50 °C. Latent heat: that of the normal boiling point (Reid, Prausnitz and
 * Poling, <i>The Properties of Gases and Liquids</i>, from memory) carried to other temperatures by Watson's relation
 * with the exponent 0.38; within 3 %.
 *
 * <p>A mixture: Raoult's law, with the fractions of the fuel as those of molecules in the liquid, where nearly all of a
 * cylinder's contents are. Right to a few per cent for such kindred gases. The light gases boil off first: the
 * composition drifts while a cylinder empties, and its last quarter keeps up less pressure than these figures say.
 */
public final class VapourPressure {
    /** Temperatures of the liquid that are taken, K: from colder than any propane cylinder gets to one left in the sun. */
    public static final Range TEMPERATURE_K = new Range(200, 340);

    private static final double WATSON = 0.38;
    // The solver needs five or six; more means that it cannot find any.
    private static final int MAX_EVALUATIONS = 60;
    private static final double TEMPERATURE_ACCURACY_K = 1e-9;

    private static final Wagner ETHANE =
            new Wagner(-6.34307, 1.0163, -1.19116, -2.03539, 305.42, 4_869_710, 184.6, 14_710);
    private static final Wagner PROPANE =
            new Wagner(-6.67833, 1.15437, -1.64984, -2.70017, 369.82, 4_255_760, 231.1, 18_770);
    private static final Wagner PROPYLENE =
            new Wagner(-6.64231, 1.21857, -1.81005, -2.48212, 364.85, 4_605_230, 225.5, 18_410);
    private static final Wagner BUTANE =
            new Wagner(-6.88709, 1.15157, -1.99873, -3.13003, 425.18, 3_790_620, 272.7, 22_390);
    private static final Wagner ISOBUTANE =
            new Wagner(-6.95579, 1.5009, -2.52717, -1.49776, 408.14, 3_658_010, 261.4, 21_300);

    private VapourPressure() {}

    /** Whether this fuel is kept as a liquid: natural gas and whatever holds methane is not. */
    public static boolean liquefies(Fuel fuel) {
        return !fuel.fractions().containsKey(Hydrocarbon.METHANE);
    }

    /**
     * Vapour pressure of one gas. Ethane above its critical 32 °C is carried on straight in ln p over 1/T, as is usual for
     * a gas dissolved in others.
     *
     * @param gas any but methane
     * @param temperatureK of the liquid, K, in {@link #TEMPERATURE_K}
     * @return Pa, absolute; NaN when the temperature is NaN or outside
     * @throws IllegalArgumentException for methane
     */
    public static double pressurePa(Hydrocarbon gas, double temperatureK) {
        Wagner wagner = wagner(gas);
        return TEMPERATURE_K.contains(temperatureK) ? wagner.pressurePa(temperatureK) : Double.NaN;
    }

    /**
     * Vapour pressure of a fuel by Raoult's law.
     *
     * @param fuel one that {@link #liquefies}; its fractions are taken as those of the liquid
     * @param temperatureK of the liquid, K, in {@link #TEMPERATURE_K}
     * @return Pa, absolute; NaN when the temperature is NaN or outside
     * @throws IllegalArgumentException when the fuel holds methane
     */
    public static double pressurePa(Fuel fuel, double temperatureK) {
        double sum = 0;
        for (Map.Entry<Hydrocarbon, Double> share : fuel.fractions().entrySet()) {
            sum += share.getValue() * pressurePa(share.getKey(), temperatureK);
        }
        return sum;
    }

    /**
     * Temperature of the liquid at which the fuel reaches a pressure: the inverse of {@link #pressurePa(Fuel, double)}.
     *
     * @param fuel one that {@link #liquefies}
     * @param pressurePa Pa, absolute
     * @return K; NaN when the pressure is NaN or is reached at no temperature in {@link #TEMPERATURE_K}
     * @throws IllegalArgumentException when the fuel holds methane
     */
    public static double temperatureK(Fuel fuel, double pressurePa) {
        double lowest = pressurePa(fuel, TEMPERATURE_K.low());
        double highest = pressurePa(fuel, TEMPERATURE_K.high());
        if (!(pressurePa >= lowest && pressurePa <= highest)) {
            return Double.NaN;
        }
        double logPressure = Math.log(pressurePa);
        return new BracketingNthOrderBrentSolver(TEMPERATURE_ACCURACY_K, 5)
                .solve(
                        MAX_EVALUATIONS,
                        kelvin -> Math.log(pressurePa(fuel, kelvin)) - logPressure,
                        TEMPERATURE_K.low(),
                        TEMPERATURE_K.high());
    }

    /**
     * Heat that boiling takes; of a mixture, when all of its gases boil off in the proportion of the liquid.
     *
     * @param fuel one that {@link #liquefies}
     * @param temperatureK of the liquid, K, in {@link #TEMPERATURE_K}
     * @return J/kg; NaN when the temperature is NaN or outside
     * @throws IllegalArgumentException when the fuel holds methane
     */
    public static double latentHeatJPerKg(Fuel fuel, double temperatureK) {
        double joulePerMol = 0;
        for (Map.Entry<Hydrocarbon, Double> share : fuel.fractions().entrySet()) {
            joulePerMol += share.getValue() * wagner(share.getKey()).latentHeatJPerMol(temperatureK);
        }
        return TEMPERATURE_K.contains(temperatureK) ? joulePerMol / fuel.molarMassKgPerMol() : Double.NaN;
    }

    private static Wagner wagner(Hydrocarbon gas) {
        return switch (gas) {
            case ETHANE -> ETHANE;
            case PROPANE -> PROPANE;
            case PROPYLENE -> PROPYLENE;
            case BUTANE -> BUTANE;
            case ISOBUTANE -> ISOBUTANE;
            case METHANE ->
                throw new IllegalArgumentException(
                        "methane is no liquid at the temperature of a workshop; allowed are ethane, propane, propylene, butane"
                                + " and isobutane");
        };
    }

    /**
     * Constants of one gas.
     *
     * @param a to {@code d} of Wagner's equation, 1
     * @param criticalK Tc, K, that belongs to them
     * @param criticalPa pc, Pa, that belongs to them
     * @param boilingK normal boiling point, K
     * @param boilingJPerMol latent heat there, J/mol
     */
    private record Wagner(
            double a,
            double b,
            double c,
            double d,
            double criticalK,
            double criticalPa,
            double boilingK,
            double boilingJPerMol) {
        double pressurePa(double temperatureK) {
            double x = 1 - temperatureK / criticalK;
            if (x < 0) {
                // The slope at the critical point is d ln p / d(1/T) = A Tc.
                return criticalPa * Math.exp(a * (criticalK / temperatureK - 1));
            }
            double x3 = x * x * x;
            return criticalPa * Math.exp((a * x + b * x * Math.sqrt(x) + c * x3 + d * x3 * x3) / (1 - x));
        }

        double latentHeatJPerMol(double temperatureK) {
            double toCritical = Math.max(0, criticalK - temperatureK);
            return boilingJPerMol * Math.pow(toCritical / (criticalK - boilingK), WATSON);
        }
    }
}
