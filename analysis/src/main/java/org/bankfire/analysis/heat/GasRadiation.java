package org.bankfire.analysis.heat;

/**
 * Emissivity of a body of flue gas by the weighted sum of grey gases: T. F. Smith, Z. F. Shen and J. N. Friedman,
 * "Evaluation of coefficients for the weighted sum of gray gases model", J. Heat Transfer 104 (1982) 602–608, for carbon
 * dioxide and water at one atmosphere in the ratios 1 : 1 and 1 : 2 (coefficients from memory), linear between and constant
 * outside. Soot is left out: a burner's premixed flame is blue.
 */
final class GasRadiation {
    private static final double PASCAL_PER_ATMOSPHERE = 101_325;
    /** The coefficients hold from 600 to 2,400 K. */
    private static final double LOWEST_K = 600;

    private static final double HIGHEST_K = 2400;

    /** A grey gas: absorption in 1/(atm m), and its weight as a polynomial of the temperature in K. */
    private record Grey(double absorption, double b1, double b2, double b3, double b4) {
        double emissivity(double temperatureK, double atmosphereM) {
            double weight = b1 + temperatureK * (b2 + temperatureK * (b3 + temperatureK * b4));
            return weight * -Math.expm1(-absorption * atmosphereM);
        }
    }

    private static final Grey[] EQUAL = {
        new Grey(0.4303, 5.150e-1, -2.303e-4, 0.9779e-7, -1.494e-11),
        new Grey(7.055, 0.7749e-1, 3.399e-4, -2.297e-7, 3.770e-11),
        new Grey(178.1, 1.907e-1, -1.824e-4, 0.5608e-7, -0.5122e-11)
    };
    private static final Grey[] TWICE_THE_WATER = {
        new Grey(0.4201, 6.508e-1, -5.551e-4, 3.029e-7, -5.353e-11),
        new Grey(6.516, -0.2504e-1, 6.112e-4, -3.882e-7, 6.528e-11),
        new Grey(131.9, 2.718e-1, -3.118e-4, 1.221e-7, -1.612e-11)
    };

    private GasRadiation() {}

    /**
     * Emissivity.
     *
     * @param temperatureK of the gas, K
     * @param carbonDioxideFraction mole fraction
     * @param waterFraction mole fraction
     * @param pressurePa absolute
     * @param meanBeamM mean beam length, m: 3.6 times volume over surface (Incropera, table 13.4)
     * @return 0 to 1
     */
    static double emissivity(
            double temperatureK,
            double carbonDioxideFraction,
            double waterFraction,
            double pressurePa,
            double meanBeamM) {
        if (carbonDioxideFraction <= 0) {
            return 0;
        }
        double atmosphereM = (carbonDioxideFraction + waterFraction) * pressurePa / PASCAL_PER_ATMOSPHERE * meanBeamM;
        double kelvin = Math.min(HIGHEST_K, Math.max(LOWEST_K, temperatureK));
        double share = Math.min(1, Math.max(0, waterFraction / carbonDioxideFraction - 1));
        return (1 - share) * sum(EQUAL, kelvin, atmosphereM) + share * sum(TWICE_THE_WATER, kelvin, atmosphereM);
    }

    private static double sum(Grey[] gases, double kelvin, double atmosphereM) {
        double sum = 0;
        for (Grey gas : gases) {
            sum += gas.emissivity(kelvin, atmosphereM);
        }
        return sum;
    }
}
