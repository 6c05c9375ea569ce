package org.bankfire.daemon.config;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.correction.ChannelCalibration;
import org.bankfire.analysis.correction.PointsCalibration;
import org.bankfire.analysis.correction.PressureCalibration;
import org.bankfire.analysis.correction.ThermocoupleCalibration;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Cylinder;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.gas.Hydrocarbon;
import org.bankfire.analysis.lining.FirstFiring;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.lining.Materials;
import org.bankfire.analysis.monitor.ConditionSettings;
import org.bankfire.analysis.monitor.MonitorSettings;

/** Prints one {@code [[forge]]}. */
final class ForgePrinter {
    private final TomlText text;

    ForgePrinter(TomlText text) {
        this.text = text;
    }

    void print(ForgeConfig forge) {
        ForgeDescription built = forge.description();
        text.header("[[forge]]").text("id", built.id()).text("name", built.name());
        limits(forge.monitor());
        text.celsius("ambient", Section.celsius(built.ambientK()))
                .quantity("altitude", Dimension.LENGTH, built.altitudeM(), "m");
        if (!Double.isNaN(forge.monitor().gasPricePerKg())) {
            text.text("gas-price", Decimal.write(forge.monitor().gasPricePerKg()) + " " + forge.currency() + "/kg");
        }
        if (!forge.currency().isEmpty()) {
            text.text("currency", forge.currency());
        }
        Burner burner = built.burner();
        text.header("[forge.burner]");
        fuel(burner.fuel());
        text.quantity("jet", Dimension.LENGTH, burner.jetDiameterM(), "mm")
                .quantity("throat", Dimension.LENGTH, burner.throatDiameterM(), "mm")
                .number("discharge", burner.dischargeCoefficient())
                .number("discharge-uncertainty", burner.dischargeStandardUncertainty())
                .text("choke", TomlText.quantity(Dimension.RATIO, forge.throat().choke(), "%"))
                .text(
                        "obstruction",
                        TomlText.quantity(Dimension.RATIO, forge.throat().obstruction(), "%"))
                .quantity("heat-up-pressure", Dimension.PRESSURE, burner.heatUpPressurePa(), "bar");
        text.header("[forge.chamber]")
                .texts("inside", millimetres(built.chamberWidthM(), built.chamberHeightM(), built.chamberDepthM()))
                .quantity("probe-lag", Dimension.DURATION, built.probeLagS(), "s");
        conditions(forge.monitor().conditions());
        for (Layer layer : built.lining()) {
            layer(layer);
        }
        for (Opening opening : built.openings()) {
            text.header("[[forge.opening]]")
                    .text("name", opening.name())
                    .texts("size", millimetres(opening.widthM(), opening.heightM()))
                    .flag("plug", opening.plugged());
        }
        for (ChannelCalibration channel : forge.channels()) {
            channel(channel);
        }
    }

    private void fuel(Fuel fuel) {
        if (Fuel.ofName(fuel.name()).isPresent()) {
            text.text("fuel", fuel.name());
            return;
        }
        Map<String, String> parts = new LinkedHashMap<>();
        for (Map.Entry<Hydrocarbon, Double> part : fuel.fractions().entrySet()) {
            parts.put(part.getKey().id(), TomlText.quantity(Dimension.RATIO, part.getValue(), "%"));
        }
        text.inline("fuel", parts);
    }

