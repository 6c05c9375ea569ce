package org.bankfire.analysis.heat;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.bankfire.analysis.combustion.FlueGas;
import org.bankfire.analysis.gas.Fuel;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** How the gas gives its heat to the walls: against other correlations than those that are used. */
class ExchangeTest {
    /** Rows by powers of log10(pa L / bar cm), columns by powers of T / 1000 K. */
    private static final double[][] LECKNER_WATER = {
        {-2.2118, -1.1987, 0.035596}, {0.85667, 0.93048, -0.14391}, {-0.10838, -0.17156, 0.045915}
    };

    private static final double[][] LECKNER_CARBON_DIOXIDE = {
        {-3.9893, 2.7669, -2.1081, 0.39163},
        {1.2710, -1.1090, 1.0195, -0.21897},
        {-0.23678, 0.19731, -0.19544, 0.044644}
    };

    /** B. Leckner, Combustion and Flame 19 (1972) 33–48, at vanishing partial pressure, as in Modest (from memory). */
    private static double leckner(double[][] coefficients, double kelvin, double barCm) {
        double exponent = 0;
        for (int i = 0; i < coefficients.length; i++) {
            for (int j = 0; j < coefficients[i].length; j++) {
                exponent += coefficients[i][j] * Math.pow(kelvin / 1000, j) * Math.pow(Math.log10(barCm), i);
            }
        }
        return Math.exp(exponent);
    }

    /**
     * Leckner's two gases overlap by some hundredths in so small a chamber. Charts, Leckner and the grey gases differ by
     * this much among themselves: 20 %.
     */
    @ParameterizedTest
    @CsvSource({
        "0.115, 1000",
        "0.115, 1300",
        "0.115, 1600",
        "0.115, 2000",
        "0.3, 1000",
        "0.3, 1300",
        "0.3, 1600",
        "0.3, 2000"
    })
    void theGasGlowsAsLecknersCorrelationSays(double beamM, double kelvin) {
        FlueGas flue = FlueGas.of(Fuel.PROPANE, 1);
        double carbonDioxide = flue.carbonDioxideFraction();
        double water = flue.waterFraction();
        double barCm = 1.01325 * beamM * 100;
        double other = leckner(LECKNER_CARBON_DIOXIDE, kelvin, carbonDioxide * barCm)
                + leckner(LECKNER_WATER, kelvin, water * barCm);
        assertThat(GasRadiation.emissivity(kelvin, carbonDioxide, water, 101_325, beamM))
                .isCloseTo(other, withinPercentage(20));
    }

    /** Hottel's charts, in McAdams and Incropera, figure 13.16 (read from memory): about 0.15 and 0.11 at 1000 K and 10 bar cm. */
    @Test
    void lecknersCorrelationIsRememberedRightly() {
        assertThat(leckner(LECKNER_WATER, 1000, 10)).isCloseTo(0.15, within(0.015));
        assertThat(leckner(LECKNER_CARBON_DIOXIDE, 1000, 10)).isCloseTo(0.11, within(0.01));
    }

    @Test
    void thickGasGlowsMoreAndThinGasNotAtAll() {
        assertThat(GasRadiation.emissivity(1500, 0.1, 0.15, 101_325, 0)).isZero();
        double before = 0;
        for (double beamM = 0.01; beamM < 100; beamM *= 2) {
            double now = GasRadiation.emissivity(1500, 0.1, 0.15, 101_325, beamM);
            assertThat(now).isGreaterThan(before).isLessThan(1);
            before = now;
        }
        // Pressure and length come as a product, and outside its range the correlation stays where it ends.
        assertThat(GasRadiation.emissivity(1500, 0.1, 0.15, 50_662.5, 0.2))
                .isCloseTo(GasRadiation.emissivity(1500, 0.1, 0.15, 101_325, 0.1), within(1e-12));
        assertThat(GasRadiation.emissivity(300, 0.1, 0.15, 101_325, 0.1))
                .isEqualTo(GasRadiation.emissivity(600, 0.1, 0.15, 101_325, 0.1));
    }

    /**
     * H. Martin (1977) in the form that he gave it, with the area ratio Ar = D² / 4r²: a single round nozzle, Incropera,
     * equations 7.73 and 7.74 (from memory). The still gas adds some at 20 W/(m² K), by the cube.
     */
    @ParameterizedTest
    @CsvSource({"2e-3, 0.02, 0.12, 0.005", "4e-3, 0.02, 0.16, 0.01", "5e-3, 0.03, 0.3, 0.03"})
    void theFlamesConvectionIsMartins(double flueKgPerS, double boreM, double distanceM, double wallM2) {
        double root = Math.sqrt(Math.PI / 4 * boreM * boreM / wallM2);
        double shape = 2 * root * (1 - 2.2 * root) / (1 + 0.2 * (distanceM / boreM - 6) * root);
        double reynolds = 4 * flueKgPerS / (Math.PI * boreM * 530e-7);
        assertThat(reynolds).isBetween(2000.0, 400_000.0);
        double nusselt = shape
                * 2
                * Math.sqrt(reynolds)
                * Math.sqrt(1 + 0.005 * Math.pow(reynolds, 0.55))
                * Math.pow(0.70, 0.42);
        double forced = nusselt * 0.091 / boreM;
        double blended = Math.cbrt(Math.pow(forced, 3) + Math.pow(8, 3));
        assertThat(BurnerJet.coefficientWPerM2K(flueKgPerS, boreM, distanceM, wallM2))
                .isCloseTo(blended, withinPercentage(1e-6));
    }

    @Test
    void convectionGrowsWithTheFlowAndStillGasIsLeftWithoutIt() {
        assertThat(BurnerJet.coefficientWPerM2K(0, 0.018, 0.16, 0.22)).isCloseTo(8, within(1e-9));
        double one = BurnerJet.coefficientWPerM2K(4e-3, 0.018, 0.16, 0.22);
        double two = BurnerJet.coefficientWPerM2K(8e-3, 0.018, 0.16, 0.22);
        // Between the laminar 0.5 and the turbulent 0.8.
        assertThat(Math.log(two / one) / Math.log(2)).isBetween(0.4, 0.8);
        assertThat(BurnerJet.coefficientWPerM2K(4e-3, 0.018, 0.3, 0.22)).isLessThan(one);
    }
}
