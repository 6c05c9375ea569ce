package org.bankfire.analysis.correction;

import static org.bankfire.analysis.reading.ChannelNames.AMBIENT;
import static org.bankfire.analysis.reading.ChannelNames.CHAMBER;
import static org.bankfire.analysis.reading.ChannelNames.COLD_JUNCTION;
import static org.bankfire.analysis.reading.ChannelNames.CYLINDER;
import static org.bankfire.analysis.reading.ChannelNames.FLAME;
import static org.bankfire.analysis.reading.ChannelNames.GAS;
import static org.bankfire.analysis.reading.ChannelNames.GAS_TEMPERATURE;
import static org.bankfire.analysis.reading.ChannelNames.SHELL;
import static org.bankfire.analysis.reading.ChannelNames.STOCK;

import java.util.List;
import org.bankfire.analysis.correction.ThermocoupleCalibration.Amplifier;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.Unit.Quantity;
import org.jspecify.annotations.Nullable;

/** One channel that the chain corrects: its unit, its calibrations, and what its plausibility tests remember. */
final class CorrectedChannel {
    /** Channels that have a unit of their own even without calibration. */
    static final List<String> KNOWN =
            List.of(CHAMBER, SHELL, AMBIENT, GAS_TEMPERATURE, STOCK, COLD_JUNCTION, GAS, CYLINDER, FLAME);

    private static final double MILLIVOLT_PER_VOLT = 1e3;
    // A cold junction sits on a circuit board: it drifts, it does not jump. Common practice, no source.
    private static final double COLD_JUNCTION_JUMP_K = 10;
    private static final double COLD_JUNCTION_RATE_K_PER_S = 5;

    private final Channel channel;
    private final Channel rawChannel;
    private final CorrectionSettings settings;
    private final @Nullable Unit unit;
    private final @Nullable ThermocoupleCalibration thermocouple;
    private final @Nullable PressureCorrection pressure;
    private final @Nullable PointsCalibration points;
    private final @Nullable JumpTest jumps;
    private final @Nullable StandstillTest standstill;

    CorrectedChannel(Channel channel, Calibrations calibrations, CorrectionSettings settings) {
        this.channel = channel;
        this.rawChannel = new Channel(channel.forge(), channel.name() + ChannelNames.RAW_SUFFIX);
        this.settings = settings;
        this.thermocouple = calibrations.thermocouple();
        this.points = calibrations.points();
        PressureCalibration transducer = calibrations.pressure();
        if (transducer == null && channel.name().equals(GAS)) {
            transducer = PressureCalibration.alreadyPressure(GAS);
        }
        this.pressure = transducer == null ? null : new PressureCorrection(transducer);
        this.unit = unitOf(channel.name(), calibrations);
        boolean temperature = Unit.CELSIUS.equals(unit);
        this.jumps = temperature ? jumpTest() : null;
        this.standstill = temperature ? new StandstillTest(settings) : null;
    }

    static boolean isKnown(String name) {
        return KNOWN.contains(name);
    }

    Channel channel() {
        return channel;
    }

    Channel rawChannel() {
        return rawChannel;
    }

    @Nullable
    PressureCorrection pressure() {
        return pressure;
    }

    boolean isColdJunction() {
        return channel.name().equals(COLD_JUNCTION);
    }

    boolean needsColdJunction(RawKind kind, Unit from) {
        return switch (kind) {
            case EMF, LINEAR -> true;
            case VOLTS, RATIO -> false;
            case RAW, PLAIN ->
                thermocouple != null
                        && (thermocouple.amplifier() == Amplifier.STRAIGHT_LINE
                                || (thermocouple.amplifier() == Amplifier.EMF && from.quantity() == Quantity.VOLTAGE));
        };
    }

