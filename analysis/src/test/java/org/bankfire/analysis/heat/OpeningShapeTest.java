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
    }

    /**
     * P. Clausing (1932), table of transmission through round tubes by length over radius (from memory): 0.6720, 0.5142,
     * 0.3566. A square lets a little more through than the tube of equal area over circumference.
     */
    @Test
    void whatGetsThroughAHoleIsClausings() {
        // A square of side 2 r has the area over circumference of a circle of radius r.
        assertThat(OpeningShape.tunnelFactor(2, 2, 1)).isCloseTo(0.6720, withinPercentage(1));
        assertThat(OpeningShape.tunnelFactor(2, 2, 2)).isCloseTo(0.5142, withinPercentage(1));
        assertThat(OpeningShape.tunnelFactor(2, 2, 4)).isCloseTo(0.3566, withinPercentage(1));
        assertThat(OpeningShape.tunnelFactor(2, 2, 0)).isEqualTo(1);
    }

    /** Whatever the burner blows: what leaves above the neutral plane is what comes in below it and what is blown. */
    @Test
    void theBurnerKeepsTheAirOutMoreAndMore() {
        double free = OpeningShape.draughtKgPerS(0.003, 1273, 293, 0);
        double before = free;
        for (double blown = 0.1 * free; blown < 3 * free; blown += 0.1 * free) {
            double now = OpeningShape.draughtKgPerS(0.003, 1273, 293, blown);
            assertThat(now).isLessThanOrEqualTo(before);
            if (now > 0) {
                double neutral = Math.pow(
                        now / (2.0 / 3 * 0.7 * 1.2 * 0.003 * Math.sqrt(2 * 9.80665 * (1 - 293.0 / 1273))), 2.0 / 3);
                double out = now * Math.pow((1 - neutral) / neutral, 1.5) / Math.sqrt(1273.0 / 293);
                assertThat(out).isCloseTo(now + blown, withinPercentage(0.1));
            }
            before = now;
        }
        assertThat(before).isZero();
    }

    /** K. Kawagoe (1958), in Drysdale, section 10.1 (from memory): 0.5 A √H kg/s for a room on fire, 1,100 to 1,500 K. */
    @Test
    void theDraughtOfAFireHotChamberIsKawagoes() {
        for (double insideK : new double[] {1100, 1300, 1500}) {
            assertThat(OpeningShape.draughtKgPerS(2 * Math.sqrt(0.25), insideK, 293, 0))
                    .as("%s K", insideK)
                    .isCloseTo(0.5 * 2 * Math.sqrt(0.25), withinPercentage(10));
        }
        assertThat(OpeningShape.draughtKgPerS(1, 293, 293, 0)).isZero();
        assertThat(OpeningShape.draughtKgPerS(1, 280, 293, 0)).isZero();
        assertThat(OpeningShape.draughtKgPerS(1, 294, 293, 0)).isPositive();
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
