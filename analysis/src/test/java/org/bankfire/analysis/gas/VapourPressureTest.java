package org.bankfire.analysis.gas;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;
import static org.bankfire.analysis.Fixtures.number;
import static org.bankfire.analysis.Fixtures.text;

import java.util.Locale;
import java.util.Map;
import java.util.Random;
import org.bankfire.analysis.Fixtures;
import org.junit.jupiter.api.Test;

class VapourPressureTest {
    private static final double ZERO_CELSIUS_K = 273.15;
    private static final Fuel SUMMER_MIX =
            Fuel.mixture(Map.of(Hydrocarbon.PROPANE, 0.6, Hydrocarbon.BUTANE, 0.3, Hydrocarbon.ISOBUTANE, 0.1));

    /** Saturation pressures of the reference equations of state, −45 to 50 °C; sources in the files. */
    @Test
    void eachGasKeepsThePressureOfItsEquationOfState() {
        Map<Hydrocarbon, String> files = Map.of(
                Hydrocarbon.PROPANE, "n-Propane",
                Hydrocarbon.BUTANE, "n-Butane",
                Hydrocarbon.ISOBUTANE, "IsoButane",
                Hydrocarbon.PROPYLENE, "Propylene",
                Hydrocarbon.ETHANE, "Ethane");
        files.forEach((gas, file) -> {
            for (Map<String, String> row : Fixtures.rows("gas/psat_" + file + ".csv")) {
                assertThat(VapourPressure.pressurePa(gas, number(row, "T_C") + ZERO_CELSIUS_K))
                        .as("%s at %s °C", gas, text(row, "T_C"))
                        .isCloseTo(number(row, "p_EOS_bar") * 1e5, withinPercentage(0.5));
            }
        });
    }

    /** Normal boiling points, CRC Handbook of Chemistry and Physics (from memory), °C. */
    @Test
    void eachGasBoilsAtItsBoilingPoint() {
        assertBoilsAt(Fuel.PROPANE, -42.1);
        assertBoilsAt(Fuel.BUTANE, -0.5);
        assertBoilsAt(Fuel.ISOBUTANE, -11.73);
        assertBoilsAt(Fuel.PROPYLENE, -47.69);
    }

    /** Clapeyron's equation on the saturation lines of the equations of state; source in the file. */
    @Test
    void boilingTakesTheLatentHeatOfTheEquationOfState() {
        for (Map<String, String> row : Fixtures.rows("gas/latent_heat.csv")) {
            Fuel fuel = Fuel.mixture(Map.of(Hydrocarbon.valueOf(text(row, "gas").toUpperCase(Locale.ROOT)), 1.0));
            assertThat(VapourPressure.latentHeatJPerKg(fuel, number(row, "T_C") + ZERO_CELSIUS_K))
                    .as("%s at %s °C", text(row, "gas"), text(row, "T_C"))
                    .isCloseTo(number(row, "kJ_per_kg") * 1e3, withinPercentage(3));
        }
    }

    @Test
    void theInverseFindsTheTemperatureAgain() {
        Random random = new Random(20260310);
        for (int i = 0; i < 500; i++) {
            double kelvin = 201 + 138 * random.nextDouble();
            for (Fuel fuel : new Fuel[] {Fuel.PROPANE, Fuel.BUTANE, SUMMER_MIX}) {
                assertThat(VapourPressure.temperatureK(fuel, VapourPressure.pressurePa(fuel, kelvin)))
                        .as("%s at %s K", fuel.name(), kelvin)
                        .isCloseTo(kelvin, within(1e-6));
            }
        }
    }

    /** Raoult by hand with the file's pressures at 20 °C: 0.6 · 8.36369 + 0.3 · 2.07677 + 0.1 · 3.02179 bar. */
    @Test
    void aMixtureFollowsRaoult() {
        assertThat(VapourPressure.pressurePa(SUMMER_MIX, 293.15)).isCloseTo(5.94342e5, withinPercentage(0.5));
    }

    @Test
    void thePressureRisesWithoutAStepEvenAboveTheCriticalPointOfEthane() {
        double last = VapourPressure.pressurePa(Hydrocarbon.ETHANE, 200);
        for (double kelvin = 200.1; kelvin <= 340; kelvin += 0.1) {
            double pressurePa = VapourPressure.pressurePa(Hydrocarbon.ETHANE, kelvin);
            assertThat(pressurePa / last).as("at %s K", kelvin).isBetween(1.0001, 1.006);
            last = pressurePa;
        }
    }

    @Test
    void whatCannotBeIsNotANumberAndMethaneIsRefusedByName() {
        assertThat(VapourPressure.pressurePa(Fuel.PROPANE, 199)).isNaN();
        assertThat(VapourPressure.pressurePa(Fuel.PROPANE, 341)).isNaN();
        assertThat(VapourPressure.pressurePa(Fuel.PROPANE, Double.NaN)).isNaN();
        assertThat(VapourPressure.latentHeatJPerKg(Fuel.PROPANE, Double.NaN)).isNaN();
        assertThat(VapourPressure.temperatureK(Fuel.PROPANE, 100)).isNaN();
        assertThat(VapourPressure.temperatureK(Fuel.PROPANE, 1e9)).isNaN();
        assertThat(VapourPressure.temperatureK(Fuel.PROPANE, Double.NaN)).isNaN();
        assertThat(VapourPressure.liquefies(Fuel.METHANE)).isFalse();
        assertThat(VapourPressure.liquefies(SUMMER_MIX)).isTrue();
        assertThatIllegalArgumentException()
                .isThrownBy(() -> VapourPressure.pressurePa(Fuel.METHANE, 293.15))
                .withMessageContaining("methane is no liquid");
    }

    private static void assertBoilsAt(Fuel fuel, double celsius) {
        assertThat(VapourPressure.temperatureK(fuel, Atmosphere.SEA_LEVEL_PA) - ZERO_CELSIUS_K)
                .as("boiling point of %s", fuel.name())
                .isCloseTo(celsius, within(0.15));
    }
}
