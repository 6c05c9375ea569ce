package org.bankfire.analysis.combustion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import org.bankfire.analysis.Fixtures;
import org.bankfire.analysis.gas.Fuel;
import org.junit.jupiter.api.Test;

class AvailableHeatTest {
    /** Computed apart from this program, not published: see the first line of the table. */
    @Test
    void availableHeatOfPropaneAgreesWithTheTable() {
        for (Map<String, String> row : Fixtures.rows("combustion/available_heat_propane_computed.csv")) {
            AvailableHeat heat = AvailableHeat.of(
                    Fuel.PROPANE,
                    1 + Fixtures.number(row, "excess_air_pct") / 100,
                    Fixtures.number(row, "T_flue_C") + 273.15);
            assertThat(heat.percentOfLower())
                    .as(row.toString())
                    .isCloseTo(Fixtures.number(row, "available_pct_LHV"), within(0.05));
            assertThat(heat.percentOfHigher())
                    .as(row.toString())
                    .isCloseTo(Fixtures.number(row, "available_pct_HHV"), within(0.05));
        }
    }

    @Test
    void nothingIsAvailableAtTheFlameTemperature() {
        for (double mixture : new double[] {0.6, 1, 2}) {
            double flameK = FlameTemperature.completeK(Fuel.BUTANE, mixture, FlueGas.REFERENCE_K);
            assertThat(AvailableHeat.of(Fuel.BUTANE, mixture, flameK).joulePerKg())
                    .isCloseTo(0, within(10.0));
        }
    }

    @Test
    void bothTooMuchAndTooLittleAirWasteGas() {
        double just = AvailableHeat.of(Fuel.PROPANE, 1, 1500).joulePerKg();
        assertThat(AvailableHeat.of(Fuel.PROPANE, 1.1, 1500).joulePerKg()).isLessThan(just);
        assertThat(AvailableHeat.of(Fuel.PROPANE, 0.9, 1500).joulePerKg()).isLessThan(just);
    }

    /** The line between 700 and 1400 °C misses the curve by less than a point: why it passes for a wall loss. */
    @Test
    void availableHeatFallsNearlyInAStraightLine() {
        double low = AvailableHeat.of(Fuel.PROPANE, 1, 973.15).percentOfLower();
        double middle = AvailableHeat.of(Fuel.PROPANE, 1, 1323.15).percentOfLower();
        double high = AvailableHeat.of(Fuel.PROPANE, 1, 1673.15).percentOfLower();
        assertThat(middle).isCloseTo((low + high) / 2, within(1.0));
        assertThat(low - high).isGreaterThan(30);
    }

    @Test
    void aMixtureOutOfRangeIsRefused() {
        assertThatThrownBy(() -> AvailableHeat.of(Fuel.PROPANE, 7, 1500))
                .hasMessageContaining("is 7.0: allowed are 0.4");
    }
}
