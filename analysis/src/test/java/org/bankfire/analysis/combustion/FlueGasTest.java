package org.bankfire.analysis.combustion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Map;
import org.bankfire.analysis.Fixtures;
import org.bankfire.analysis.gas.Fuel;
import org.junit.jupiter.api.Test;

class FlueGasTest {
    /** Computed apart from this program, not published; see the first line of the table. */
    @Test
    void theHeatThatStaysAgreesWithTheTableForPropane() {
        double lower = Fuel.PROPANE.lowerHeatingValueJPerKg();
        for (Map<String, String> row : Fixtures.rows("combustion/available_heat_propane_computed.csv")) {
            FlueGas gas = FlueGas.of(Fuel.PROPANE, 1 + Fixtures.number(row, "excess_air_pct") / 100);
            double left = gas.heatLeftJPerKg(Fixtures.number(row, "T_flue_C") + 273.15);
            assertThat(100 * (lower - left) / lower)
                    .as(row.toString())
                    .isCloseTo(Fixtures.number(row, "available_pct_LHV"), within(0.05));
        }
    }

    @Test
    void coldBurntOutGasTakesNothingAlong() {
        for (Fuel fuel : Fuel.known()) {
            assertThat(FlueGas.of(fuel, 1.2).heatLeftJPerKg(FlueGas.REFERENCE_K))
                    .as(fuel.name())
                    .isCloseTo(0, within(1e-3));
        }
    }

    /** 283.0 and 241.8 kJ/mol, the lower heating values of CO and H2 (NIST-JANAF tables, from memory). */
    @Test
    void coldRichGasTakesTheHeatOfItsCarbonMonoxideAndHydrogenAlong() {
        for (Fuel fuel : Fuel.known()) {
            FlueGas gas = FlueGas.of(fuel, 0.8);
            double molesPerKg = fuel.carbon()
                    / (gas.carbonDioxideFraction() + gas.carbonMonoxideFraction(300))
                    / fuel.molarMassKgPerMol();
            double heat =
                    molesPerKg * (gas.carbonMonoxideFraction(300) * 283.0e3 + gas.hydrogenFraction(300) * 241.8e3);
            assertThat(gas.heatLeftJPerKg(FlueGas.REFERENCE_K)).as(fuel.name()).isCloseTo(heat, withinPercentage(0.02));
        }
    }

    @Test
    void theHeatCapacityIsTheSlopeOfTheHeat() {
        for (double mixture : new double[] {0.4, 0.6, 0.9, 0.999_999, 1, 1.3, 5}) {
            FlueGas gas = FlueGas.of(Fuel.PROPANE, mixture);
            for (double kelvin : new double[] {250, 700, 999, 1001, 1500, 1739, 1741, 2200, 3000}) {
                double slope = (gas.heatLeftJPerKg(kelvin + 0.5) - gas.heatLeftJPerKg(kelvin - 0.5)) / 1;
                assertThat(gas.heatCapacityJPerKgK(kelvin))
                        .as("mixture %s at %s K", mixture, kelvin)
                        .isCloseTo(slope, withinPercentage(1e-3));
            }
        }
    }

    @Test
    void nothingStepsWhereTheMixtureTurnsRichOrTheShiftFreezes() {
        for (Fuel fuel : Fuel.known()) {
            double rich = FlueGas.of(fuel, 1 - 1e-9).heatLeftJPerKg(1500);
            assertThat(rich).isCloseTo(FlueGas.of(fuel, 1).heatLeftJPerKg(1500), within(1.0));
            FlueGas gas = FlueGas.of(fuel, 0.7);
            double step = gas.heatLeftJPerKg(FlueGas.FREEZING_K + 1e-6) - gas.heatLeftJPerKg(FlueGas.FREEZING_K);
            assertThat(step).isCloseTo(0, within(0.1));
        }
    }

