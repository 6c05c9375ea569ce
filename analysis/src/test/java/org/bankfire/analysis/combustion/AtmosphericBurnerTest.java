package org.bankfire.analysis.combustion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.bankfire.analysis.gas.Fuel;
import org.junit.jupiter.api.Test;

class AtmosphericBurnerTest {
    private static final double AMBIENT_PA = 101_325;
    private static final double GAS_K = 288.15;
    private static final double PROPANE_KG_PER_MOL = 0.0441;
    private static final double PROPANE_K = 1.13;
    private static final double AIR_KG_PER_MOL = 0.02896;

    /** By hand: √1.528 · (20 / 0.8 − 1) = 29.67 volumes of air on each of propane, which needs 23.8. */
    @Test
    void theMixtureFollowsFromTheBores() {
        assertThat(AtmosphericBurner.mixture(Fuel.PROPANE, 0.8e-3, 20e-3, 1)).isCloseTo(29.67 / 23.8, within(0.002));
    }

    /** Common practice, no source. */
    @Test
    void aLargerJetOrATighterChokeMakesTheMixtureRicher() {
        double open = AtmosphericBurner.mixture(Fuel.PROPANE, 0.8e-3, 20e-3, 1);
        assertThat(AtmosphericBurner.mixture(Fuel.PROPANE, 1.0e-3, 20e-3, 1)).isLessThan(open);
        assertThat(AtmosphericBurner.mixture(Fuel.PROPANE, 0.8e-3, 20e-3, 0.6)).isLessThan(open);
        assertThat(AtmosphericBurner.mixture(Fuel.PROPANE, 0.8e-3, 20e-3, 0)).isEqualTo(0);
    }

    @Test
    void aQuarterOfTheThroatIsAThroatOfHalfTheBore() {
        assertThat(AtmosphericBurner.mixture(Fuel.PROPANE, 0.8e-3, 24e-3, 0.25))
                .isCloseTo(AtmosphericBurner.mixture(Fuel.PROPANE, 0.8e-3, 12e-3, 1), withinPercentage(1e-9));
    }

    /** Common practice, no source: a burner that is set keeps its mixture. By momentum: between 5 and 100 kPa within 5 %. */
    @Test
    void byMomentumTheMixtureBarelyMovesWithThePressure() {
        double low = airVolumesByMomentum(5e3, 0.8e-3, 20e-3);
        double before = low;
        for (double gaugePa = 10e3; gaugePa <= 100e3; gaugePa += 5e3) {
            double volumes = airVolumesByMomentum(gaugePa, 0.8e-3, 20e-3);
            assertThat(volumes).as("%s Pa", gaugePa).isLessThan(before);
            before = volumes;
        }
        assertThat(before / low).isBetween(0.95, 0.96);
        assertThat(airVolumesByMomentum(200e3, 0.8e-3, 20e-3) / low).isBetween(0.85, 0.87);
    }

    /** Without losses a balance of momentum draws (1 + r)(1 + r/s) = area ratio, within a tenth of Prigg's relation. */
    @Test
    void atLowPressurePriggsRelationIsTheBalanceOfMomentum() {
        double needed = Fuel.PROPANE.stoichiometricAirVolumes();
        for (double throatM : new double[] {10e-3, 20e-3, 40e-3}) {
            double momentum = airVolumesByMomentum(100, 0.8e-3, throatM);
            assertThat(AtmosphericBurner.mixture(Fuel.PROPANE, 0.8e-3, throatM, 1) * needed)
                    .isCloseTo(momentum, withinPercentage(10));
        }
    }

    /**
     * A jet pump, apart from the program: isentropic jet of a perfect gas (thrust with the excess pressure of a choked
     * mouth), mixed at ambient pressure and temperature to one velocity in the throat, thrust = momentum of the mixture.
     */
    private static double airVolumesByMomentum(double gaugePa, double jetM, double throatM) {
        double jetArea = Math.PI / 4 * jetM * jetM;
        double throatArea = Math.PI / 4 * throatM * throatM;
        double gasConstant = 8.314462618 / PROPANE_KG_PER_MOL;
        double supplyPa = AMBIENT_PA + gaugePa;
        double mouthPa = Math.max(AMBIENT_PA, supplyPa * Math.pow(2 / (PROPANE_K + 1), PROPANE_K / (PROPANE_K - 1)));
        double mouthK = GAS_K * Math.pow(mouthPa / supplyPa, (PROPANE_K - 1) / PROPANE_K);
        double velocity = Math.sqrt(2 * PROPANE_K / (PROPANE_K - 1) * gasConstant * (GAS_K - mouthK));
        double massFlow = mouthPa / (gasConstant * mouthK) * velocity * jetArea;
        double thrust = massFlow * velocity + (mouthPa - AMBIENT_PA) * jetArea;
        double gasDensity = AMBIENT_PA / (gasConstant * GAS_K);
        double relative = PROPANE_KG_PER_MOL / AIR_KG_PER_MOL;
        double low = 0;
        double high = 1000;
        for (int i = 0; i < 60; i++) {
            double volumes = (low + high) / 2;
            double mixed = massFlow * (1 + volumes / relative);
            double density = gasDensity * (1 + volumes / relative) / (1 + volumes);
            if (mixed * mixed / (density * throatArea) < thrust) {
                low = volumes;
            } else {
                high = volumes;
            }
        }
        return low;
    }

    @Test
    void badArgumentsAreRefusedByName() {
        assertThatThrownBy(() -> AtmosphericBurner.mixture(Fuel.PROPANE, 0.8, 20e-3, 1))
                .hasMessage("jet bore in m is 0.8: allowed are 1.0E-4 to 0.005");
        assertThatThrownBy(() -> AtmosphericBurner.mixture(Fuel.PROPANE, 0.8e-3, Double.NaN, 1))
                .hasMessage("throat bore in m is NaN: allowed are 0.001 to 0.2");
        assertThatThrownBy(() -> AtmosphericBurner.mixture(Fuel.PROPANE, 0.8e-3, 20e-3, 1.2))
                .hasMessage("free fraction of the throat's area is 1.2: allowed are 0.0 to 1.0");
        assertThatThrownBy(() -> AtmosphericBurner.mixture(Fuel.PROPANE, 4e-3, 3e-3, 1))
                .hasMessage("the throat must be wider than the jet: 0.003 m against 0.004 m");
    }
}
