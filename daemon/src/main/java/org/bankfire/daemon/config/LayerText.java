package org.bankfire.daemon.config;

import java.util.stream.Collectors;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.lining.Materials;

/** A layer of a lining within one value, as {@code --set} takes it. */
public final class LayerText {
    private LayerText() {}

    /**
     * What the configuration says of a material beside its name, as entries of an inline table.
     *
     * @return such as {@code density = "550 kg/m3", …}; empty for one of the library
     */
    public static String ownFigures(Material material) {
        if (Materials.find(material.name()).filter(material::equals).isPresent()) {
            return "";
        }
        String conductivity = material.conductivity().stream()
                .map(point -> "[" + text(Dimension.TEMPERATURE, point.temperatureK(), "degC") + ", "
                        + text(Dimension.CONDUCTIVITY, point.conductivityWPerMK(), "W/(m K)") + "]")
                .collect(Collectors.joining(", ", "[", "]"));
        String figures = "density = " + text(Dimension.DENSITY, material.densityKgPerM3(), "kg/m3")
                + ", heat-capacity = " + text(Dimension.HEAT_CAPACITY, material.heatCapacityJPerKgK(), "J/(kg K)")
                + ", conductivity = " + conductivity;
        return Double.isNaN(material.serviceLimitK())
                ? figures
                : figures + ", service-limit = " + text(Dimension.TEMPERATURE, material.serviceLimitK(), "degC");
    }

    private static String text(Dimension dimension, double si, String symbol) {
        return TomlText.quoted(TomlText.quantity(dimension, si, symbol));
    }
}
