package org.bankfire.daemon.config;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.lining.Material.ConductivityPoint;
import org.bankfire.analysis.lining.Materials;
import org.bankfire.analysis.quantity.Range;
import org.jspecify.annotations.Nullable;

/** Reads the {@code [[forge.lining]]} layers, from the hot face outwards. */
final class LiningReader {
    /** Source of a material that the configuration describes whole. */
    static final String OWN = "the configuration";
    /** What is added to the source of a library material that the configuration changes. */
    static final String CHANGED = "; changed in the configuration";

    private static final String CONDUCTIVITY_ALLOWED =
            "a list of pairs of rising temperature and conductivity, as in [[\"20 degC\", \"0.14 W/(m K)\"], "
                    + "[\"1000 degC\", \"0.24 W/(m K)\"]]";

    private final Problems problems;

    LiningReader(Problems problems) {
        this.problems = problems;
    }

    /** The layers that are right; the problems tell of the others. */
    List<Layer> read(Section forge) {
        List<Section> sections = forge.tables("lining");
        if (sections.isEmpty()) {
            String allowed = "one layer at least: write [[forge.lining]] with its material and thickness";
            if (!forge.has("lining")) {
                forge.missing("lining", allowed);
            } else {
                forge.refuse("lining", allowed);
            }
        }
        List<Layer> layers = new ArrayList<>();
        for (Section section : sections) {
            Material material = material(section);
            double thicknessM = section.requiredQuantity("thickness", Dimension.LENGTH, Layer.THICKNESS_M, "76 mm");
            section.refuseOthers();
            if (material != null) {
                Layer layer = section.build(() -> new Layer(material, thicknessM));
                if (layer != null) {
                    layers.add(layer);
                }
            }
        }
        return layers;
    }

    private @Nullable Material material(Section section) {
        String name = section.requiredText("material", "a material of the library, or one described in place");
        Material library = Materials.find(name).orElse(null);
        boolean described = false;
        for (String figure : List.of("density", "heat-capacity", "conductivity")) {
            described |= section.has(figure);
        }
        if (library == null && !described) {
            if (!name.isEmpty()) {
                section.refuse(
                        "material",
                        "not in the library (" + String.join(", ", Materials.names())
                                + "); describe another with density, heat-capacity and conductivity",
                        NearestName.among(name, Materials.names()));
            }
            section.has("service-limit");
            return null;
        }
        double density = figure(
                section,
                "density",
                Dimension.DENSITY,
                Material.DENSITY_KG_PER_M3,
                "550 kg/m3",
                library == null ? Double.NaN : library.densityKgPerM3());
        double heatCapacity = figure(
                section,
                "heat-capacity",
                Dimension.HEAT_CAPACITY,
                Material.HEAT_CAPACITY_J_PER_KG_K,
                "1050 J/(kg K)",
                library == null ? Double.NaN : library.heatCapacityJPerKgK());
        List<ConductivityPoint> conductivity = conductivity(section, library);
        double limitK = section.quantity(
                "service-limit",
                Dimension.TEMPERATURE,
                Material.SERVICE_LIMIT_K,
                "1000 degC",
                library == null ? Double.NaN : library.serviceLimitK());
        if (library != null && !described && !section.has("service-limit")) {
            return library;
        }
        String source = library == null ? OWN : library.source() + CHANGED;
        return section.build(() -> new Material(name, density, heatCapacity, conductivity, limitK, source));
    }

    /** A figure that only a library material may leave out. */
    private static double figure(
            Section section, String key, Dimension dimension, Range range, String example, double library) {
        return Double.isNaN(library)
                ? section.requiredQuantity(key, dimension, range, example)
                : section.quantity(key, dimension, range, example, library);
    }

    private List<ConductivityPoint> conductivity(Section section, @Nullable Material library) {
        if (!section.has("conductivity")) {
            if (library == null) {
                section.missing("conductivity", CONDUCTIVITY_ALLOWED);
                return List.of();
            }
            return library.conductivity();
        }
        List<Node> pairs = section.list("conductivity", CONDUCTIVITY_ALLOWED);
        List<ConductivityPoint> points = new ArrayList<>();
        for (int i = 0; i < pairs.size(); i++) {
            String where = section.pathOf("conductivity") + "." + i;
            if (!(pairs.get(i) instanceof Node.Items pair) || pair.items().size() != 2) {
                problems.error(pairs.get(i).place(), where, pairs.get(i).shown(), CONDUCTIVITY_ALLOWED);
                continue;
            }
            double temperatureK = section.quantity(
                    pair.items().get(0),
                    where + ".0",
                    Dimension.TEMPERATURE,
                    Material.CONDUCTIVITY_TEMPERATURE_K,
                    "20 degC");
            double conductivity = section.quantity(
                    pair.items().get(1),
                    where + ".1",
                    Dimension.CONDUCTIVITY,
                    Material.CONDUCTIVITY_W_PER_M_K,
                    "0.14 W/(m K)");
            if (!points.isEmpty()
                    && temperatureK <= points.get(points.size() - 1).temperatureK()) {
                problems.error(pair.place(), where, pair.shown(), "temperatures must rise from pair to pair");
            } else if (Double.isFinite(temperatureK) && Double.isFinite(conductivity)) {
                points.add(new ConductivityPoint(temperatureK, conductivity));
            }
        }
        if (pairs.isEmpty() && section.node("conductivity") instanceof Node.Items) {
            section.refuse("conductivity", CONDUCTIVITY_ALLOWED);
        }
        return points;
    }
}