    /**
     * What {@code raw}, a reading that is not bad, says of this channel.
     *
     * @param coldJunctionC °C; NaN when missing, where it is needed
     */
    Estimate estimate(Reading raw, RawKind kind, double coldJunctionC) {
        Estimate estimate = convert(raw, kind, coldJunctionC);
        if (!estimate.isBad() && points != null) {
            estimate = throughPoints(estimate, points);
        }
        if (!estimate.isBad()) {
            estimate = plausible(estimate, raw);
        }
        if (estimate.quality() == Quality.GOOD && raw.quality() != Quality.GOOD) {
            return new Estimate(estimate.value(), estimate.standardUncertainty(), raw.quality());
        }
        return estimate;
    }

    /** The channel's reading at the time of {@code raw}. */
    Reading reading(Reading raw, Estimate estimate) {
        return new Reading(
                channel,
                estimate.value(),
                unit == null ? raw.unit() : unit,
                estimate.standardUncertainty(),
                estimate.quality(),
                raw.sourceTime(),
                raw.receiptTime());
    }

    /** A reading under the channel's own name that is bad as it came: kept as it is, a missing value in our unit. */
    Reading passed(Reading bad) {
        return unit == null || !Double.isNaN(bad.value()) ? bad : reading(bad, Estimate.fault(bad.quality()));
    }

    /** Whether {@code estimate} is more than {@code raw} in another unit. */
    boolean isMoreThanAnotherUnit(Reading raw, Estimate estimate) {
        if (estimate.isBad() || (unit != null && raw.unit().quantity() != unit.quantity())) {
            return true;
        }
        double same = unit == null ? raw.value() : raw.unit().convert(raw.value(), unit);
        return same != estimate.value();
    }

    private Estimate convert(Reading raw, RawKind kind, double coldJunctionC) {
        if (pressure != null) {
            return fromTransducer(raw, kind, pressure);
        }
        if (needsColdJunction(kind, raw.unit()) || thermocouple != null) {
            return fromThermocouple(raw, kind, coldJunctionC);
        }
        if (unit != null && raw.unit().quantity() != unit.quantity()) {
            return Estimate.fault(Quality.UNIT);
        }
        double value = unit == null ? raw.value() : raw.unit().convert(raw.value(), unit);
        double known = unit == null
                ? raw.standardUncertainty()
                : raw.standardUncertainty() * Math.abs(raw.unit().factor() / unit.factor());
        if (jumps == null) {
            return Estimate.of(value, known, raw.quality());
        }
        if (isColdJunction()) {
            return value >= settings.coldJunctionMinC() && value <= settings.coldJunctionMaxC()
                    ? Estimate.of(value, known, Quality.GOOD)
                    : Estimate.fault(Quality.RANGE);
        }
        Estimate asThermocouple = TemperatureCorrection.fromUnknown(value);
        if (asThermocouple.isBad()) {
            return asThermocouple;
        }
        return Double.isNaN(known) && isUsuallyThermocouple(channel.name())
                ? asThermocouple
                : Estimate.of(value, known, Quality.GOOD);
    }

    private Estimate fromThermocouple(Reading raw, RawKind kind, double coldJunctionC) {
        ThermocoupleCalibration calibration = thermocouple != null ? thermocouple : usual(kind);
        Amplifier form = form(kind, calibration);
        if (!takes(kind, form, raw.unit().quantity())) {
            return Estimate.fault(Quality.UNIT);
        }
        if (needsColdJunction(kind, raw.unit()) && Double.isNaN(coldJunctionC)) {
            return Estimate.fault(Quality.COLD_JUNCTION);
        }
        if (raw.unit().quantity() == Quantity.VOLTAGE) {
            double volt = raw.unit().toSi(raw.value());
            return form == Amplifier.EMF
                    ? TemperatureCorrection.fromEmf(volt * MILLIVOLT_PER_VOLT, coldJunctionC, calibration)
                    : TemperatureCorrection.fromAnalogue(volt, calibration);
        }
        double celsius = raw.unit().convert(raw.value(), Unit.CELSIUS);
        return switch (form) {
            case STRAIGHT_LINE -> TemperatureCorrection.fromStraightLine(celsius, coldJunctionC, calibration);
            // The source has put the output through the straight line of the data sheet: take it back.
            case ANALOGUE ->
                TemperatureCorrection.fromAnalogue(
                        calibration.outputAtZeroV() + calibration.sensitivityVPerK() * celsius, calibration);
            // A temperature from a source that is said to report voltage has been worked out by somebody before.
            case LINEARISED, EMF -> TemperatureCorrection.fromLinearised(celsius, calibration);
        };
    }