    private void limits(MonitorSettings monitor) {
        text.celsius("target", monitor.targetC())
                .celsius("chamber-limit", monitor.chamberLimitC())
                .celsius("chamber-high", monitor.chamberHighC())
                .celsius("shell-limit", monitor.shellLimitC())
                .quantity("gas-limit", Dimension.PRESSURE, monitor.gasLimitPa(), "bar")
                .quantity("gas-on", Dimension.PRESSURE, monitor.gasOnPa(), "mbar")
                .quantity("gas-lowest", Dimension.PRESSURE, monitor.conditions().lowestStablePa(), "bar")
                .quantity("no-data-after", Dimension.DURATION, monitor.noDataAfterS(), "s")
                .quantity("lighting-time", Dimension.DURATION, monitor.lightingTimeS(), "s")
                .quantity("rated-stock", Dimension.RATIO, monitor.ratedStockShare(), "%")
                .quantity("temperature-deadband", Dimension.TEMPERATURE_DIFFERENCE, monitor.temperatureDeadbandK(), "K")
                .quantity("steady-band", Dimension.HEATING_RATE, monitor.steadyBandKPerS(), "K/min");
    }

    private void conditions(ConditionSettings conditions) {
        Cylinder cylinder = conditions.cylinder();
        if (cylinder != null) {
            text.header("[forge.cylinder]")
                    .quantity("capacity", Dimension.MASS, cylinder.capacityKg(), "kg")
                    .quantity("tare", Dimension.MASS, cylinder.tareKg(), "kg");
        }
        FirstFiring firing = conditions.firstFiring();
        String known = ConditionsReader.nameOf(firing);
        if (known != null) {
            text.header("[forge.first-fire]").text("schedule", known);
            return;
        }
        for (FirstFiring.Step step : firing.steps()) {
            text.header("[[forge.first-fire.step]]")
                    .celsius("to", step.toC())
                    .quantity("rise", Dimension.HEATING_RATE, step.riseKPerS(), "K/h")
                    .quantity("hold", Dimension.DURATION, step.holdS(), "h");
        }
    }

    private void layer(Layer layer) {
        Material material = layer.material();
        text.header("[[forge.lining]]")
                .text("material", material.name())
                .quantity("thickness", Dimension.LENGTH, layer.thicknessM(), "mm");
        if (Materials.find(material.name()).filter(material::equals).isPresent()) {
            return;
        }
        List<List<String>> conductivity = new ArrayList<>();
        for (Material.ConductivityPoint point : material.conductivity()) {
            conductivity.add(List.of(
                    TomlText.quantity(Dimension.TEMPERATURE, point.temperatureK(), "degC"),
                    TomlText.quantity(Dimension.CONDUCTIVITY, point.conductivityWPerMK(), "W/(m K)")));
        }
        text.quantity("density", Dimension.DENSITY, material.densityKgPerM3(), "kg/m3")
                .quantity("heat-capacity", Dimension.HEAT_CAPACITY, material.heatCapacityJPerKgK(), "J/(kg K)")
                .pairs("conductivity", conductivity)
                .quantity("service-limit", Dimension.TEMPERATURE, material.serviceLimitK(), "degC");
    }

    private void channel(ChannelCalibration channel) {
        text.header("[[forge.channel]]").text("name", channel.channel());
        if (channel instanceof ThermocoupleCalibration thermocouple) {
            thermocouple(thermocouple);
        } else if (channel instanceof PressureCalibration pressure) {
            transducer(pressure);
        } else if (channel instanceof PointsCalibration points) {
            points(points);
        }
    }

    private void thermocouple(ThermocoupleCalibration thermocouple) {
        text.text("sensor", "thermocouple")
                .text("amplifier", ConfigPrinter.word(ChannelsReader.AMPLIFIERS, thermocouple.amplifier()));
        boolean analogue = thermocouple.amplifier() == ThermocoupleCalibration.Amplifier.ANALOGUE;
        if (analogue || thermocouple.amplifier() == ThermocoupleCalibration.Amplifier.STRAIGHT_LINE) {
            text.quantity(
                    "sensitivity", Dimension.SENSITIVITY, thermocouple.sensitivityVPerK(), analogue ? "mV/K" : "uV/K");
        }
        if (analogue) {
            text.quantity("output-at-zero", Dimension.VOLTAGE, thermocouple.outputAtZeroV(), "V");
        }
        text.text("wire-class", ConfigPrinter.word(ChannelsReader.WIRE_CLASSES, thermocouple.toleranceClass()))
                .quantity("wire-diameter", Dimension.LENGTH, thermocouple.wireDiameterM(), "mm")
                .quantity("sheath-diameter", Dimension.LENGTH, thermocouple.sheathDiameterM(), "mm")
                .quantity(
                        "cold-junction-accuracy",
                        Dimension.TEMPERATURE_DIFFERENCE,
                        thermocouple.coldJunctionStandardUncertaintyK(),
                        "K")
                .quantity("amplifier-accuracy", Dimension.VOLTAGE, thermocouple.amplifierStandardUncertaintyV(), "uV");
    }

