package org.bankfire.analysis.correction;

import org.bankfire.analysis.correction.PressureCalibration.Output;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Unit;

/**
 * From a transducer's output to gauge pressure: a straight line, its zero, its rails and its uncertainty
 *
 * <pre>  u² = (accuracy × span)² + u(zero)²</pre>
 */
final class PressureCorrection {
    /** Span taken where none is told, Pa: regulators and hoses for such burners end at about 4 bar. */
    private static final double USUAL_SPAN_PA = 4e5;
    // Outputs that a sound ratiometric transducer does not reach, of the supply: common practice of 0.5–4.5 V parts.
    private static final double LOW_RAIL = 0.05;
    private static final double HIGH_RAIL = 0.95;
    // NAMUR NE 43: below and above these currents the transmitter reports its own failure, A.
    private static final double LOOP_BROKEN_A = 3.6e-3;
    private static final double LOOP_OVER_A = 21e-3;
    // No gauge pressure lies below vacuum.
    private static final double VACUUM_PA = -101_325;
    // ±1 % of span, rectangular: what a zero that nobody captured is worth. Common practice, no source.
    private static final double UNCAPTURED_ZERO_OF_SPAN = 0.01 / Math.sqrt(3);
    // One step of a 10-bit converter over the span, rectangular: the coarsest in use.
    private static final double ZERO_STEP_OF_SPAN = 1 / 1024.0 / Math.sqrt(12);

    private final PressureCalibration calibration;
    private final double slopePaPerOutput;
    private final double spanPa;
    private final double lowestOutput;
    private final double highestOutput;
    private double zero;
    private double zeroStandardUncertaintyPa;

    PressureCorrection(PressureCalibration calibration) {
        this.calibration = calibration;
        boolean pressure = calibration.output() == Output.PRESSURE;
        this.slopePaPerOutput =
                pressure ? 1 : (calibration.highPa() - calibration.lowPa()) / (calibration.high() - calibration.low());
        double toldSpanPa = Math.abs(calibration.highPa() - calibration.lowPa());
        this.spanPa = toldSpanPa > 0 ? toldSpanPa : USUAL_SPAN_PA;
        this.lowestOutput = lowestOutput(calibration);
        this.highestOutput = highestOutput(calibration);
        this.zero = calibration.zero();
        this.zeroStandardUncertaintyPa = (Double.isNaN(zero) ? UNCAPTURED_ZERO_OF_SPAN : ZERO_STEP_OF_SPAN) * spanPa;
    }

    /**
     * The transducer's output in the unit of its calibration.
     *
     * @return NaN when {@code unit} does not say what this transducer gives
     */
    double output(double value, Unit unit) {
        return switch (calibration.output()) {
            case RATIOMETRIC_VOLTS ->
                switch (unit.quantity()) {
                    case VOLTAGE -> unit.toSi(value);
                    case RATIO -> value * supplyV();
                    default -> Double.NaN;
                };
            case RATIO ->
                switch (unit.quantity()) {
                    case RATIO -> value;
                    case VOLTAGE -> unit.toSi(value) / calibration.supplyV();
                    default -> Double.NaN;
                };
            case CURRENT_LOOP ->
                switch (unit.quantity()) {
                    case CURRENT -> unit.toSi(value);
                    case VOLTAGE -> unit.toSi(value) / calibration.shuntOhm();
                    default -> Double.NaN;
                };
            case PRESSURE -> unit.quantity() == Unit.Quantity.PRESSURE ? unit.toSi(value) : Double.NaN;
        };
    }

    /** Unit of {@link #output}. */
    Unit outputUnit() {
        return switch (calibration.output()) {
            case RATIOMETRIC_VOLTS -> Unit.VOLT;
            case RATIO -> Unit.RATIO;
            case CURRENT_LOOP -> Unit.AMPERE;
            case PRESSURE -> Unit.PASCAL;
        };
    }

    boolean isOutput(Output output) {
        return calibration.output() == output;
    }