    private static boolean takes(RawKind kind, Amplifier form, Quantity quantity) {
        return switch (quantity) {
            case VOLTAGE -> form == Amplifier.EMF || form == Amplifier.ANALOGUE;
            case TEMPERATURE -> kind != RawKind.EMF && kind != RawKind.VOLTS;
            default -> false;
        };
    }

    /** The record name says the form; under a plain name, the calibration does. */
    private static Amplifier form(RawKind kind, ThermocoupleCalibration calibration) {
        return switch (kind) {
            case EMF -> Amplifier.EMF;
            case LINEAR -> Amplifier.STRAIGHT_LINE;
            case VOLTS -> Amplifier.ANALOGUE;
            case RATIO, RAW, PLAIN -> calibration.amplifier();
        };
    }

    private ThermocoupleCalibration usual(RawKind kind) {
        return kind == RawKind.LINEAR
                ? ThermocoupleCalibration.straightLine(channel.name(), ThermocoupleCalibration.USUAL_CLASS)
                : ThermocoupleCalibration.emf(channel.name(), ThermocoupleCalibration.USUAL_CLASS);
    }

    private static Estimate fromTransducer(Reading raw, RawKind kind, PressureCorrection pressure) {
        double output = pressure.output(raw.value(), raw.unit());
        if (!Double.isNaN(output)) {
            return pressure.correct(output);
        }
        if (raw.unit().quantity() == Quantity.PRESSURE) {
            return pressure.ofPressure(raw.unit().toSi(raw.value()));
        }
        boolean transducerIsUnknown = pressure.isOutput(PressureCalibration.Output.PRESSURE)
                && (kind == RawKind.VOLTS || kind == RawKind.RATIO);
        return Estimate.fault(transducerIsUnknown ? Quality.UNCALIBRATED : Quality.UNIT);
    }

    private static Estimate throughPoints(Estimate estimate, PointsCalibration points) {
        double standardUncertainty = Double.isNaN(points.standardUncertainty())
                ? estimate.standardUncertainty()
                : points.standardUncertainty();
        return Estimate.of(
                points.correct(estimate.value()), standardUncertainty * Math.abs(points.slope()), estimate.quality());
    }

    private Estimate plausible(Estimate estimate, Reading raw) {
        long micros = raw.sourceTime().epochMicros();
        // Both tests see every value: what one of them refuses, the other must still remember.
        boolean stuck = standstill != null && standstill.isStuck(raw.value(), estimate.value(), micros);
        if (jumps != null && jumps.isSpike(estimate.value(), micros)) {
            return Estimate.fault(Quality.SPIKE);
        }
        return stuck ? Estimate.fault(Quality.STUCK) : estimate;
    }

    private JumpTest jumpTest() {
        return isColdJunction()
                ? new JumpTest(COLD_JUNCTION_JUMP_K, COLD_JUNCTION_RATE_K_PER_S)
                : new JumpTest(settings.jumpFloorK(), settings.jumpRateKPerS());
    }

    /** Where a temperature of unknown make is most likely a thermocouple; the others are often digital sensors. */
    private static boolean isUsuallyThermocouple(String name) {
        return switch (name) {
            case CHAMBER, SHELL, STOCK -> true;
            default -> false;
        };
    }

    private static @Nullable Unit unitOf(String name, Calibrations calibrations) {
        if (calibrations.thermocouple() != null) {
            return Unit.CELSIUS;
        }
        if (calibrations.pressure() != null) {
            return Unit.PASCAL;
        }
        return switch (name) {
            case CHAMBER, SHELL, AMBIENT, GAS_TEMPERATURE, STOCK, COLD_JUNCTION -> Unit.CELSIUS;
            case GAS -> Unit.PASCAL;
            case CYLINDER -> Unit.KILOGRAM;
            case FLAME -> Unit.RATIO;
            default -> null;
        };
    }
}
