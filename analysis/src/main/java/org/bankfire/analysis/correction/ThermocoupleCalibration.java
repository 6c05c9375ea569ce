package org.bankfire.analysis.correction;

import org.bankfire.analysis.thermocouple.MineralSheath;
import org.bankfire.analysis.thermocouple.ToleranceClass;
import org.bankfire.analysis.thermocouple.WireGauge;

/**
 * A type K thermocouple with its amplifier. What is not known is NaN and takes the default of its amplifier.
 *
 * @param channel name of the temperature it gives
 * @param amplifier how the source turns the thermocouple's voltage into what it reports
 * @param sensitivityVPerK straight-line and analogue amplifiers: volts per kelvin (41.276e-6 for the common straight-line
 *     chip; 5e-3 for the common analogue one)
 * @param outputAtZeroV analogue amplifiers: output at 0 °C on the straight line of the data sheet, V: the voltage of its
 *     reference pin; default 0
 * @param toleranceClass of the wire
 * @param wireDiameterM bare wire, m; NaN when not known
 * @param sheathDiameterM outside of a mineral-insulated cable, m; NaN when it is none or not known
 * @param coldJunctionStandardUncertaintyK K
 * @param amplifierStandardUncertaintyV referred to the thermocouple's voltage, V
 */
public record ThermocoupleCalibration(
        String channel,
        Amplifier amplifier,
        double sensitivityVPerK,
        double outputAtZeroV,
        ToleranceClass toleranceClass,
        double wireDiameterM,
        double sheathDiameterM,
        double coldJunctionStandardUncertaintyK,
        double amplifierStandardUncertaintyV)
        implements ChannelCalibration {
    /** Slope of the common straight-line chip for type K, V/K (data sheet of the MAX31855K). */
    public static final double STRAIGHT_LINE_V_PER_K = 41.276e-6;
    /** Slope of the common analogue chip, V/K (data sheet of the AD8495). */
    public static final double ANALOGUE_V_PER_K = 5e-3;
    /** Class taken for wire of which nothing is known: the one that is sold unless another is asked for. */
    public static final ToleranceClass USUAL_CLASS = ToleranceClass.ASTM_STANDARD;

    // ±2 K over the working range, rectangular: the cold junction of the MAX31855 (data sheet).
    private static final double COLD_JUNCTION_K = 2 / Math.sqrt(3);

    /** How an amplifier reports. */
    public enum Amplifier {
        /** The temperature, linearised by the chip itself. Default ±0.15 % of 78 mV, data sheet of the MAX31856. */
        LINEARISED(Double.NaN, 117e-6 / SQRT_3),
        /** A temperature that assumes a straight line, cold junction added as temperature. Default ±2 K at its slope. */
        STRAIGHT_LINE(41.276e-6, 82.6e-6 / SQRT_3),
        /** The thermocouple's voltage, cold junction apart. Default ±20 µV, common practice, no source. */
        EMF(Double.NaN, 20e-6 / SQRT_3),
        /** A voltage in proportion to temperature, cold junction compensated by the chip. Default ±3 K, from memory. */
        ANALOGUE(5e-3, 123e-6 / SQRT_3);

        private final double usualSensitivityVPerK;
        private final double usualStandardUncertaintyV;

        Amplifier(double usualSensitivityVPerK, double usualStandardUncertaintyV) {
            this.usualSensitivityVPerK = usualSensitivityVPerK;
            this.usualStandardUncertaintyV = usualStandardUncertaintyV;
        }
    }

    // Rectangular distributions, GUM 4.3.7.
    private static final double SQRT_3 = 1.7320508075688772;

    public ThermocoupleCalibration {
        sensitivityVPerK = Double.isNaN(sensitivityVPerK) ? amplifier.usualSensitivityVPerK : sensitivityVPerK;
        outputAtZeroV = Double.isNaN(outputAtZeroV) ? 0 : outputAtZeroV;
        coldJunctionStandardUncertaintyK =
                Double.isNaN(coldJunctionStandardUncertaintyK) ? COLD_JUNCTION_K : coldJunctionStandardUncertaintyK;
        amplifierStandardUncertaintyV = Double.isNaN(amplifierStandardUncertaintyV)
                ? amplifier.usualStandardUncertaintyV
                : amplifierStandardUncertaintyV;
        Checks checks = new Checks(channel);
        if (amplifier == Amplifier.STRAIGHT_LINE) {
            checks.within("sensitivity", sensitivityVPerK, 1e-6, 1e-3, "V/K");
        } else if (amplifier == Amplifier.ANALOGUE) {
            checks.within("sensitivity", sensitivityVPerK, 1e-4, 1, "V/K");
        }
        checks.within("output at zero", outputAtZeroV, -15, 15, "V");
        checks.withinOrUnknown("wire diameter", wireDiameterM, 1e-5, 1e-2, "m");
        checks.withinOrUnknown("sheath diameter", sheathDiameterM, 1e-4, 5e-2, "m");
        checks.within("cold junction uncertainty", coldJunctionStandardUncertaintyK, 0, 50, "K");
        checks.within("amplifier uncertainty", amplifierStandardUncertaintyV, 0, 0.01, "V");
    }

    /** A thermocouple that is no mineral-insulated cable, or of which that is not known. */
    public ThermocoupleCalibration(
            String channel,
            Amplifier amplifier,
            double sensitivityVPerK,
            double outputAtZeroV,
            ToleranceClass toleranceClass,
            double wireDiameterM,
            double coldJunctionStandardUncertaintyK,
            double amplifierStandardUncertaintyV) {
        this(
                channel,
                amplifier,
                sensitivityVPerK,
                outputAtZeroV,
                toleranceClass,
                wireDiameterM,
                Double.NaN,
                coldJunctionStandardUncertaintyK,
                amplifierStandardUncertaintyV);
    }

    /**
     * Highest temperature suggested for the wire in a closed tube, or for the mineral-insulated cable; the lower when both
     * are known. See {@link WireGauge} and {@link MineralSheath}.
     *
     * @return °C; NaN when neither diameter is known, or none is suggested for it
     */
    public double suggestedLimitC() {
        double wireC = WireGauge.limitC(wireDiameterM);
        double sheathC = MineralSheath.limitC(sheathDiameterM);
        return Double.isNaN(wireC) || sheathC < wireC ? sheathC : wireC;
    }

    /** The thermocouple's own voltage and the cold junction are reported. */
    public static ThermocoupleCalibration emf(String channel, ToleranceClass toleranceClass) {
        return usual(channel, Amplifier.EMF, toleranceClass);
    }

    /** The common straight-line chip, 41.276 µV/K. */
    public static ThermocoupleCalibration straightLine(String channel, ToleranceClass toleranceClass) {
        return usual(channel, Amplifier.STRAIGHT_LINE, toleranceClass);
    }

    /** The common analogue chip, 5 mV/K, with {@code outputAtZeroV} on its reference pin. */
    public static ThermocoupleCalibration analogue(
            String channel, double outputAtZeroV, ToleranceClass toleranceClass) {
        return new ThermocoupleCalibration(
                channel,
                Amplifier.ANALOGUE,
                ANALOGUE_V_PER_K,
                outputAtZeroV,
                toleranceClass,
                Double.NaN,
                Double.NaN,
                Double.NaN);
    }

    /** A chip that linearises by itself. */
    public static ThermocoupleCalibration linearised(String channel, ToleranceClass toleranceClass) {
        return usual(channel, Amplifier.LINEARISED, toleranceClass);
    }

    private static ThermocoupleCalibration usual(String channel, Amplifier amplifier, ToleranceClass toleranceClass) {
        return new ThermocoupleCalibration(
                channel, amplifier, Double.NaN, Double.NaN, toleranceClass, Double.NaN, Double.NaN, Double.NaN);
    }
}
