package org.bankfire.analysis.correction;

import org.bankfire.analysis.thermocouple.ToleranceClass;

/**
 * A type K thermocouple with its amplifier.
 *
 * @param channel name of the temperature it gives
 * @param amplifier how the source turns the thermocouple's voltage into what it reports
 * @param sensitivityVPerK straight-line and analogue amplifiers: volts per kelvin (41.276e-6 for the common straight-line
 *     chip; 5e-3 for the common analogue one)
 * @param outputAtZeroV analogue amplifiers: output at 0 °C, V
 * @param toleranceClass of the wire
 * @param wireDiameterM bare wire, m; NaN when not known
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
        double coldJunctionStandardUncertaintyK,
        double amplifierStandardUncertaintyV)
        implements ChannelCalibration {
    /** How an amplifier reports. */
    public enum Amplifier {
        /** The temperature, linearised by the chip itself. */
        LINEARISED,
        /** A temperature that assumes a straight line, cold junction added as temperature. */
        STRAIGHT_LINE,
        /** The thermocouple's voltage, cold junction apart. */
        EMF,
        /** A voltage in proportion to temperature, cold junction compensated by the chip. */
        ANALOGUE
    }
}