    Estimate correct(double output) {
        if (output < lowestOutput) {
            return Estimate.fault(calibration.output() == Output.CURRENT_LOOP ? Quality.OPEN : Quality.SHORT_TO_GROUND);
        }
        if (output > highestOutput) {
            return Estimate.fault(Quality.SHORT_TO_SUPPLY);
        }
        return pressure(slopePaPerOutput * (output - zeroOutput()));
    }

    /** A pressure that some other source has worked out: no zero of ours applies to it. */
    Estimate ofPressure(double gaugePa) {
        return pressure(gaugePa);
    }

    private Estimate pressure(double gaugePa) {
        if (!(gaugePa >= VACUUM_PA)) {
            return Estimate.fault(Quality.RANGE);
        }
        return Estimate.of(
                gaugePa, Math.hypot(calibration.accuracyOfSpan() * spanPa, zeroStandardUncertaintyPa), Quality.GOOD);
    }

    void setZero(double newZero, double standardUncertainty) {
        zero = newZero;
        zeroStandardUncertaintyPa = Math.abs(slopePaPerOutput) * standardUncertainty;
    }

    /** Standard uncertainty of a zero of which nothing else is known, in the unit of the output. */
    double zeroStep() {
        return ZERO_STEP_OF_SPAN * outputSpan();
    }

    /** Output at 0 Pa gauge as it stands: captured, else by the calibration. */
    double zeroOutput() {
        return Double.isNaN(zero) ? nominalZeroOutput() : zero;
    }

    /** Output at 0 Pa gauge by the calibration alone. */
    double nominalZeroOutput() {
        return calibration.output() == Output.PRESSURE ? 0 : calibration.low() - calibration.lowPa() / slopePaPerOutput;
    }

    double outputSpan() {
        return spanPa / Math.abs(slopePaPerOutput);
    }

    /** A difference of outputs as pressure, Pa. */
    double toPa(double outputDifference) {
        return slopePaPerOutput * outputDifference;
    }

    private double supplyV() {
        return supplyV(calibration);
    }

    private static double supplyV(PressureCalibration calibration) {
        return Double.isNaN(calibration.supplyV()) ? PressureCalibration.USUAL_SUPPLY_V : calibration.supplyV();
    }

    /** A point of the calibration that itself lies beyond the rail moves the rail half way to the end. */
    private static double lowestOutput(PressureCalibration calibration) {
        double lowestPoint = Math.min(calibration.low(), calibration.high());
        return switch (calibration.output()) {
            case RATIOMETRIC_VOLTS -> lowRail(lowestPoint, supplyV(calibration));
            case RATIO -> lowRail(lowestPoint, 1);
            case CURRENT_LOOP -> LOOP_BROKEN_A;
            case PRESSURE -> Double.NEGATIVE_INFINITY;
        };
    }

    private static double highestOutput(PressureCalibration calibration) {
        double highestPoint = Math.max(calibration.low(), calibration.high());
        return switch (calibration.output()) {
            case RATIOMETRIC_VOLTS -> highRail(highestPoint, supplyV(calibration));
            case RATIO -> highRail(highestPoint, 1);
            case CURRENT_LOOP -> LOOP_OVER_A;
            case PRESSURE -> Double.POSITIVE_INFINITY;
        };
    }

    private static double lowRail(double lowestPoint, double supply) {
        if (lowestPoint > LOW_RAIL * supply) {
            return LOW_RAIL * supply;
        }
        // A transducer that starts at 0 V cannot show a short; noise around 0 is no fault.
        return lowestPoint > 0 ? lowestPoint / 2 : Double.NEGATIVE_INFINITY;
    }

    private static double highRail(double highestPoint, double supply) {
        if (highestPoint < HIGH_RAIL * supply) {
            return HIGH_RAIL * supply;
        }
        return highestPoint < supply ? (highestPoint + supply) / 2 : Double.POSITIVE_INFINITY;
    }
}
