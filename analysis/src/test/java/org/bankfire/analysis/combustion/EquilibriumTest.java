package org.bankfire.analysis.combustion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.Arrays;
import java.util.function.ToIntFunction;
import org.bankfire.analysis.gas.Fuel;
import org.junit.jupiter.api.Test;

class EquilibriumTest {
    private static final double[] MIXTURES = {
        0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.99, 0.9999, 1, 1.0001, 1.01, 1.1, 1.3, 1.6, 2, 3, 5
    };

    /**
     * The two conditions that define the answer, checked without the solver: atoms are kept, and every reaction's
     * affinity vanishes, rare gases included.
     */
    @Test
    void atomsAreKeptAndReactionsAreAtRestEverywhere() {
        for (Fuel fuel : Fuel.known()) {
            for (double mixture : MIXTURES) {
                for (double kelvin = 500; kelvin <= 4000; kelvin += 250) {
                    for (double pascal : new double[] {1e3, 101_325, 1e7}) {
                        Equilibrium gas = Equilibrium.of(fuel, mixture, kelvin, pascal);
                        String where = fuel.name() + " " + mixture + " " + kelvin + " K " + pascal + " Pa";
                        assertAtomsKept(where, gas, fuel, mixture);
                        assertAtRest(where, gas, kelvin, pascal);
                    }
                }
            }
        }
    }

    private static void assertAtomsKept(String where, Equilibrium gas, Fuel fuel, double mixture) {
        double carbon = atoms(gas, Species::carbon);
        double oxygen = mixture * (2 * fuel.carbon() + fuel.hydrogen() / 2);
        assertThat(atoms(gas, Species::hydrogen) / carbon * fuel.carbon())
                .as(where)
                .isCloseTo(fuel.hydrogen(), withinPercentage(1e-6));
        assertThat(atoms(gas, Species::oxygen) / carbon * fuel.carbon())
                .as(where)
                .isCloseTo(oxygen, withinPercentage(1e-6));
        assertThat(atoms(gas, Species::nitrogen) / carbon * fuel.carbon())
                .as(where)
                .isCloseTo(3.76 * oxygen, withinPercentage(1e-6));
        double sum = Arrays.stream(Species.values()).mapToDouble(gas::fraction).sum();
        assertThat(sum).as(where).isCloseTo(1, within(1e-8));
    }

    private static double atoms(Equilibrium gas, ToIntFunction<Species> count) {
        return Arrays.stream(Species.values())
                .mapToDouble(each -> count.applyAsInt(each) * gas.fraction(each))
                .sum();
    }

    private static void assertAtRest(String where, Equilibrium gas, double kelvin, double pascal) {
        double oxygen = potential(gas, Species.OXYGEN, kelvin, pascal);
        double hydrogen = potential(gas, Species.HYDROGEN, kelvin, pascal);
        double nitrogen = potential(gas, Species.NITROGEN, kelvin, pascal);
        double[] affinities = {
            potential(gas, Species.CARBON_MONOXIDE, kelvin, pascal)
                    + oxygen / 2
                    - potential(gas, Species.CARBON_DIOXIDE, kelvin, pascal),
            hydrogen + oxygen / 2 - potential(gas, Species.WATER, kelvin, pascal),
            (hydrogen + oxygen) / 2 - potential(gas, Species.HYDROXYL, kelvin, pascal),
            oxygen / 2 - potential(gas, Species.OXYGEN_ATOM, kelvin, pascal),
            hydrogen / 2 - potential(gas, Species.HYDROGEN_ATOM, kelvin, pascal),
            (nitrogen + oxygen) / 2 - potential(gas, Species.NITRIC_OXIDE, kelvin, pascal)
        };
        for (double affinity : affinities) {
            assertThat(affinity).as(where).isCloseTo(0, within(1e-6));
        }
    }

    /** Over RT, from enthalpy and entropy. */
    private static double potential(Equilibrium gas, Species species, double kelvin, double pascal) {
        double standard =
                (species.enthalpyJPerMol(kelvin) - kelvin * species.entropyJPerMolK(kelvin)) / (8.314_462_618 * kelvin);
        return standard + Math.log(gas.fraction(species) * pascal / 1e5);
    }

    @Test
    void gasThatHardlyDissociatesHoldsTheHeatOfCompleteCombustion() {
        for (Fuel fuel : Fuel.known()) {
            double complete = FlueGas.of(fuel, 1.2).heatLeftJPerKg(1300);
            assertThat(Equilibrium.of(fuel, 1.2, 1300, 101_325).heatLeftJPerKg())
                    .as(fuel.name())
                    .isCloseTo(complete, withinPercentage(0.05));
        }
    }

    @Test
    void richGasAboveTheFreezingOfTheShiftIsNearlyTheFlueGas() {
        Equilibrium equilibrium = Equilibrium.of(Fuel.PROPANE, 0.7, 1800, 101_325);
        FlueGas gas = FlueGas.of(Fuel.PROPANE, 0.7);
        assertThat(gas.carbonMonoxideFraction(1800))
                .isCloseTo(equilibrium.fraction(Species.CARBON_MONOXIDE), withinPercentage(0.5));
        assertThat(gas.hydrogenFraction(1800)).isCloseTo(equilibrium.fraction(Species.HYDROGEN), withinPercentage(0.5));
        assertThat(gas.heatLeftJPerKg(1800)).isCloseTo(equilibrium.heatLeftJPerKg(), withinPercentage(0.2));
    }

    @Test
    void whatIsNoProductHasNoShare() {
        assertThat(Equilibrium.of(Fuel.PROPANE, 1, 1500, 1e5).fraction(Species.PROPANE))
                .isEqualTo(0);
    }

    @Test
    void badArgumentsAreRefusedByName() {
        assertThatThrownBy(() -> Equilibrium.of(Fuel.BUTANE, 1, 300, 1e5))
                .hasMessage("temperature of burnt gas, K, is 300.0: allowed are 500.0 to 4000.0");
        assertThatThrownBy(() -> Equilibrium.of(Fuel.BUTANE, 6, 1000, 1e5)).hasMessageContaining("mixture of butane");
        assertThatThrownBy(() -> Equilibrium.of(Fuel.BUTANE, 1, 1000, Double.NaN))
                .hasMessageContaining("is NaN");
    }
}
