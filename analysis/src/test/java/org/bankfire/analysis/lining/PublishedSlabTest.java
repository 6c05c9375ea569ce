package org.bankfire.analysis.lining;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import org.bankfire.analysis.Fixtures;
import org.bankfire.analysis.lining.Slab.Face;
import org.bankfire.analysis.quantity.Constants;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Transients with published figures, on the grid and with the stepper that the forge has. */
class PublishedSlabTest {
    private static final double ZERO_K = Constants.ZERO_CELSIUS_K;
    /** The cells of the forge's own wall are 0.8 mm at the face and grow by this. */
    private static final double GROWTH = 1.22;

    /**
     * NIST, FDS Verification Guide, heat_conduction a (h = 100) and b (h = 10): Carslaw and Jaeger, section 3.10. Printed
     * to 0.01 K, so half a digit, and as much again and a little for the cells of 0.25 mm and steps of 0.1 s.
     */
    @ParameterizedTest
    @CsvSource({"fds_heat_conduction_a, 100", "fds_heat_conduction_b, 10"})
    void aColdSlabHeatedOnOneFaceFollowsTheSeriesOfFds(String name, double coefficient) {
        Slab slab = Slab.flat(List.of(Slab.layer(0.1, 100, 1000, 0.1)), 0.25e-3, 1, 20 + ZERO_K)
                .faces(Face.convection(coefficient, 120 + ZERO_K), Face.INSULATED);
        double timeS = 0;
        for (Map<String, String> row : Fixtures.rows("heat-conduction/" + name + ".csv")) {
            double atS = Fixtures.number(row, "t_s");
            slab.run(atS - timeS, 0.1);
            timeS = atS;
            for (String x : new String[] {"0.00", "0.02", "0.04", "0.06", "0.08", "0.10"}) {
                // The fixture counts from the insulated back.
                assertThat(slab.atK(0.1 - Double.parseDouble(x)) - ZERO_K)
                        .as("%s s, %s m", atS, x)
                        .isCloseTo(Fixtures.number(row, "T_x" + x), within(0.02));
            }
        }
    }

    /** The same on the forge's own grid: 1 % of the step of 100 K, which is far less than materials vary. */
    @Test
    void theForgesOwnGridIsWithinAPercent() {
        Slab slab = Slab.flat(List.of(Slab.layer(0.1, 100, 1000, 0.1)), 0.8e-3, GROWTH, 20 + ZERO_K)
                .faces(Face.convection(10, 120 + ZERO_K), Face.INSULATED);
        double timeS = 0;
        for (Map<String, String> row : Fixtures.rows("heat-conduction/fds_heat_conduction_b.csv")) {
            double atS = Fixtures.number(row, "t_s");
            slab.run(atS - timeS, 1);
            timeS = atS;
            assertThat(slab.frontK() - ZERO_K).isCloseTo(Fixtures.number(row, "T_x0.10"), within(1.0));
            assertThat(slab.backK() - ZERO_K).isCloseTo(Fixtures.number(row, "T_x0.00"), within(1.0));
        }
    }

    /**
     * DIN EN 1991-1-2/NA, annex CC, example 1 (name from memory): 1 m, 1 W/(m K), 1000 J/(m³ K), h = 1 W/(m² K). The
     * lightest material allowed holds 2000 J/(m³ K): all three are doubled, which leaves the temperatures as they are.
     * Printed to 0.1 K.
     */
    @Test
    void aHotSlabCoolingOnOneFaceFollowsTheGermanAnnex() {
        Slab slab = Slab.flat(List.of(Slab.layer(1, 20, 100, 2)), 5e-3, 1, 1000 + ZERO_K)
                .faces(Face.convection(2, ZERO_K), Face.INSULATED);
        double timeS = 0;
        for (Map<String, String> row : Fixtures.rows("heat-conduction/din_en1991_1_2_NA_ex1_convective_cooling.csv")) {
            double atS = Fixtures.number(row, "t_s");
            slab.run(atS - timeS, 1);
            timeS = atS;
            assertThat(slab.backK() - ZERO_K).as("%s s", atS).isCloseTo(Fixtures.number(row, "T_C"), within(0.1));
        }
    }

    /**
     * SFPE, Guide to Thermal Performance of Resistive Assemblies, case 1: 20 mm of steel in the standard fire, one
     * temperature throughout. Here 4 mm with the heat of 20 mm and half the fire on either face, so that it is of one
     * temperature within 0.1 K. Printed to 0.1 K; the plain equation of the lump, solved finely, is another 0.1 K below what is printed.
     */
    @Test
    void thinSteelInTheStandardFireFollowsTheGuide() {
        double perM2 = 0.02 * 7850 * 520;
        Slab slab = Slab.flat(List.of(Slab.layer(0.004, perM2 / 0.004 / 4500, 4500, 50)), 1e-3, 1, 20 + ZERO_K);
        double timeS = 0;
        for (Map<String, String> row : Fixtures.rows("heat-conduction/sfpe_case1_lumped_conv_rad_iso834.csv")) {
            for (double atS = Fixtures.number(row, "t_s"); timeS < atS; timeS++) {
                double gasK = 20 + 345 * Math.log10(8 * (timeS + 0.5) / 60 + 1) + ZERO_K;
                Face half = new Face(12.5, gasK, 0.35, gasK, 0);
                slab.faces(half, half);
                slab.step(1);
            }
            double mean = slab.storedJ() / perM2 - ZERO_K;
            assertThat(mean).as("%s s", timeS).isCloseTo(Fixtures.number(row, "T_C"), within(0.3));
        }
    }
}
