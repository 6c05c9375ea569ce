package org.bankfire.analysis.heat;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Map;
import org.bankfire.analysis.Fixtures;
import org.bankfire.analysis.quantity.Constants;
import org.junit.jupiter.api.Test;

class SteelTest {
    private static final double ZERO_K = Constants.ZERO_CELSIUS_K;

    /** Half of the last digit that is printed; 5000 stands at the peak itself. */
    @Test
    void propertiesAreThoseOfTheEurocode() {
        for (Map<String, String> row : Fixtures.rows("steel/en1993_1_2.csv")) {
            double kelvin = Fixtures.number(row, "T_C") + ZERO_K;
            assertThat(Steel.heatCapacityJPerKgK(kelvin))
                    .as(row.toString())
                    .isCloseTo(Fixtures.number(row, "heat_capacity_J_kgK"), within(0.51));
            assertThat(Steel.conductivityWPerMK(kelvin))
                    .as(row.toString())
                    .isCloseTo(Fixtures.number(row, "conductivity_W_mK"), within(0.051));
        }
    }

    /** The formulas of EN 1993-1-2, 3.4.1.2, integrated by hand, J/kg. */
    @Test
    void heatIsTheIntegralOfTheSpecificHeat() {
        double to600 = 425 * 580
                + 0.773 / 2 * (600 * 600 - 20 * 20)
                - 1.69e-3 / 3 * (Math.pow(600, 3) - Math.pow(20, 3))
                + 2.22e-6 / 4 * (Math.pow(600, 4) - Math.pow(20, 4));
        double to735 = 666 * 135 + 13_002 * Math.log(138.0 / 3);
        double to900 = 545 * 165 + 17_820 * Math.log(169.0 / 4);
        assertThat(heat(600) - heat(20)).isCloseTo(to600, withinPercentage(1e-3));
        assertThat(heat(735) - heat(600)).isCloseTo(to735, withinPercentage(0.1));
        assertThat(heat(900) - heat(735)).isCloseTo(to900, withinPercentage(0.1));
        assertThat(heat(1200) - heat(900)).isCloseTo(195_000, withinPercentage(0.1));
        assertThat(heat(1500) - heat(1200)).isCloseTo(195_000, withinPercentage(0.1));
    }

    private static double heat(double celsius) {
        return Steel.heatJPerKg(celsius + ZERO_K);
    }

    @Test
    void heatAndTemperatureAreEachOthersInverseAndRise() {
        double before = Double.NEGATIVE_INFINITY;
        for (double kelvin = 1; kelvin < 2500; kelvin += 0.37) {
            double heat = Steel.heatJPerKg(kelvin);
            assertThat(heat).as("%s K", kelvin).isGreaterThan(before);
            assertThat(Steel.temperatureK(heat)).as("%s K", kelvin).isCloseTo(kelvin, within(1e-8));
            before = heat;
        }
    }

    /** In every interval of the table: what the stepper takes as capacity is the slope of what it takes as temperature. */
    @Test
    void theApparentHeatCapacityIsTheSlope() {
        for (double heat = 500; heat < 1_100_000; heat += 1000) {
            double slope = 200 / (Steel.temperatureK(heat + 100) - Steel.temperatureK(heat - 100));
            assertThat(Steel.apparentHeatCapacityJPerKgK(heat))
                    .as("%s J/kg", heat)
                    .isCloseTo(slope, withinPercentage(1e-4));
        }
    }

    @Test
    void whatIsNoTemperatureHasNoProperties() {
        assertThat(Steel.temperatureK(Double.NaN)).isNaN();
        assertThat(Steel.heatCapacityJPerKgK(Double.NaN)).isNaN();
        assertThat(Steel.conductivityWPerMK(Double.NaN)).isNaN();
    }

    /** By hand: 0.8 σ (1473² + 900²) (1473 + 900) is 320.8 W/(m² K), times 4 mm, over 33.12 W/(m K). */
    @Test
    void theBiotNumberOfABarIsThatOfItsRadiation() {
        Bar bar = new Bar(0.016, 0.15);
        assertThat(bar.biot(1473, 900)).isCloseTo(320.8 * 0.004 / 33.12, withinPercentage(0.1));
        assertThat(bar.massKg()).isCloseTo(7850 * Math.PI / 4 * 0.016 * 0.016 * 0.15, within(1e-12));
        assertThat(bar.surfaceM2()).isCloseTo(Math.PI * 0.016 * 0.15, within(1e-12));
    }

    @Test
    void aBarThatCannotBeIsRefused() {
        assertThatThrownBy(() -> new Bar(0, 0.1))
                .hasMessage("diameter of the bar in m is 0.0: allowed are 0.002 to 0.2");
        assertThatThrownBy(() -> new Bar(0.02, Double.NaN))
                .hasMessage("length of the bar in m is NaN: allowed are 0.005 to 3.0");
    }
}
