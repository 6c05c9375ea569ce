package org.bankfire.analysis.gas;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Map;
import org.junit.jupiter.api.Test;

class FuelTest {
    /** Turns, <i>An Introduction to Combustion</i>, appendix B (from memory): kJ/kg. */
    @Test
    void heatingValuesAgreeWithTheTextbook() {
        assertThat(Fuel.METHANE.lowerHeatingValueJPerKg()).isCloseTo(50_016e3, withinPercentage(0.1));
        assertThat(Fuel.PROPANE.lowerHeatingValueJPerKg()).isCloseTo(46_357e3, withinPercentage(0.1));
        assertThat(Fuel.BUTANE.lowerHeatingValueJPerKg()).isCloseTo(45_742e3, withinPercentage(0.1));
    }

    /** IUPAC atomic weights, rounded: C 12.011, H 1.008. */
    @Test
    void molarMassesAreThoseOfTheFormulas() {
        assertThat(Fuel.METHANE.molarMassKgPerMol()).isCloseTo(0.012011 + 4 * 0.001008, withinPercentage(0.01));
        assertThat(Fuel.PROPANE.molarMassKgPerMol()).isCloseTo(3 * 0.012011 + 8 * 0.001008, withinPercentage(0.01));
        assertThat(Fuel.BUTANE.molarMassKgPerMol()).isCloseTo(4 * 0.012011 + 10 * 0.001008, withinPercentage(0.01));
    }

    /** ISO 6976:1995 table 3 (from memory): molar higher heating values at 25 °C, J/mol. */
    @Test
    void molarHigherHeatingValuesAgreeWithTheStandard() {
        assertThat(molarHigher(Fuel.METHANE)).isCloseTo(890.63e3, withinPercentage(0.05));
        assertThat(molarHigher(Fuel.PROPANE)).isCloseTo(2219.17e3, withinPercentage(0.05));
        assertThat(molarHigher(Fuel.BUTANE)).isCloseTo(2877.40e3, withinPercentage(0.05));
        assertThat(molarHigher(Fuel.ISOBUTANE)).isCloseTo(2868.20e3, withinPercentage(0.05));
        assertThat(molarHigher(Fuel.PROPYLENE)).isCloseTo(2058.02e3, withinPercentage(0.1));
    }

    /** Turns, appendix B (from memory): stoichiometric air by mass, 17.12 for methane and 15.57 for propane. */
    @Test
    void theAirThatBurnsAFuelAgreesWithTheTextbook() {
        assertThat(Fuel.METHANE.stoichiometricAirKgPerKg()).isCloseTo(17.12, withinPercentage(0.5));
        assertThat(Fuel.PROPANE.stoichiometricAirKgPerKg()).isCloseTo(15.57, withinPercentage(0.8));
        assertThat(Fuel.PROPANE.stoichiometricAirVolumes()).isCloseTo(23.8, withinPercentage(1e-6));
        assertThat(Fuel.PROPANE.relativeDensity()).isCloseTo(1.52, withinPercentage(0.7));
    }

    @Test
    void aMixtureBurnsAsItsPartsDo() {
        Fuel mixture = Fuel.of("half and half", Map.of(Hydrocarbon.PROPANE, 0.5, Hydrocarbon.BUTANE, 0.5));
        double mass = Fuel.PROPANE.molarMassKgPerMol() + Fuel.BUTANE.molarMassKgPerMol();
        double heat = Fuel.PROPANE.lowerHeatingValueJPerKg() * Fuel.PROPANE.molarMassKgPerMol()
                + Fuel.BUTANE.lowerHeatingValueJPerKg() * Fuel.BUTANE.molarMassKgPerMol();
        assertThat(mixture.molarMassKgPerMol()).isCloseTo(mass / 2, withinPercentage(1e-9));
        assertThat(mixture.lowerHeatingValueJPerKg()).isCloseTo(heat / mass, withinPercentage(1e-9));
        // Le Chatelier by hand: 1 / (0.5/0.021 + 0.5/0.019).
        assertThat(mixture.lowerFlammableFraction()).isCloseTo(0.01995, withinPercentage(0.01));
        assertThat(mixture.upperFlammableFraction()).isBetween(0.085, 0.095);
    }

    @Test
    void aMixtureWithoutANameIsNamedAfterItsParts() {
        assertThat(Fuel.mixture(Map.of(Hydrocarbon.BUTANE, 0.4, Hydrocarbon.PROPANE, 0.6))
                        .name())
                .isEqualTo("propane 60 %, butane 40 %");
        assertThat(Fuel.mixture(Map.of(Hydrocarbon.PROPANE, 1.0, Hydrocarbon.BUTANE, 0.0)))
                .isSameAs(Fuel.PROPANE);
    }

    /** 0.1 + 0.2 + 0.7 is not 1 in doubles; 0.3331 + 0.3331 + 0.3331 is not 1 at all. */
    @Test
    void aMixtureMadeOfTheFractionsOfAnotherIsThatOther() {
        for (double[] parts : new double[][] {{0.1, 0.2, 0.7}, {0.3331, 0.3331, 0.3331}, {0.0004, 0.4, 0.6}}) {
            Fuel mixture = Fuel.mixture(Map.of(
                    Hydrocarbon.PROPANE, parts[0], Hydrocarbon.BUTANE, parts[1], Hydrocarbon.PROPYLENE, parts[2]));
            assertThat(Fuel.mixture(mixture.fractions())).isEqualTo(mixture);
        }
    }

    @Test
    void aFuelIsFoundByItsName() {
        assertThat(Fuel.ofName("propane")).contains(Fuel.PROPANE);
        assertThat(Fuel.ofName("petrol")).isEmpty();
        assertThat(Fuel.known())
                .extracting(Fuel::name)
                .containsExactly("propane", "butane", "isobutane", "propylene", "methane");
    }

    @Test
    void anImpossibleGasIsRefusedByName() {
        assertThatThrownBy(() -> new JetGas(0.044, 1.0))
                .hasMessage("heat capacity ratio 1.0; allowed are above 1 to 5/3, that of a monatomic gas");
        assertThatThrownBy(() -> new JetGas(44, 1.13)).hasMessageContaining("molar mass 44.0 kg/mol");
        assertThatThrownBy(() -> Fuel.of("soup", Map.of(Hydrocarbon.PROPANE, -0.1, Hydrocarbon.BUTANE, 1.0)))
                .hasMessage("fuel soup: volume fraction of propane is -0.1: allowed are 0 to 1");
        assertThatThrownBy(() -> Fuel.of("soup", Map.of(Hydrocarbon.PROPANE, 0.5, Hydrocarbon.BUTANE, 0.25)))
                .hasMessageContaining("add up to 0.75");
        assertThatThrownBy(() -> Fuel.of("soup", Map.of(Hydrocarbon.PROPANE, Double.NaN)))
                .hasMessageContaining("NaN");
        assertThatThrownBy(() -> Atmosphere.pressurePa(12_000)).hasMessageContaining("altitude 12000.0 m");
    }

    private static double molarHigher(Fuel fuel) {
        return fuel.higherHeatingValueJPerKg() * fuel.molarMassKgPerMol();
    }
}
