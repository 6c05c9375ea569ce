package org.bankfire.analysis.lining;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * A lining divided for computation: nodes from the hot face to the cold one, each face and each joint between layers on a
 * node, the cells thin at the hot face and growing outwards. Immutable.
 */
public final class WallGrid {
    private final List<Layer> layers;
    private final double[] depthsM;
    private final int[] cellLayer;
    private final double[] capacityJPerK;
    private final double[] linkM;
    private final Conductivity[] linkConductivity;

    private WallGrid(List<Layer> layers, Spread spread, double[] depthsM, int[] cellLayer) {
        this.layers = layers;
        this.depthsM = depthsM;
        this.cellLayer = cellLayer;
        int cells = cellLayer.length;
        capacityJPerK = new double[cells + 1];
        linkM = new double[cells];
        linkConductivity = new Conductivity[cells];
        List<Conductivity> curves = new ArrayList<>();
        for (Layer layer : layers) {
            curves.add(new Conductivity(layer.material().conductivity()));
        }
        for (int i = 0; i < cells; i++) {
            Material material = layers.get(cellLayer[i]).material();
            double near = depthsM[i];
            double far = depthsM[i + 1];
            double perM3 = material.densityKgPerM3() * material.heatCapacityJPerKgK();
            // Each half of a cell belongs to the node beside it.
            double half = (far - near) / 2;
            capacityJPerK[i] += perM3 * half * spread.areaM2(near + half / 2);
            capacityJPerK[i + 1] += perM3 * half * spread.areaM2(far - half / 2);
            linkM[i] = 1 / (spread.shapeResistancePerM(far) - spread.shapeResistancePerM(near));
            linkConductivity[i] = curves.get(cellLayer[i]);
        }
    }

    /**
     * A grid.
     *
     * @param layers from the hot face outwards, at least one
     * @param spread how the way of the heat widens
     * @param firstCellM thickness of the cell at the hot face, m, above 0; a layer thinner than this is one cell
     * @param growth of one cell over the one before it, 1 to 2
     */
    public static WallGrid of(List<Layer> layers, Spread spread, double firstCellM, double growth) {
        if (layers.isEmpty()) {
            throw new IllegalArgumentException("a wall needs one layer at least");
        }
        if (!(firstCellM > 0 && growth >= 1 && growth <= 2)) {
            throw new IllegalArgumentException(
                    "first cell of " + firstCellM + " m growing by " + growth + ": allowed are above 0 m and 1 to 2");
        }
        List<Double> depths = new ArrayList<>(List.of(0.0));
        List<Integer> owners = new ArrayList<>();
        double cellM = firstCellM;
        double startM = 0;
        for (int layer = 0; layer < layers.size(); layer++) {
            double thicknessM = layers.get(layer).thicknessM();
            int cells = cells(thicknessM, cellM, growth);
            // The cells of a layer are stretched together so that they fill it exactly.
            double stretch = thicknessM / sum(cellM, growth, cells);
            double depth = startM;
            for (int i = 0; i < cells; i++) {
                depth = i == cells - 1 ? startM + thicknessM : depth + stretch * cellM * Math.pow(growth, i);
                depths.add(depth);
                owners.add(layer);
            }
            cellM *= Math.pow(growth, cells);
            startM += thicknessM;
        }
        return new WallGrid(
                List.copyOf(layers),
                spread,
                depths.stream().mapToDouble(Double::doubleValue).toArray(),
                owners.stream().mapToInt(Integer::intValue).toArray());
    }

    private static int cells(double thicknessM, double cellM, double growth) {
        double ratio = thicknessM / cellM;
        double count = growth == 1 ? ratio : Math.log1p(ratio * (growth - 1)) / Math.log(growth);
        return (int) Math.max(1, Math.round(count));
    }

    private static double sum(double cellM, double growth, int cells) {
        return growth == 1 ? cells * cellM : cellM * (Math.pow(growth, cells) - 1) / (growth - 1);
    }

    /** Number of nodes. */
    public int nodes() {
        return capacityJPerK.length;
    }

    /** Depth of a node below the hot face, m. */
    public double depthM(int node) {
        return depthsM[node];
    }

    /** Thickness of all layers, m. */
    public double thicknessM() {
        return depthsM[depthsM.length - 1];
    }

    /** The layers, from the hot face outwards. */
    public List<Layer> layers() {
        return layers;
    }

    /** Number of the layer that the cell beyond a node belongs to. */
    public int layerBeyond(int node) {
        return cellLayer[node];
    }

    /** Heat capacity of a node, J/K. */
    public double capacityJPerK(int node) {
        return capacityJPerK[node];
    }

    /** Heat capacity of the whole wall, J/K. */
    public double capacityJPerK() {
        return Arrays.stream(capacityJPerK).sum();
    }

    /**
     * Conductance from a node to the next, W/K.
     *
     * @param node 0 to {@code nodes() − 2}
     * @param nearK temperature of the node, K
     * @param farK temperature of the next, K
     */
    public double conductanceWPerK(int node, double nearK, double farK) {
        return linkM[node] * linkConductivity[node].at((nearK + farK) / 2);
    }
}
