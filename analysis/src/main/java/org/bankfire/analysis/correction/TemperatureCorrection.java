package org.bankfire.analysis.correction;

import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.thermocouple.TypeK;

/**
 * From what a thermocouple's amplifier reports to the temperature of its measuring junction.
 *
 * <p>Standard uncertainty of a temperature T from a cold junction tc, with S = dE/dT (GUM 5.1.2):
 *
 * <pre>  u² = u(wire)² + (S(tc) u(tc) / S(T))² + (u(amplifier voltage) / S(T))²</pre>
 */
final class TemperatureCorrection {
    private static final double MILLIVOLT_PER_VOLT = 1e3;
    // Where a chip compensates the cold junction itself it is not known; amplifiers are trimmed for room temperature.
    private static final double ROOM_C = 25;
    private static final double EMF_AT_ROOM_MILLIVOLT = TypeK.emfMillivolt(ROOM_C);
    // Thermocouple voltage per kelvin of output slope: the AD8495 gives 5 mV/K with a gain of 122.4 (data sheet, from
    // memory), exact at 25 °C.
    private static final double ANALOGUE_EMF_V_PER_K = 5e-3 / 122.4;

    private TemperatureCorrection() {}

    /** From the thermocouple's own voltage: E(T) = E(measured) + E(tc). Temperatures are never added. */
    static Estimate fromEmf(double emfMillivolt, double coldJunctionC, ThermocoupleCalibration calibration) {
        return fromTotal(emfMillivolt + TypeK.emfMillivolt(coldJunctionC), coldJunctionC, calibration);
    }

    /** From a straight-line amplifier, which reports tc + E(measured) / slope. */
    static Estimate fromStraightLine(double reportedC, double coldJunctionC, ThermocoupleCalibration calibration) {
        double sensitivityVPerK = calibration.amplifier() == ThermocoupleCalibration.Amplifier.STRAIGHT_LINE
                ? calibration.sensitivityVPerK()
                : ThermocoupleCalibration.STRAIGHT_LINE_V_PER_K;
        return fromEmf((reportedC - coldJunctionC) * sensitivityVPerK * MILLIVOLT_PER_VOLT, coldJunctionC, calibration);
    }

    /**
     * From an analogue amplifier, whose output is a straight line over the thermocouple's voltage and meets its nominal
     * line, {@code output = output at zero + slope × T}, at 25 °C.
     */
    static Estimate fromAnalogue(double outputV, ThermocoupleCalibration calibration) {
        double gain = calibration.sensitivityVPerK() / ANALOGUE_EMF_V_PER_K;
        double nominalAtRoomV = calibration.outputAtZeroV() + calibration.sensitivityVPerK() * ROOM_C;
        return fromTotal(
                EMF_AT_ROOM_MILLIVOLT + (outputV - nominalAtRoomV) / gain * MILLIVOLT_PER_VOLT, ROOM_C, calibration);
    }

    /** From a chip that has linearised and compensated by itself. */
    static Estimate fromLinearised(double celsius, ThermocoupleCalibration calibration) {
        if (!(celsius >= TypeK.MIN_INVERSE_CELSIUS && celsius <= TypeK.MAX_CELSIUS)) {
            return Estimate.fault(Quality.RANGE);
        }
        return withUncertainty(celsius, ROOM_C, calibration);
    }

    /** From a chip that has linearised by itself and of which nothing else is known: the wire's share alone. */
    static Estimate fromUnknown(double celsius) {
        if (!(celsius >= TypeK.MIN_INVERSE_CELSIUS && celsius <= TypeK.MAX_CELSIUS)) {
            return Estimate.fault(Quality.RANGE);
        }
        return Estimate.of(
                celsius,
                ThermocoupleCalibration.USUAL_CLASS.standardUncertaintyK(celsius),
                ThermocoupleCalibration.USUAL_CLASS.covers(celsius) ? Quality.GOOD : Quality.UNCERTAIN);
    }

    private static Estimate fromTotal(double emfMillivolt, double coldJunctionC, ThermocoupleCalibration calibration) {
        double celsius = TypeK.celsius(emfMillivolt);
        return Double.isNaN(celsius)
                ? Estimate.fault(Quality.RANGE)
                : withUncertainty(celsius, coldJunctionC, calibration);
    }

    private static Estimate withUncertainty(double celsius, double coldJunctionC, ThermocoupleCalibration calibration) {
        double slope = TypeK.sensitivityMillivoltPerKelvin(celsius);
        double fromWire = calibration.toleranceClass().standardUncertaintyK(celsius);
        double fromColdJunction = TypeK.sensitivityMillivoltPerKelvin(coldJunctionC)
                * calibration.coldJunctionStandardUncertaintyK()
                / slope;
        double fromAmplifier = calibration.amplifierStandardUncertaintyV() * MILLIVOLT_PER_VOLT / slope;
        return Estimate.of(
                celsius,
                Math.sqrt(fromWire * fromWire + fromColdJunction * fromColdJunction + fromAmplifier * fromAmplifier),
                calibration.toleranceClass().covers(celsius) ? Quality.GOOD : Quality.UNCERTAIN);
    }
}
