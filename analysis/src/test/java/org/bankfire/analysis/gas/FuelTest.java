package org.bankfire.analysis.gas;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.withinPercentage;

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

    @Test
    void aFuelIsFoundByItsName() {
        assertThat(Fuel.ofName("propane")).contains(Fuel.PROPANE);
        assertThat(Fuel.ofName("petrol")).isEmpty();
        assertThat(Fuel.known()).extracting(Fuel::name).containsExactly("propane", "butane", "methane");
    }

    @Test
    void anImpossibleGasIsRefusedByName() {
        assertThatThrownBy(() -> new Fuel("soot", 0.044, 1.0, 46e6))
                .hasMessage("fuel soot: heat capacity ratio 1.0; allowed are above 1 to 5/3, that of a monatomic gas");
        assertThatThrownBy(() -> new Fuel("soot", 44, 1.13, 46e6)).hasMessageContaining("molar mass 44.0 kg/mol");
        assertThatThrownBy(() -> new Fuel("soot", 0.044, 1.13, 46)).hasMessageContaining("heating value 46.0 J/kg");
        assertThatThrownBy(() -> Atmosphere.pressurePa(12_000)).hasMessageContaining("altitude 12000.0 m");
    }
}