    private void transducer(PressureCalibration pressure) {
        text.text("sensor", "transducer").text("output", ConfigPrinter.word(ChannelsReader.OUTPUTS, pressure.output()));
        Dimension dimension = switch (pressure.output()) {
            case RATIOMETRIC_VOLTS -> Dimension.VOLTAGE;
            case RATIO -> Dimension.RATIO;
            case CURRENT_LOOP -> Dimension.CURRENT;
            case PRESSURE -> Dimension.PRESSURE;
        };
        String symbol = switch (pressure.output()) {
            case RATIOMETRIC_VOLTS -> "V";
            case RATIO -> "";
            case CURRENT_LOOP -> "mA";
            case PRESSURE -> "mbar";
        };
        if (pressure.output() != PressureCalibration.Output.PRESSURE) {
            text.pairs(
                    "points",
                    List.of(
                            List.of(
                                    TomlText.quantity(dimension, pressure.low(), symbol),
                                    TomlText.quantity(Dimension.PRESSURE, pressure.lowPa(), "bar")),
                            List.of(
                                    TomlText.quantity(dimension, pressure.high(), symbol),
                                    TomlText.quantity(Dimension.PRESSURE, pressure.highPa(), "bar"))));
        }
        text.quantity("supply", Dimension.VOLTAGE, pressure.supplyV(), "V")
                .quantity("shunt", Dimension.RESISTANCE, pressure.shuntOhm(), "ohm")
                .quantity("zero", dimension, pressure.zero(), symbol)
                .number("accuracy", pressure.accuracyOfSpan());
    }

    /** A channel of the user's own is printed without units: its points were turned into one unit when they were read. */
    private void points(PointsCalibration points) {
        Dimension dimension = switch (FormatReader.quantityOf(points.channel())) {
            case TEMPERATURE -> Dimension.TEMPERATURE;
            case PRESSURE -> Dimension.PRESSURE;
            case MASS -> Dimension.MASS;
            case VOLTAGE -> Dimension.VOLTAGE;
            default -> Dimension.RATIO;
        };
        text.text("sensor", "points")
                .pairs(
                        "points",
                        List.of(
                                List.of(point(dimension, points.read1()), point(dimension, points.true1())),
                                List.of(point(dimension, points.read2()), point(dimension, points.true2()))));
        if (dimension == Dimension.TEMPERATURE) {
            text.quantity("accuracy", Dimension.TEMPERATURE_DIFFERENCE, points.standardUncertainty(), "K");
        } else if (!Double.isNaN(points.standardUncertainty())) {
            text.text("accuracy", point(dimension, points.standardUncertainty()));
        }
    }

    private static String point(Dimension dimension, double value) {
        return switch (dimension) {
            case TEMPERATURE -> Decimal.write(value) + " degC";
            case PRESSURE -> TomlText.quantity(dimension, value, "mbar");
            case MASS -> TomlText.quantity(dimension, value, "kg");
            case VOLTAGE -> TomlText.quantity(dimension, value, "mV");
            default -> Decimal.write(value);
        };
    }

    private static List<String> millimetres(double... metres) {
        List<String> written = new ArrayList<>();
        for (double metre : metres) {
            written.add(TomlText.quantity(Dimension.LENGTH, metre, "mm"));
        }
        return written;
    }
}
