package org.bankfire.daemon.config;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.bankfire.analysis.correction.ChannelCalibration;
import org.bankfire.analysis.correction.PointsCalibration;
import org.bankfire.analysis.correction.PressureCalibration;
import org.bankfire.analysis.correction.ThermocoupleCalibration;
import org.bankfire.analysis.correction.ThermocoupleCalibration.Amplifier;
import org.bankfire.analysis.quantity.Range;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.thermocouple.ToleranceClass;
import org.jspecify.annotations.Nullable;

/** Reads the {@code [[forge.channel]]} tables: one calibration each. */
final class ChannelsReader {
    static final Map<String, Amplifier> AMPLIFIERS = Section.words(
            Map.entry("linearised", Amplifier.LINEARISED),
            Map.entry("straight-line", Amplifier.STRAIGHT_LINE),
            Map.entry("emf", Amplifier.EMF),
            Map.entry("analogue", Amplifier.ANALOGUE));
    static final Map<String, ToleranceClass> WIRE_CLASSES = Section.words(
            Map.entry("IEC 60584-1 class 1", ToleranceClass.IEC_1),
            Map.entry("IEC 60584-1 class 2", ToleranceClass.IEC_2),
            Map.entry("IEC 60584-1 class 3", ToleranceClass.IEC_3),
            Map.entry("ASTM E230 special", ToleranceClass.ASTM_SPECIAL),
            Map.entry("ASTM E230 standard", ToleranceClass.ASTM_STANDARD));
    static final Map<String, PressureCalibration.Output> OUTPUTS = Section.words(
            Map.entry("ratiometric", PressureCalibration.Output.RATIOMETRIC_VOLTS),
            Map.entry("ratio", PressureCalibration.Output.RATIO),
            Map.entry("current-loop", PressureCalibration.Output.CURRENT_LOOP),
            Map.entry("pressure", PressureCalibration.Output.PRESSURE));

    /** Seebeck coefficient that the common straight-line amplifier chip assumes, V/K: its data sheet. */
    static final double STRAIGHT_LINE_V_PER_K = 41.276e-6;
    /** The common analogue amplifier chip, V/K: its data sheet. */
    static final double ANALOGUE_V_PER_K = 5e-3;
    /** Wire of which nothing is known: the class that is sold unless another is asked for. Common practice, no source. */
    static final ToleranceClass DEFAULT_WIRE = ToleranceClass.ASTM_STANDARD;
    /** Supply of ratiometric transducers. Common practice, no source. */
    static final double DEFAULT_SUPPLY_V = 5;
    /** Standard uncertainty over span of a low-priced transducer. Common practice, no source. */
    static final double DEFAULT_ACCURACY = 0.01;

    // Wide enough for any sensor; narrow enough to find a slip of the unit. Common practice, no source.
    private static final Range STRAIGHT_LINE_RANGE_V_PER_K = new Range(1e-6, 1e-3);
    private static final Range ANALOGUE_RANGE_V_PER_K = new Range(1e-4, 1);
    private static final Range ZERO_V = new Range(-10, 10);
    private static final Range OUTPUT_V = new Range(0, 30);
    private static final Range WIRE_M = new Range(0.05e-3, 10e-3);
    private static final Range SHEATH_M = new Range(0.2e-3, 25e-3);
    private static final Range COLD_JUNCTION_K = new Range(0, 20);
    private static final Range AMPLIFIER_V = new Range(0, 1e-3);
    private static final Range GAUGE_PA = new Range(-1e5, 1e7);
    private static final Range LOOP_A = new Range(0, 0.03);
    private static final Range RATIO = new Range(0, 1);
    private static final Range SUPPLY_V = new Range(1, 30);
    private static final Range SHUNT_OHM = new Range(1, 10_000);
    private static final Range ACCURACY = new Range(0, 0.2);
    private static final Range ANY_TEMPERATURE_K = new Range(73.15, 2300);
    private static final Range ANY_DIFFERENCE_K = new Range(0, 200);
    private static final Range ANY = new Range(-1e9, 1e9);

    private final Problems problems;

    ChannelsReader(Problems problems) {
        this.problems = problems;
    }

