package org.bankfire.analysis.lining;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.bankfire.analysis.lining.Material.ConductivityPoint;
import org.junit.jupiter.api.Test;

/** What cannot be is refused by its name, with its value and what is allowed. */
class LiningInputTest {
    private static final List<ConductivityPoint> FIGURES = List.of(new ConductivityPoint(300, 0.2));

    private static Material material(double density, double heatCapacity, double limitK) {
        return new Material("block", density, heatCapacity, FIGURES, limitK, "a test");
    }

    @Test
    void aLayerWithoutThicknessIsRefused() {
        Material block = material(500, 1000, 1000);
        assertThatThrownBy(() -> new Layer(block, 0))
                .hasMessage("thickness of block in m is 0.0: allowed are 0.001 to 1.0");
        assertThatThrownBy(() -> new Layer(block, Double.NaN)).hasMessageContaining("is NaN: allowed");
        assertThatThrownBy(() -> new Layer(block, -0.1)).hasMessageContaining("is -0.1: allowed");
    }

    @Test
    void aMaterialThatCannotBeIsRefused() {
        assertThatThrownBy(() -> material(0, 1000, 1000))
                .hasMessage("density of block in kg/m3 is 0.0: allowed are 20.0 to 5000.0");
        assertThatThrownBy(() -> material(500, Double.NaN, 1000))
                .hasMessage("heat capacity of block in J/(kg K) is NaN: allowed are 100.0 to 5000.0");
        assertThatThrownBy(() -> material(500, 1000, 20)).hasMessageContaining("service limit of block in K is 20.0");
        assertThat(material(500, 1000, Double.NaN).serviceLimitK()).isNaN();
        assertThatThrownBy(() -> new Material(" ", 500, 1000, FIGURES, 1000, "a test"))
                .hasMessage("a material needs a name");
        assertThatThrownBy(() -> new Material("block", 500, 1000, List.of(), 1000, "a test"))
                .hasMessage("block needs its conductivity at one temperature at least");
    }

    @Test
    void aConductivityThatCannotBeIsRefused() {
        assertThatThrownBy(() -> new ConductivityPoint(300, 0))
                .hasMessage("conductivity in W/(m K) is 0.0: allowed are 0.01 to 50.0");
        assertThatThrownBy(() -> new ConductivityPoint(Double.NaN, 0.2)).hasMessageContaining("is NaN: allowed");
        List<ConductivityPoint> falling = List.of(new ConductivityPoint(600, 0.2), new ConductivityPoint(600, 0.3));
        assertThatThrownBy(() -> new Material("block", 500, 1000, falling, 1000, "a test"))
                .hasMessage("temperatures in the conductivity of block must rise");
    }

    @Test
    void conductivityGoesStraightBetweenItsPointsAndStaysOutside() {
        Conductivity curve = new Conductivity(List.of(
                new ConductivityPoint(400, 0.1), new ConductivityPoint(800, 0.3), new ConductivityPoint(1000, 0.2)));
        assertThat(curve.at(300)).isEqualTo(0.1);
        assertThat(curve.at(400)).isEqualTo(0.1);
        assertThat(curve.at(600)).isCloseTo(0.2, within(1e-12));
        assertThat(curve.at(900)).isCloseTo(0.25, within(1e-12));
        assertThat(curve.at(2000)).isEqualTo(0.2);
    }

    @Test
    void aWallThatCannotBeIsRefused() {
        List<Layer> layers = List.of(new Layer(material(500, 1000, 1000), 0.1));
        assertThatThrownBy(() -> new Spread.Plane(0)).hasMessageContaining("area of a wall is 0.0 m²");
        assertThatThrownBy(() -> new Spread.Plane(Double.NaN)).hasMessageContaining("NaN");
        assertThatThrownBy(() -> new Spread.Box(0, 1)).hasMessageContaining("hot face of 0.0 m²");
        assertThatThrownBy(() -> new Spread.Box(1, -1)).hasMessageContaining("edges of -1.0 m");
        assertThatThrownBy(() -> WallGrid.of(List.of(), new Spread.Plane(1), 1e-3, 1.2))
                .hasMessage("a wall needs one layer at least");
        assertThatThrownBy(() -> WallGrid.of(layers, new Spread.Plane(1), 0, 1.2))
                .hasMessageContaining("0.0 m");
        assertThatThrownBy(() -> WallGrid.of(layers, new Spread.Plane(1), 1e-3, 3))
                .hasMessageContaining("3.0");
    }

    @Test
    void heatsForAnotherNumberOfNodesAreRefused() {
        Slab slab = Slab.flat(List.of(Slab.layer(0.1, 500, 1000, 0.2)), 0.05, 1, 300);
        assertThatThrownBy(() -> new ChainStepper(slab, new double[2])).hasMessage("2 heats for 3 nodes");
    }
}
