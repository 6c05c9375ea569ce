package org.bankfire.analysis.combustion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.bankfire.analysis.gas.Fuel;
import org.junit.jupiter.api.Test;

class CarbonMonoxideTest {
    /** Oxygen by hand: at λ = 0.9 one mole of O atoms is missing of ten, so CO and H2 are one mole together. */
    @Test
    void aRichMixtureLeavesPercentsOfIt() {
        CarbonMonoxide gas = CarbonMonoxide.of(Fuel.PROPANE, 0.9, 1400);
        double moles = 3 + 4 + 3.76 * 4.5;
        double hydrogen = FlueGas.of(Fuel.PROPANE, 0.9).hydrogenFraction(1400);
        assertThat(gas.wetPpm()).isCloseTo(1e6 * (1 / moles - hydrogen), withinPercentage(1e-6));
        assertThat(gas.wetPpm()).isGreaterThan(20_000);
        double water = 4 / moles - hydrogen;
        assertThat(gas.dryPpm()).isCloseTo(gas.wetPpm() / (1 - water), withinPercentage(1e-6));
    }

    /** The rich side of the table from other data, equilibrium at the flame temperature: see its first line. */
    @Test
    void aVeryHotLeanChamberHoldsSomeToo() {
        assertThat(CarbonMonoxide.of(Fuel.PROPANE, 1.1, 2189.2).wetPpm()).isCloseTo(4241, withinPercentage(2));
        assertThat(CarbonMonoxide.of(Fuel.PROPANE, 1.1, 1400).wetPpm()).isLessThan(10);
    }

    @Test
    void moreAirLeavesLess() {
        double before = Double.POSITIVE_INFINITY;
        for (double mixture = 0.5; mixture < 2; mixture += 0.05) {
            double ppm = CarbonMonoxide.of(Fuel.PROPANE, mixture, 1500).wetPpm();
            assertThat(ppm).as("mixture %s", mixture).isLessThan(before);
            before = ppm;
        }
    }

    @Test
    void badArgumentsAreRefusedByName() {
        assertThatThrownBy(() -> CarbonMonoxide.of(Fuel.PROPANE, 1, 20))
                .hasMessage("temperature of the chamber, K, is 20.0: allowed are 500.0 to 3000.0");
        assertThatThrownBy(() -> CarbonMonoxide.of(Fuel.PROPANE, 0, 1000)).hasMessageContaining("mixture of propane");
    }
}
