package org.bankfire.analysis.forge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.bankfire.analysis.gas.Fuel;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class BurnerTest {
    @Test
    void nothingClosesTheThroatAndABarHeatsUpUnlessTold() {
        Burner burner = new Burner(Fuel.PROPANE, 0.8e-3, 18e-3, 0.85, 0.05);
        assertThat(burner.freeThroatFraction()).isEqualTo(1);
        assertThat(burner.heatUpPressurePa()).isEqualTo(1e5);
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, 0, 0.049, 1.01})
    void aThroatThatIsShutOrMoreThanOpenIsRefused(double free) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Burner(Fuel.PROPANE, 0.8e-3, 18e-3, 0.85, 0.05, free, 1e5))
                .withMessage("free part of the throat is " + free + ": allowed are 0.05 to 1.0");
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, 0, 999, 4.01e5})
    void aPressureThatHeatsNothingUpIsRefused(double pressurePa) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Burner(Fuel.PROPANE, 0.8e-3, 18e-3, 0.85, 0.05, 1, pressurePa))
                .withMessage(
                        "gauge pressure for heating up in Pa is " + pressurePa + ": allowed are 1000.0 to 400000.0");
    }
}