    /**
     * Heywood, section 4.9 (from memory): [CO][H2O] / ([CO2][H2]) is 3.5 in exhaust gas. The JANAF equilibrium constant at
     * 2000 K, 10^0.656 = 4.53, is Turns' (appendix, from memory).
     */
    @Test
    void theWaterGasShiftIsWhereTheTextbooksHaveIt() {
        FlueGas gas = FlueGas.of(Fuel.PROPANE, 0.8);
        double frozen = gas.carbonMonoxideFraction(1200)
                * gas.waterFraction()
                / (gas.carbonDioxideFraction() * gas.hydrogenFraction(1200));
        // 1740 K is a rounded temperature: the polynomials have 3.58 there.
        assertThat(frozen).isCloseTo(3.5, withinPercentage(3));
        double moved = gas.carbonMonoxideFraction(2000) - gas.carbonMonoxideFraction(1200);
        double at2000K = gas.carbonMonoxideFraction(2000)
                * (gas.waterFraction() + moved)
                / ((gas.carbonDioxideFraction() - moved) * gas.hydrogenFraction(2000));
        assertThat(at2000K).isCloseTo(4.53, withinPercentage(2));
    }

    @Test
    void atomsAndMassAreKept() {
        for (Fuel fuel : Fuel.known()) {
            for (double mixture : new double[] {0.4, 0.7, 1, 2, 5}) {
                FlueGas gas = FlueGas.of(fuel, mixture);
                double carbon = gas.carbonDioxideFraction() + gas.carbonMonoxideFraction(1000);
                double hydrogen = 2 * (gas.waterFraction() + gas.hydrogenFraction(1000));
                assertThat(hydrogen / carbon)
                        .as(fuel.name() + " at " + mixture)
                        .isCloseTo(fuel.hydrogen() / fuel.carbon(), withinPercentage(1e-9));
                assertThat(gas.carbonMonoxideFraction(2500)).isBetween(0.0, carbon);
                assertThat(gas.hydrogenFraction(2500)).isBetween(0.0, hydrogen);
                assertThat(gas.kgPerKgFuel()).isEqualTo(1 + mixture * fuel.stoichiometricAirKgPerKg());
                assertThat(gas.mixture()).isEqualTo(mixture);
            }
        }
    }

    @Test
    void aMixtureOutOfRangeIsRefused() {
        assertThatThrownBy(() -> FlueGas.of(Fuel.PROPANE, 0.3))
                .hasMessage("mixture of propane, air over the air that it needs, is 0.3: allowed are 0.4 to 5.0");
        assertThatThrownBy(() -> FlueGas.of(Fuel.PROPANE, Double.NaN)).hasMessageContaining("NaN");
    }

    @Test
    void aTemperatureThatNobodyKnowsGivesNoNumber() {
        FlueGas gas = FlueGas.of(Fuel.PROPANE, 0.9);
        assertThat(gas.heatLeftJPerKg(Double.NaN)).isNaN();
        assertThat(gas.heatLeftJPerKg(199)).isNaN();
        assertThat(gas.heatCapacityJPerKgK(6001)).isNaN();
        assertThat(DryAir.heatOfAirJPerKg(-5)).isNaN();
    }

    /** Air tables (Incropera, table A.4, from memory): cp 1007 J/(kg K) near 300 K and 1141 at 1000 K; ours holds no argon. */
    @Test
    void airTakesUpHeatAsTheTablesSay() {
        assertThat(DryAir.heatOfAirJPerKg(FlueGas.REFERENCE_K)).isCloseTo(0, within(1e-9));
        assertThat((DryAir.heatOfAirJPerKg(305) - DryAir.heatOfAirJPerKg(295)) / 10)
                .isCloseTo(1007, withinPercentage(0.5));
        assertThat((DryAir.heatOfAirJPerKg(1005) - DryAir.heatOfAirJPerKg(995)) / 10)
                .isCloseTo(1141, withinPercentage(1));
    }
}
