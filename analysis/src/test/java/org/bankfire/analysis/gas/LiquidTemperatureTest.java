package org.bankfire.analysis.gas;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class LiquidTemperatureTest {
    private static final Cylinder ELEVEN = Cylinder.ofCapacity(Fuel.PROPANE, 11);
    private static final double ROOM_K = 288.15;

    @Test
    void underASteadyDrawItGoesToTheSteadyTemperatureOfTheCylinderAndBackToTheRoom() {
        LiquidTemperature liquid = new LiquidTemperature(ELEVEN);
        for (int s = 0; s < 20 * 3_600; s += 5) {
            liquid.advance(s * 1_000_000L, 2e-4, 6, ROOM_K);
        }
        assertThat(liquid.kelvin()).isCloseTo(ELEVEN.liquidK(6, 2e-4, ROOM_K), within(0.1));
        assertThat(liquid.kelvin()).isLessThan(ROOM_K - 10);
        liquid.advance(60 * 3_600_000_000L, 0, 6, ROOM_K);
        assertThat(liquid.kelvin()).isCloseTo(ROOM_K, within(0.1));
    }

    @Test
    void itCoolsAtFirstByTheLatentHeatOverTheHeatThatItHolds() {
        LiquidTemperature liquid = new LiquidTemperature(ELEVEN);
        liquid.advance(0, 2e-4, 6, ROOM_K);
        liquid.advance(60_000_000, 2e-4, 6, ROOM_K);
        // 0.2 g/s × 350 kJ/kg (fixtures/gas/latent_heat.csv, 288 K) × 60 s over 6 kg × 2.5 kJ/(kg K) + 9.35 kg of
        // steel.
        double expectedK = 2e-4 * 352e3 * 60 / (6 * 2_500 + 9.35 * 480);
        assertThat(ROOM_K - liquid.kelvin()).isCloseTo(expectedK, within(0.03 * expectedK));
    }

    @Test
    void aCylinderThatNobodyWeighedIsKnownLessWell() {
        LiquidTemperature weighed = new LiquidTemperature(ELEVEN);
        LiquidTemperature unweighed = new LiquidTemperature(ELEVEN);
        assertThat(weighed.kelvin()).isNaN();
        for (int s = 0; s < 3_600; s += 5) {
            weighed.advance(s * 1_000_000L, 3e-4, 5.5, ROOM_K);
            unweighed.advance(s * 1_000_000L, 3e-4, Double.NaN, ROOM_K);
        }
        assertThat(unweighed.kelvin()).isEqualTo(weighed.kelvin());
        assertThat(unweighed.standardUncertaintyK()).isGreaterThan(1.5 * weighed.standardUncertaintyK());
    }
}
