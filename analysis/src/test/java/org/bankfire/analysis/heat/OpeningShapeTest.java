package org.bankfire.analysis.heat;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Map;
import org.bankfire.analysis.Fixtures;
import org.bankfire.analysis.forge.ForgeDescription;
import org.junit.jupiter.api.Test;

class OpeningShapeTest {
    /** Cylinders, S from a / S = 1 / (2 + 2 L / r) and S0 from a / S0 = 1 / (1 + (L / r)²); printed to four digits. */
    @Test
    void gouffesFormulaGivesItsTable() {
        for (Map<String, String> row : Fixtures.rows("heat-conduction/gouffe.csv")) {
            double ratio = Fixtures.number(row, "length_over_radius");
            double surface = 2 + 2 * ratio;
            double sphere = 1 + ratio * ratio;
            assertThat(OpeningShape.gouffe(Fixtures.number(row, "emissivity"), 1, surface, sphere))
                    .as(row.toString())
                    .isCloseTo(Fixtures.number(row, "effective"), within(6e-5));
        }
    }

    /**
     * In a sphere both formulas are exact, so they are one: Gouffé counts the cap that the hole cuts off, a share s of the
     * sphere, and the enclosure the disc of the hole, which is smaller by 1 − s.
     */
    @Test
    void theCavityFormulaIsGouffesForASphere() {
        for (double emissivity : new double[] {0.3, 0.5, 0.8, 1}) {
            for (double share : new double[] {0.01, 0.1, 0.4}) {
                assertThat(OpeningShape.cavityEmissivity(emissivity, share * (1 - share), 1 - share))
                        .isCloseTo(OpeningShape.gouffe(emissivity, share, 1, 1), within(1e-12));
            }
        }
    }

    @Test
    void aSmallHoleIsBlackAndAWallWithoutACavityIsAsGreyAsItself() {
        assertThat(OpeningShape.cavityEmissivity(0.5, 1e-6, 1)).isCloseTo(1, within(1e-5));
        assertThat(OpeningShape.cavityEmissivity(1, 0.3, 1)).isEqualTo(1);
        // A flat plate: the opening is as large as the wall behind it.
        assertThat(OpeningShape.cavityEmissivity(0.5, 1, 1)).isCloseTo(0.5, within(1e-12));
    }

    @Test
    void anEmissivityThatCannotBeIsRefused() {
        assertThatThrownBy(() -> OpeningShape.cavityEmissivity(1.1, 0.1, 1))
                .hasMessage("emissivity of the wall is 1.1: allowed are 0.01 to 1.0");
        assertThatThrownBy(() -> OpeningShape.gouffe(Double.NaN, 0.1, 1, 1)).hasMessageContaining("is NaN: allowed");
    }

    /** Howell, catalogue C-11, and Incropera, figure 13.4: 0.1998 for squares a side apart. */
    @Test
    void squaresASideApartSeeAFifthOfEachOther() {
        assertThat(OpeningShape.viewFactor(1, 1, 1)).isCloseTo(0.1998, within(5e-5));
        assertThat(OpeningShape.viewFactor(0.3, 0.3, 0.3)).isCloseTo(0.1998, within(5e-5));
    }

    @Test
    void nearOnesSeeEachOtherWhollyAndFarOnesByTheInverseSquare() {
        assertThat(OpeningShape.viewFactor(1, 1, 1e-3)).isCloseTo(1, within(3e-3));
        assertThat(OpeningShape.viewFactor(0.1, 0.2, 10)).isCloseTo(0.02 / (Math.PI * 100), withinPercentage(0.1));
        assertThat(OpeningShape.viewFactor(0.1, 0.3, 0.2))
                .isCloseTo(OpeningShape.viewFactor(0.3, 0.1, 0.2), within(1e-12));
        assertThat(OpeningShape.tunnelFactor(1, 1, 1)).isCloseTo((1 + 0.1998) / 2, within(5e-5));
    }

    /** K. Kawagoe (1958), in Drysdale, section 10.1 (from memory): 0.5 A √H kg/s for a room on fire, 1,100 to 1,500 K. */
    @Test
    void theDraughtOfAFireHotChamberIsKawagoes() {
        for (double insideK : new double[] {1100, 1300, 1500}) {
            assertThat(OpeningShape.draughtKgPerS(2, 0.25, insideK, 293))
                    .as("%s K", insideK)
                    .isCloseTo(0.5 * 2 * Math.sqrt(0.25), withinPercentage(10));
        }
        assertThat(OpeningShape.draughtKgPerS(1, 1, 293, 293)).isZero();
        assertThat(OpeningShape.draughtKgPerS(1, 1, 280, 293)).isZero();
        assertThat(OpeningShape.draughtKgPerS(1, 1, 294, 293)).isPositive();
    }

    @Test
    void aPlugClosesItsOpeningAndNoOther() {
        ForgeDescription forge = Forges.bench();
        assertThat(OpeningShape.openM2(forge, true)).isCloseTo(0.0099, within(1e-12));
        assertThat(OpeningShape.openM2(forge, false)).isCloseTo(0.0099 + 0.0036, within(1e-12));
        double front = 0.0099 * OpeningShape.tunnelFactor(0.09, 0.11, 0.076);
        double cavity = OpeningShape.cavityEmissivity(0.8, 0.0099, 0.2296 - 0.0099);
        assertThat(OpeningShape.effectiveM2(forge, true)).isCloseTo(front * cavity, withinPercentage(1e-9));
        assertThat(OpeningShape.draughtShape(forge, true)).isCloseTo(0.0099 * Math.sqrt(0.11), within(1e-12));
    }
}
