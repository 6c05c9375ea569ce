package org.bankfire.analysis.lining;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.bankfire.analysis.lining.Material.ConductivityPoint;

/**
 * Lining materials that need no description of their own. Figures are generic: a maker's data sheet is better, and can
 * be given in the configuration. Below the first and above the last temperature the conductivity stays constant.
 *
 * <p>The heat capacity is a single figure; where the source gives it over temperature, it is the one at 600 °C, near the
 * mean between ambient and forging temperature. Conductivities are at mean temperature (ASTM C201, C182 or hot wire).
 * Bricks and blankets vary by 20 % either way between makers and batches.
 */
public final class Materials {
    private static final double ZERO_CELSIUS_K = 273.15;
    private static final String VDI = "VDI Heat Atlas, 2nd ed. 2010, section D6, ";
    private static final String C155 = "ASTM C155-97 table 1, from memory";
    private static final String EN_1745 =
            "density, dry conductivity at 10 degC (50 % fractile) and heat capacity: EN 1745 annex A, from memory; "
                    + "0.24 W/(m K) at 1000 degC: common estimate, no source; limit: its calcium silicate hydrates "
                    + "break down and the block shrinks and cracks above about 700 degC, from memory";
    private static final String GENERIC = "typical public data sheets, from memory, 20 % either way";

    private static final Map<String, Material> LIBRARY = library();

    private Materials() {}

    /** The material of that name, as written in {@link #names()}. */
    public static Optional<Material> find(String name) {
        return Optional.ofNullable(LIBRARY.get(name));
    }

    /** All names, in groups from insulating brick to concrete. */
    public static List<String> names() {
        return List.copyOf(LIBRARY.keySet());
    }

    private static Map<String, Material> library() {
        List<Material> all = new ArrayList<>();
        addBricks(all);
        addFibresAndCastables(all);
        addAeratedConcrete(all);
        Map<String, Material> byName = new LinkedHashMap<>();
        for (Material material : all) {
            byName.put(material.name(), material);
        }
        return byName;
    }

    private static void addBricks(List<Material> all) {
        all.add(material(
                "insulating-firebrick-20",
                500,
                979,
                1065,
                "density and conductivity: " + GENERIC + "; heat capacity: " + VDI
                        + "L1260; limit: reheat-change test temperature of group 20, " + C155,
                new double[][] {{400, 0.13}, {600, 0.15}, {800, 0.17}}));
        all.add(material(
                "insulating-firebrick-23",
                490,
                979,
                1260,
                VDI + "L1260 (about group 23 of ASTM C155); limit: its classification temperature",
                new double[][] {{400, 0.14}, {600, 0.16}, {800, 0.18}, {1000, 0.20}, {1200, 0.22}}));
        all.add(material(
                "insulating-firebrick-26",
                790,
                994,
                1400,
                VDI + "L1400 (about group 26 of ASTM C155); limit: its classification temperature",
                new double[][] {{400, 0.27}, {600, 0.30}, {800, 0.32}, {1000, 0.34}, {1200, 0.36}}));
        all.add(material(
                "insulating-firebrick-28",
                890,
                1026,
                1510,
                VDI + "L1540 (about group 28 of ASTM C155); limit: reheat-change test temperature of group 28, " + C155,
                new double[][] {{400, 0.32}, {600, 0.35}, {800, 0.38}, {1000, 0.41}, {1200, 0.43}}));
        all.add(material(
                "dense-firebrick",
                2150,
                997,
                1400,
                VDI + "fireclay; limit: medium-duty fireclay brick, common practice, no source",
                new double[][] {{400, 1.05}, {600, 1.10}, {800, 1.15}, {1000, 1.18}, {1200, 1.22}}));
    }

    private static void addFibresAndCastables(List<Material> all) {
        String fibre = GENERIC + "; limit: classification temperature; for lasting use stay below about 1150 degC";
        all.add(material("ceramic-fibre-blanket-1260", 128, 1090, 1260, fibre, new double[][] {
            {200, 0.06}, {400, 0.10}, {600, 0.15}, {800, 0.20}, {1000, 0.28}
        }));
        all.add(material("ceramic-fibre-blanket-1260-light", 96, 1090, 1260, fibre, new double[][] {
            {400, 0.11}, {600, 0.17}, {800, 0.24}, {1000, 0.34}
        }));
        all.add(material(
                "dense-castable",
                2150,
                997,
                1400,
                "castable of 45 to 60 % alumina: " + GENERIC + "; heat capacity: " + VDI
                        + "fireclay; limit: common practice, no source",
                new double[][] {{400, 0.9}, {800, 1.0}, {1000, 1.1}}));
        all.add(material(
                "insulating-castable",
                1300,
                997,
                1200,
                "1200 to 1300 degC class: " + GENERIC + "; heat capacity: " + VDI
                        + "fireclay; limit: lower end of its class",
                new double[][] {{400, 0.35}, {800, 0.40}}));
    }

    private static void addAeratedConcrete(List<Material> all) {
        all.add(material("aerated-concrete-400", 400, 1000, 700, EN_1745, new double[][] {{10, 0.096}, {1000, 0.24}}));
        all.add(material("aerated-concrete-500", 500, 1000, 700, EN_1745, new double[][] {{10, 0.12}, {1000, 0.24}}));
        all.add(material("aerated-concrete-600", 600, 1000, 700, EN_1745, new double[][] {{10, 0.15}, {1000, 0.24}}));
    }

    private static Material material(
            String name,
            double densityKgPerM3,
            double heatCapacityJPerKgK,
            double limitC,
            String source,
            double[][] conductivityAtC) {
        List<ConductivityPoint> points = new ArrayList<>();
        for (double[] point : conductivityAtC) {
            points.add(new ConductivityPoint(point[0] + ZERO_CELSIUS_K, point[1]));
        }
        return new Material(name, densityKgPerM3, heatCapacityJPerKgK, points, limitC + ZERO_CELSIUS_K, source);
    }
}
