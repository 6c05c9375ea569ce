package org.bankfire.analysis.forge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.lining.Material.ConductivityPoint;
import org.bankfire.analysis.lining.Materials;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ForgeDescriptionTest {
    private static final Fuel FUEL = Fuel.PROPANE;
    private static final Burner BURNER = new Burner(FUEL, 0.8e-3, 18e-3, 0.85, 0.05);
    private static final Layer LAYER =
            new Layer(Materials.find("insulating-firebrick-23").orElseThrow(), 0.076);

    @Test
    void theInnerSurfaceIsThatOfABox() {
        assertThat(forge(0.2, List.of()).innerSurfaceM2())
                .isCloseTo(2 * (0.2 * 0.16 + 0.2 * 0.23 + 0.16 * 0.23), within(1e-12));
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, 0, -0.2, 0.019, 3.1, Double.POSITIVE_INFINITY})
    void aChamberOfImpossibleSizeIsRefused(double widthM) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> forge(widthM, List.of()))
                .withMessageContaining("chamber width");
    }

    @Test
    void openingsThatTakeTheWholeWallAreRefused() {
        List<Opening> holes = List.of(new Opening("front", 0.4, 0.4, false), new Opening("rear", 0.3, 0.3, false));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> forge(0.2, holes))
                .withMessageContaining("openings of forge shed");
    }

    @Test
    void twoOpeningsOfOneNameAreRefused() {
        Opening front = new Opening("front", 0.09, 0.11, false);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> forge(0.2, List.of(front, front)))
                .withMessageContaining("two openings");
    }

    @Test
    void aForgeWithoutLiningIsRefused() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new ForgeDescription(
                        "shed", "Shed", 1423.15, 293.15, 0, BURNER, 0.2, 0.16, 0.23, 12, List.of(), List.of()))
                .withMessageContaining("lining");
    }

    @Test
    void aThroatNoWiderThanTheJetIsRefused() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Burner(FUEL, 2e-3, 2e-3, 0.85, 0.05))
                .withMessageContaining("wider than the jet");
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, 0.29, 1.01})
    void aDischargeCoefficientNoJetHasIsRefused(double discharge) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Burner(FUEL, 0.8e-3, 18e-3, discharge, 0.05))
                .withMessageContaining("discharge coefficient");
    }

    @Test
    void conductivityPointsMustRiseInTemperature() {
        List<ConductivityPoint> falling = List.of(new ConductivityPoint(800, 0.2), new ConductivityPoint(400, 0.1));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Material("block", 550, 1050, falling, Double.NaN, "mine"))
                .withMessageContaining("must rise");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Material("block", 550, 1050, List.of(), Double.NaN, "mine"))
                .withMessageContaining("one temperature at least");
    }

    @Test
    void aMaterialOfUnknownLimitIsTaken() {
        Material block =
                new Material("block", 550, 1050, List.of(new ConductivityPoint(293.15, 0.14)), Double.NaN, "mine");
        assertThat(block.serviceLimitK()).isNaN();
    }

    private static ForgeDescription forge(double widthM, List<Opening> openings) {
        return new ForgeDescription(
                "shed", "Shed", 1423.15, 293.15, 0, BURNER, widthM, 0.16, 0.23, 12, List.of(LAYER), openings);
    }
}