    /** The calibrations that are right; the problems tell of the others. */
    List<ChannelCalibration> read(List<Section> sections) {
        List<ChannelCalibration> channels = new ArrayList<>();
        Set<String> names = new HashSet<>();
        for (Section section : sections) {
            String name = section.requiredText("name", "the channel's name, as in \"chamber\" or \"gas\"");
            if (!name.isEmpty()) {
                section.check("name", name, text -> new Channel("forge", text));
            }
            String sensor = section.requiredChoice(
                    "sensor",
                    Section.words(
                            Map.entry("thermocouple", "thermocouple"),
                            Map.entry("transducer", "transducer"),
                            Map.entry("points", "points")),
                    "");
            if (!name.isEmpty() && !names.add(name + (sensor.equals("points") ? " points" : ""))) {
                section.refuse("name", "a channel has one sensor and, apart from it, one pair of points");
            }
            ChannelCalibration channel = switch (sensor) {
                case "thermocouple" -> thermocouple(section, name);
                case "transducer" -> transducer(section, name);
                case "points" -> points(section, name);
                default -> null;
            };
            if (!sensor.isEmpty()) {
                section.refuseOthers();
            }
            if (channel != null) {
                channels.add(channel);
            }
        }
        return channels;
    }

    private static @Nullable ChannelCalibration thermocouple(Section section, String name) {
        Amplifier amplifier = section.choice("amplifier", AMPLIFIERS, Amplifier.LINEARISED);
        double sensitivity = Double.NaN;
        double outputAtZeroV = Double.NaN;
        if (amplifier == Amplifier.STRAIGHT_LINE) {
            sensitivity = section.quantity(
                    "sensitivity",
                    Dimension.SENSITIVITY,
                    STRAIGHT_LINE_RANGE_V_PER_K,
                    "41.276 uV/K",
                    STRAIGHT_LINE_V_PER_K);
        } else if (amplifier == Amplifier.ANALOGUE) {
            sensitivity = section.quantity(
                    "sensitivity", Dimension.SENSITIVITY, ANALOGUE_RANGE_V_PER_K, "5 mV/K", ANALOGUE_V_PER_K);
            outputAtZeroV = section.requiredQuantity("output-at-zero", Dimension.VOLTAGE, ZERO_V, "1.25 V");
        }
        ToleranceClass wire = section.choice("wire-class", WIRE_CLASSES, DEFAULT_WIRE);
        double wireM = section.quantity("wire-diameter", Dimension.LENGTH, WIRE_M, "0.8 mm", Double.NaN);
        double sheathM = section.quantity("sheath-diameter", Dimension.LENGTH, SHEATH_M, "3 mm", Double.NaN);
        double coldJunctionK = section.quantity(
                "cold-junction-accuracy", Dimension.TEMPERATURE_DIFFERENCE, COLD_JUNCTION_K, "1 K", Double.NaN);
        double amplifierV = section.quantity("amplifier-accuracy", Dimension.VOLTAGE, AMPLIFIER_V, "20 uV", Double.NaN);
        double perKelvin = sensitivity;
        double atZeroV = outputAtZeroV;
        return section.build(() -> new ThermocoupleCalibration(
                name, amplifier, perKelvin, atZeroV, wire, wireM, sheathM, coldJunctionK, amplifierV));
    }

    private @Nullable ChannelCalibration transducer(Section section, String name) {
        PressureCalibration.Output output =
                section.requiredChoice("output", OUTPUTS, PressureCalibration.Output.PRESSURE);
        Scale scale = switch (output) {
            case RATIOMETRIC_VOLTS -> new Scale(Dimension.VOLTAGE, OUTPUT_V, "0.5 V");
            case RATIO -> new Scale(Dimension.RATIO, RATIO, "10 %");
            case CURRENT_LOOP -> new Scale(Dimension.CURRENT, LOOP_A, "4 mA");
            case PRESSURE -> new Scale(Dimension.PRESSURE, GAUGE_PA, "12 mbar");
        };
        Scale pressure = new Scale(Dimension.PRESSURE, GAUGE_PA, "2 bar");
        boolean hasScale = output != PressureCalibration.Output.PRESSURE;
        double[] points =
                hasScale ? twoPoints(section, scale, pressure) : new double[] {Double.NaN, 0, Double.NaN, Double.NaN};
        double supplyV = output == PressureCalibration.Output.RATIOMETRIC_VOLTS
                ? section.quantity("supply", Dimension.VOLTAGE, SUPPLY_V, "5 V", DEFAULT_SUPPLY_V)
                : Double.NaN;
        double shuntOhm = output == PressureCalibration.Output.CURRENT_LOOP
                ? section.quantity("shunt", Dimension.RESISTANCE, SHUNT_OHM, "250 ohm", Double.NaN)
                : Double.NaN;
        double zero = section.quantity("zero", scale.dimension(), scale.range(), scale.example(), Double.NaN);
        double accuracy = hasScale
                ? section.quantity("accuracy", Dimension.RATIO, ACCURACY, "1 %", DEFAULT_ACCURACY)
                : Double.NaN;
        return section.build(() -> new PressureCalibration(
                name, output, points[0], points[1], points[2], points[3], supplyV, shuntOhm, zero, accuracy));
    }

