package org.bankfire.analysis.lining;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.bankfire.analysis.lining.Material.ConductivityPoint;
import org.bankfire.analysis.lining.Slab.Face;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class LayeredWallTest {
    /** Incropera, section 3.1: resistances in series add up. Exact but for rounding, whatever the grid. */
    @Test
    void threeLayersAtRestPassWhatTheirResistancesLetThrough() {
        List<Layer> layers = List.of(
                Slab.layer(0.05, 490, 979, 0.16), Slab.layer(0.025, 128, 1090, 0.10), Slab.layer(0.1, 2150, 997, 1.1));
        Slab wall = Slab.flat(layers, 0.8e-3, 1.22, 300)
                .faces(Face.convection(50, 1500), Face.convection(10, 300))
                .settle();
        double resistance = 1.0 / 50 + 0.05 / 0.16 + 0.025 / 0.10 + 0.1 / 1.1 + 1.0 / 10;
        double heatW = (1500 - 300) / resistance;
        assertThat(wall.throughW()).isCloseTo(heatW, withinPercentage(1e-6));
        assertThat(wall.atK(0.05)).isCloseTo(1500 - heatW * (1.0 / 50 + 0.05 / 0.16), within(1e-4));
        assertThat(wall.atK(0.075)).isCloseTo(1500 - heatW * (1.0 / 50 + 0.05 / 0.16 + 0.25), within(1e-4));
        assertThat(wall.backK()).isCloseTo(300 + heatW / 10, within(1e-4));
    }

    /**
     * Carslaw and Jaeger, section 1.6 (Kirchhoff): with k = k0 (1 + b (T − T0)) heat and profile have closed forms. The
     * conductivity at the mean of two nodes makes both exact.
     */
    @Test
    void aConductivityThatRisesStraightHasItsClosedForm() {
        double hotK = 1500;
        double coldK = 300;
        double low = 0.1;
        double rise = 0.2 / 1200;
        Slab wall = Slab.flat(
                        List.of(Slab.layer(
                                0.1,
                                500,
                                1000,
                                new ConductivityPoint(coldK, low),
                                new ConductivityPoint(hotK, low + rise * 1200))),
                        0.8e-3,
                        1.22,
                        coldK)
                .faces(Face.fixed(hotK), Face.fixed(coldK))
                .settle();
        double heatW = (low + rise * 600) * 1200 / 0.1;
        assertThat(wall.throughW()).isCloseTo(heatW, withinPercentage(1e-4));
        for (int i = 0; i < wall.nodes(); i++) {
            // low u + rise u² / 2 = heat (L − x), with u = T − cold.
            double right = heatW * (0.1 - wall.grid().depthM(i));
            double above = (Math.sqrt(low * low + 2 * rise * right) - low) / rise;
            assertThat(wall.nodeK(i)).as("node %s", i).isCloseTo(coldK + above, within(0.01));
        }
    }

    @Test
    void aFlatSpreadIsAFlatWall() {
        Spread.Plane plane = new Spread.Plane(2.5);
        assertThat(plane.areaM2(0.7)).isEqualTo(2.5);
        assertThat(plane.shapeResistancePerM(0.5)).isCloseTo(0.2, within(1e-15));
    }

    /**
     * Holman, Heat Transfer, example 3-3 (from memory): a furnace of 50 cm inside with walls of 10 cm and 1.04 W/(m K)
     * between 500 and 50 °C has the shape factor 18.36 m and loses 8.592 kW.
     */
    @Test
    void aCubicalFurnaceLosesWhatTheTextbookSays() {
        Spread.Box box = new Spread.Box(6 * 0.25, 12 * 0.5);
        assertThat(1 / box.shapeResistancePerM(0.1)).isCloseTo(18.36, within(1e-9));
        Slab wall = Slab.spread(List.of(Slab.layer(0.1, 2150, 997, 1.04)), box, 0.8e-3, 1.22, 323)
                .faces(Face.fixed(773), Face.fixed(323))
                .settle();
        assertThat(wall.throughW()).isCloseTo(8592, within(1.0));
    }

    /** Langmuir's shape factor (Incropera, table 4.1: A / L per wall, 0.54 D per edge, 0.15 L per corner) at any depth. */
    @Test
    void theLayersOfABoxShareItsShapeFactor() {
        Spread.Box box = new Spread.Box(0.2296, 4 * (0.2 + 0.16 + 0.23));
        double two = (0.2296 / 0.076 + 0.54 * 2.36 + 8 * 0.15 * 0.076) * 0.15;
        Slab oneLayer = Slab.spread(List.of(Slab.layer(0.076, 500, 1000, 0.15)), box, 0.8e-3, 1.22, 300)
                .faces(Face.fixed(1300), Face.fixed(300))
                .settle();
        Slab twoLayers = Slab.spread(
                        List.of(Slab.layer(0.03, 500, 1000, 0.15), Slab.layer(0.046, 300, 1000, 0.15)),
                        box,
                        0.8e-3,
                        1.22,
                        300)
                .faces(Face.fixed(1300), Face.fixed(300))
                .settle();
        assertThat(oneLayer.throughW()).isCloseTo(two * 1000, withinPercentage(1e-3));
        assertThat(twoLayers.throughW()).isCloseTo(two * 1000, withinPercentage(1e-3));
    }

    /** The area is what the resistance says it is, and more wall never insulates less, however small the chamber. */
    @ParameterizedTest
    @ValueSource(doubles = {0.02, 0.1, 0.3, 1})
    void moreWallAlwaysInsulatesMore(double sideM) {
        Spread.Box box = new Spread.Box(6 * sideM * sideM, 12 * sideM);
        double stepM = sideM / 200;
        for (double depthM = 0; depthM < 40 * sideM; depthM += stepM) {
            double gain = box.shapeResistancePerM(depthM + stepM) - box.shapeResistancePerM(depthM);
            assertThat(gain).as("%s m", depthM).isPositive();
            double area = box.areaM2(depthM + stepM / 2);
            // The area at the middle of a step for its mean: a thousandth where the formula is left.
            assertThat(gain * area / stepM).as("%s m", depthM).isCloseTo(1, within(2e-3));
            double outside = 6 * Math.pow(sideM + 2 * depthM, 2);
            assertThat(box.areaM2(depthM)).as("%s m", depthM).isBetween(0.6 * outside, 1.5 * outside);
        }
    }

    @Test
    void theGridFillsEveryLayerAndHoldsItsHeat() {
        List<Layer> layers = List.of(
                Slab.layer(0.002, 490, 979, 0.16),
                Slab.layer(0.05, 128, 1090, 0.10),
                Slab.layer(0.0011, 2150, 997, 1.1));
        WallGrid grid = WallGrid.of(layers, new Spread.Plane(2), 0.8e-3, 1.22);
        assertThat(grid.depthM(0)).isZero();
        assertThat(grid.thicknessM()).isCloseTo(0.0531, within(1e-12));
        double held = 2 * (0.002 * 490 * 979 + 0.05 * 128 * 1090 + 0.0011 * 2150 * 997);
        assertThat(grid.capacityJPerK()).isCloseTo(held, withinPercentage(1e-9));
        List<Double> depths = new ArrayList<>();
        for (int i = 0; i < grid.nodes(); i++) {
            depths.add(grid.depthM(i));
        }
        assertThat(depths).isSorted().doesNotHaveDuplicates();
        assertThat(depths).anySatisfy(depth -> assertThat(depth).isCloseTo(0.002, within(1e-12)));
        assertThat(depths).anySatisfy(depth -> assertThat(depth).isCloseTo(0.052, within(1e-12)));
        assertThat(grid.layerBeyond(0)).isZero();
        assertThat(grid.layerBeyond(grid.nodes() - 2)).isEqualTo(2);
        // Cells grow from about the first to about what the growth allows.
        assertThat(grid.depthM(1)).isBetween(0.5e-3, 1.2e-3);
    }

    /** What a wall holds is what came in by its faces: to rounding of the heat that it holds, at every step. */
    @Test
    void everyStepOfAnyWallKeepsItsEnergy() {
        SplittableRandom random = new SplittableRandom(20_260_104);
        for (int wall = 0; wall < 100; wall++) {
            List<Layer> layers = new ArrayList<>();
            for (int i = random.nextInt(1, 7); i > 0; i--) {
                double first = random.nextDouble(0.03, 2);
                layers.add(Slab.layer(
                        random.nextDouble(0.001, 0.15),
                        random.nextDouble(100, 3000),
                        random.nextDouble(500, 1500),
                        new ConductivityPoint(300, first),
                        new ConductivityPoint(900, first * random.nextDouble(0.5, 3)),
                        new ConductivityPoint(1500, first * random.nextDouble(0.5, 5))));
            }
            Spread spread = random.nextBoolean() ? new Spread.Plane(0.2) : new Spread.Box(0.2, 2);
            Slab slab = Slab.spread(layers, spread, 0.8e-3, 1.22, 300);
            for (int n = 0; n < 100; n++) {
                if (n % 10 == 0) {
                    slab.faces(
                            new Face(random.nextDouble(100), random.nextDouble(300, 2000), 0.8, 1600, 0),
                            new Face(10, 300, 0.9, 300, random.nextDouble(-100, 100)));
                }
                double beforeJ = slab.storedJ();
                slab.stepWithin(50, Math.exp(random.nextDouble(-3, 8)));
                double came = slab.stepTallyJ(Slab.FRONT_J) + slab.stepTallyJ(Slab.BACK_J);
                assertThat(slab.storedJ() - beforeJ)
                        .as("wall %s, step %s", wall, n)
                        .isCloseTo(came, within(1e-12 * (beforeJ + Math.abs(came))));
            }
        }
    }
}
