package org.bankfire.daemon.config;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.bankfire.analysis.correction.ChannelCalibration;
import org.bankfire.analysis.correction.ThermocoupleCalibration;
import org.bankfire.analysis.gas.Cylinder;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.lining.FirstFiring;
import org.bankfire.analysis.monitor.ConditionSettings;
import org.bankfire.analysis.quantity.Range;
import org.bankfire.analysis.reading.ChannelNames;
import org.jspecify.annotations.Nullable;

/** Reads what a {@code [[forge]]} says of its cylinder, its first firing and its lowest stable pressure. */
final class ConditionsReader {
    private static final Map<String, FirstFiring> SCHEDULES =
            Section.words(Map.entry("castable", FirstFiring.CASTABLE), Map.entry("block", FirstFiring.BLOCK));

    private static final String STEPS_ALLOWED =
            "a schedule, \"castable\" or \"block\", or steps of your own: write [[forge.first-fire.step]] before each";

    // Wide enough for any forge; narrow enough to find a slip of the decimal point. Common practice, no source.
    private static final Range LOWEST_PA = new Range(100, 4e5);
    private static final double ZERO_CELSIUS_K = 273.15;
    private static final Range TO_K =
            new Range(FirstFiring.TO_C.low() + ZERO_CELSIUS_K, FirstFiring.TO_C.high() + ZERO_CELSIUS_K);

    private ConditionsReader() {}

    static ConditionSettings read(Section forge, Fuel fuel, List<ChannelCalibration> channels) {
        double lowestPa = forge.quantity("gas-lowest", Dimension.PRESSURE, LOWEST_PA, "0.15 bar", Double.NaN);
        return new ConditionSettings(cylinder(forge, fuel), lowestPa, firstFiring(forge), wireLimitC(channels));
    }

    /** The name of a schedule of the library; null for one of the user's own, and for none. */
    static @Nullable String nameOf(FirstFiring firing) {
        for (Map.Entry<String, FirstFiring> known : SCHEDULES.entrySet()) {
            if (known.getValue().equals(firing)) {
                return known.getKey();
            }
        }
        return null;
    }

    private static @Nullable Cylinder cylinder(Section forge, Fuel fuel) {
        Section section = forge.table("cylinder");
        if (section == null) {
            return null;
        }
        double capacityKg = section.requiredQuantity("capacity", Dimension.MASS, Cylinder.CAPACITY_KG, "11 kg");
        double tareKg = section.quantity("tare", Dimension.MASS, Cylinder.TARE_KG, "10.5 kg", Double.NaN);
        section.refuseOthers();
        return section.build(() -> new Cylinder(fuel, capacityKg, tareKg, Cylinder.usualHeatGainWPerK(capacityKg)));
    }

    private static FirstFiring firstFiring(Section forge) {
        Section section = forge.table("first-fire");
        if (section == null) {
            return FirstFiring.NONE;
        }
        FirstFiring known = section.choice("schedule", SCHEDULES, FirstFiring.NONE);
        List<FirstFiring.Step> steps = new ArrayList<>();
        List<Section> told = section.tables("step");
        for (Section step : told) {
            FirstFiring.Step right = step(step);
            if (right != null) {
                steps.add(right);
            }
        }
        section.refuseOthers();
        if (section.has("schedule")) {
            if (!told.isEmpty()) {
                section.refuse("schedule", "either a schedule or steps of your own, not both");
            }
            return known;
        }
        if (told.isEmpty()) {
            section.missing("schedule", STEPS_ALLOWED);
            return FirstFiring.NONE;
        }
        FirstFiring own = section.build(() -> new FirstFiring(steps));
        return own == null ? FirstFiring.NONE : own;
    }

    private static FirstFiring.@Nullable Step step(Section section) {
        double toC = section.celsius("to", TO_K, "120 degC", Double.NaN);
        if (!section.has("to")) {
            section.missing("to", Dimension.TEMPERATURE.allowed(TO_K, "120 degC"));
        }
        double rise = section.requiredQuantity("rise", Dimension.HEATING_RATE, FirstFiring.RISE_K_PER_S, "50 K/h");
        double holdS = section.quantity("hold", Dimension.DURATION, FirstFiring.HOLD_S, "2 h", 0);
        section.refuseOthers();
        return section.build(() -> new FirstFiring.Step(toC, rise, holdS));
    }

    private static double wireLimitC(List<ChannelCalibration> channels) {
        for (ChannelCalibration channel : channels) {
            if (channel.channel().equals(ChannelNames.CHAMBER)
                    && channel instanceof ThermocoupleCalibration thermocouple) {
                return thermocouple.suggestedLimitC();
            }
        }
        return Double.NaN;
    }
}