    /** A channel that is linear already: what was read and what was true, twice. */
    private @Nullable ChannelCalibration points(Section section, String name) {
        Scale scale = scaleOf(section, name);
        double[] points = twoPoints(section, scale, scale);
        boolean temperature = scale.dimension() == Dimension.TEMPERATURE;
        double accuracy = section.quantity(
                "accuracy",
                temperature ? Dimension.TEMPERATURE_DIFFERENCE : scale.dimension(),
                temperature ? ANY_DIFFERENCE_K : new Range(0, scale.range().high()),
                temperature ? "0.5 K" : scale.example(),
                Double.NaN);
        return section.build(() -> temperature
                ? new PointsCalibration(
                        name,
                        Section.celsius(points[0]),
                        Section.celsius(points[1]),
                        Section.celsius(points[2]),
                        Section.celsius(points[3]),
                        accuracy)
                : new PointsCalibration(name, points[0], points[1], points[2], points[3], accuracy));
    }

    /** What the points of a channel are measured in: by its name; for a channel of the user's own by its first point. */
    private static Scale scaleOf(Section section, String name) {
        Unit.Quantity quantity = FormatReader.quantityOf(name);
        Dimension dimension = switch (quantity) {
            case TEMPERATURE -> Dimension.TEMPERATURE;
            case PRESSURE -> Dimension.PRESSURE;
            case MASS -> Dimension.MASS;
            case VOLTAGE -> Dimension.VOLTAGE;
            case RATIO -> Dimension.RATIO;
            default -> Dimension.of(firstPoint(section));
        };
        return switch (dimension) {
            case TEMPERATURE -> new Scale(dimension, ANY_TEMPERATURE_K, "100 degC");
            case PRESSURE -> new Scale(dimension, GAUGE_PA, "1 bar");
            case MASS -> new Scale(dimension, ANY, "11 kg");
            case VOLTAGE -> new Scale(dimension, ANY, "1 V");
            case CURRENT -> new Scale(dimension, ANY, "4 mA");
            case LENGTH -> new Scale(dimension, ANY, "10 mm");
            default -> new Scale(Dimension.RATIO, ANY, "0.5");
        };
    }

    private static String firstPoint(Section section) {
        return section.node("points") instanceof Node.Items points
                        && !points.items().isEmpty()
                        && points.items().get(0) instanceof Node.Items first
                        && !first.items().isEmpty()
                        && first.items().get(0) instanceof Node.Scalar scalar
                ? scalar.value().toString()
                : "";
    }

    /** Output and true value of the first point, then of the second; NaN for each that is missing or wrong. */
    private double[] twoPoints(Section section, Scale from, Scale to) {
        String allowed = "two pairs, as in [[\"" + from.example() + "\", \"" + to.example() + "\"], […, …]]";
        double[] points = {Double.NaN, Double.NaN, Double.NaN, Double.NaN};
        if (!section.has("points")) {
            section.missing("points", allowed);
            return points;
        }
        if (!(section.node("points") instanceof Node.Items pairs)
                || pairs.items().size() != 2) {
            section.refuse("points", allowed);
            return points;
        }
        for (int i = 0; i < 2; i++) {
            String where = section.pathOf("points") + "." + i;
            if (!(pairs.items().get(i) instanceof Node.Items pair)
                    || pair.items().size() != 2) {
                problems.error(
                        pairs.items().get(i).place(),
                        where,
                        pairs.items().get(i).shown(),
                        allowed);
                continue;
            }
            points[2 * i] =
                    section.quantity(pair.items().get(0), where + ".0", from.dimension(), from.range(), from.example());
            points[2 * i + 1] =
                    section.quantity(pair.items().get(1), where + ".1", to.dimension(), to.range(), to.example());
        }
        if (points[0] == points[2] || points[1] == points[3]) {
            section.refuse("points", "the two points must differ: " + allowed);
        }
        return points;
    }

    /** How one side of the points is written. */
    private record Scale(Dimension dimension, Range range, String example) {}
}
