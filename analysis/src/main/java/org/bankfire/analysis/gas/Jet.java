package org.bankfire.analysis.gas;

/**
 * Flow of gas through a jet: isentropic flow of a perfect gas from rest (F. M. White, <i>Fluid Mechanics</i>,
 * chapter 9; ISO 9300 for the choked part) times a discharge coefficient.
 *
 * <p>With the absolute pressure ahead p0, the pressure ratio r and k = cp/cv
 *
 * <pre>  m = Cd · A · p0 · sqrt(2 k / (k − 1) / (R T0) · (r^(2/k) − r^((k+1)/k)))</pre>
 *
 * where r = ambient / p0, but not below the critical (2 / (k + 1))^(k / (k − 1)): at that ratio the jet chokes and what
 * lies behind it no longer matters. Pressure lost in hose and elbow is not included: {@code gaugePa} is the pressure at
 * the jet.
 */
public final class Jet {
    /** Molar gas constant, J/(mol K), exact (SI, 2019). */
    public static final double GAS_CONSTANT_J_PER_MOL_K = 8.314_462_618_153_24;

    private Jet() {}

    /**
     * Mass flow.
     *
     * @param gas the gas
     * @param diameterM bore, m, above 0
     * @param dischargeCoefficient effective over geometric area, 1, above 0 to 1
     * @param gaugePa pressure ahead of the jet above ambient, Pa
     * @param ambientPa pressure behind it, Pa absolute, above 0
     * @param gasTemperatureK ahead of the jet, K, above 0
     * @return kg/s; 0 at or below ambient pressure, for gas does not flow back into the hose; NaN when an argument is NaN
     *     or outside its range
     */
    public static double massFlowKgPerS(
            JetGas gas,
            double diameterM,
            double dischargeCoefficient,
            double gaugePa,
            double ambientPa,
            double gasTemperatureK) {
        if (!(diameterM > 0
                && dischargeCoefficient > 0
                && dischargeCoefficient <= 1
                && ambientPa > 0
                && gasTemperatureK > 0)) {
            return Double.NaN;
        }
        if (gaugePa <= 0) {
            return 0;
        }
        double k = gas.heatCapacityRatio();
        double areaM2 = Math.PI / 4 * diameterM * diameterM;
        double specificGasConstant = GAS_CONSTANT_J_PER_MOL_K / gas.molarMassKgPerMol();
        return dischargeCoefficient
                * areaM2
                * (ambientPa + gaugePa)
                * Math.sqrt(2
                        * k
                        / (k - 1)
                        / (specificGasConstant * gasTemperatureK)
                        * bracket(k, logRatio(k, gaugePa, ambientPa)));
    }

    /**
     * Gauge pressure from which the jet chokes.
     *
     * @return Pa
     */
    public static double chokingGaugePa(JetGas gas, double ambientPa) {
        return ambientPa * Math.expm1(-logCriticalRatio(gas.heatCapacityRatio()));
    }

    /**
     * Relative standard uncertainty of the mass flow, first order (GUM 5.1.2), from the two inputs that dominate it. Bore
     * and gas temperature belong into the coefficient's when they are not known well: they enter as 2 u(d)/d and u(T)/2T.
     *
     * @param gas the gas
     * @param gaugePa pressure ahead of the jet above ambient, Pa
     * @param gaugeStandardUncertaintyPa of that pressure, Pa
     * @param ambientPa pressure behind it, Pa absolute, above 0
     * @param dischargeCoefficient 1, above 0
     * @param dischargeStandardUncertainty of the coefficient, 1
     * @return 1; NaN when nothing flows or an argument is NaN; above 1 when the pressure is lost in its own uncertainty
     */
    public static double relativeUncertainty(
            JetGas gas,
            double gaugePa,
            double gaugeStandardUncertaintyPa,
            double ambientPa,
            double dischargeCoefficient,
            double dischargeStandardUncertainty) {
        if (!(gaugePa > 0 && ambientPa > 0 && dischargeCoefficient > 0)) {
            return Double.NaN;
        }
        double fromPressure = logSlopePerPa(gas, gaugePa, ambientPa) * gaugeStandardUncertaintyPa;
        return Math.hypot(fromPressure, dischargeStandardUncertainty / dischargeCoefficient);
    }

    /** d ln m / d p0, 1/Pa: half the bare 1 / gauge for small pressures, 1 / p0 when choked. */
    private static double logSlopePerPa(JetGas gas, double gaugePa, double ambientPa) {
        double k = gas.heatCapacityRatio();
        double absolutePa = ambientPa + gaugePa;
        double logRatio = logRatio(k, gaugePa, ambientPa);
        if (gaugePa >= chokingGaugePa(gas, ambientPa)) {
            return 1 / absolutePa;
        }
        // ln m = ln p0 + ln(bracket) / 2 + constant, and d ln r / d p0 = −1 / p0.
        double slopeOfBracket = 2 / k * Math.exp(2 / k * logRatio) - (k + 1) / k * Math.exp((k + 1) / k * logRatio);
        return (1 - slopeOfBracket / (2 * bracket(k, logRatio))) / absolutePa;
    }

    private static double logRatio(double k, double gaugePa, double ambientPa) {
        return Math.max(-Math.log1p(gaugePa / ambientPa), logCriticalRatio(k));
    }

    private static double logCriticalRatio(double k) {
        return k / (k - 1) * Math.log(2 / (k + 1));
    }

    /** r^(2/k) − r^((k+1)/k), written so that it loses no digits when r is nearly 1. */
    private static double bracket(double k, double logRatio) {
        return -Math.exp(2 / k * logRatio) * Math.expm1((k - 1) / k * logRatio);
    }
}
