package org.bankfire.analysis.thermocouple;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.analysis.Fixtures.number;

import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.bankfire.analysis.Fixtures;
import org.junit.jupiter.api.Test;

class TypeKTest {
    // NIST SRD 60 / Monograph 175, every degree, rounded to 0.001 mV.
    private static final List<Map<String, String>> NIST = Fixtures.rows("thermocouple/type_k_1C.csv");
    private static final double HALF_DIGIT_MILLIVOLT = 0.0005;
    private static final double ARITHMETIC_ROUNDING = 1e-12;

    @Test
    void theVoltageRoundsToTheNistTableAtEveryDegree() {
        assertThat(NIST).hasSize(1643);
        for (Map<String, String> row : NIST) {
            double celsius = number(row, "T_C");
            assertThat(TypeK.emfMillivolt(celsius))
                    .as("voltage at %s °C", celsius)
                    .isCloseTo(number(row, "E_mV"), within(HALF_DIGIT_MILLIVOLT + ARITHMETIC_ROUNDING));
        }
    }

    /** The table's last digit is worth up to 0.03 K, so the 0.001 K is shown on the voltage before rounding. */
    @Test
    void theInverseReturnsEveryDegreeOfTheTableToWithinAMillionth() {
        for (Map<String, String> row : NIST) {
            double celsius = number(row, "T_C");
            if (celsius >= -200) {
                assertThat(TypeK.celsius(TypeK.emfMillivolt(celsius)))
                        .as("back from %s °C", celsius)
                        .isCloseTo(celsius, within(1e-9));
            }
        }
    }

    /**
     * Independent of the own direct function: the printed voltage leads back to its degree as far as half of the last
     * printed digit allows, with the slope taken from the table itself.
     */
    @Test
    void theInverseReturnsEveryPrintedVoltageToItsDegreeAsFarAsTheRoundingAllows() {
        for (int i = 1; i < NIST.size() - 1; i++) {
            double celsius = number(NIST.get(i), "T_C");
            double before = number(NIST.get(i - 1), "E_mV");
            double after = number(NIST.get(i + 1), "E_mV");
            if (celsius > -200) {
                // Each printed neighbour may be half a digit off, which makes the slope (after − before) / 2 uncertain.
                double slope = (after - before) / 2 - HALF_DIGIT_MILLIVOLT;
                assertThat(TypeK.celsius(number(NIST.get(i), "E_mV")))
                        .as("temperature at the voltage printed for %s °C", celsius)
                        .isCloseTo(celsius, within(HALF_DIGIT_MILLIVOLT / slope + 0.001));
            }
        }
    }

    @Test
    void theInverseAgreesWithThePublishedPolynomialWithinItsPublishedError() {
        // NIST SRD 60: inverse coefficients for 500…1372 °C, off by −0.05…0.06 K; worked by hand at 40 mV.
        double atForty = -131.8058
                + 48.30222 * 40
                - 1.646031 * 1600
                + 0.05464731 * 64e3
                - 0.0009650715 * 2.56e6
                + 8.802193e-6 * 1.024e8
                - 3.11081e-8 * 4.096e9;
        assertThat(TypeK.celsius(40)).isCloseTo(atForty, within(0.06));
    }

    @Test
    void thereAndBackIsTheSameTemperatureAnywhereInTheRange() {
        SplittableRandom random = new SplittableRandom(20260301);
        for (int i = 0; i < 100_000; i++) {
            double celsius = -200 + random.nextDouble() * 1572;
            assertThat(TypeK.celsius(TypeK.emfMillivolt(celsius))).isCloseTo(celsius, within(1e-9));
        }
    }

    @Test
    void thereAndBackHoldsAcrossTheSeamsOfThePublishedPieces() {
        for (double seam : new double[] {-200, 0, 500, 1372}) {
            for (double off : new double[] {-1e-3, -1e-7, -1e-10, 0, 1e-10, 1e-7, 1e-3}) {
                double celsius = seam + off;
                if (celsius >= -200 && celsius <= 1372) {
                    assertThat(TypeK.celsius(TypeK.emfMillivolt(celsius)))
                            .as("back from %s °C", celsius)
                            .isCloseTo(celsius, within(1e-9));
                }
            }
        }
        assertThat(TypeK.emfMillivolt(0)).isZero();
        assertThat(TypeK.celsius(0)).isZero();
        assertThat(TypeK.celsius(1e-9)).isCloseTo(0, within(1e-7));
    }

    @Test
    void theSlopeIsThatOfTheTable() {
        for (int i = 1; i < NIST.size() - 1; i++) {
            double celsius = number(NIST.get(i), "T_C");
            double slope = (number(NIST.get(i + 1), "E_mV") - number(NIST.get(i - 1), "E_mV")) / 2;
            assertThat(TypeK.sensitivityMillivoltPerKelvin(celsius))
                    .as("slope at %s °C", celsius)
                    .isCloseTo(slope, within(HALF_DIGIT_MILLIVOLT + 1e-5));
        }
    }

    @Test
    void whatLiesOutsideTheRangesIsNotANumber() {
        for (double celsius : new double[] {-270.01, 1372.01, -1e300, Double.POSITIVE_INFINITY, Double.NaN}) {
            assertThat(TypeK.emfMillivolt(celsius))
                    .as("voltage at %s °C", celsius)
                    .isNaN();
            assertThat(TypeK.sensitivityMillivoltPerKelvin(celsius)).isNaN();
        }
        for (double millivolt : new double[] {-5.892, 54.887, 1e300, Double.NEGATIVE_INFINITY, Double.NaN}) {
            assertThat(TypeK.celsius(millivolt))
                    .as("temperature at %s mV", millivolt)
                    .isNaN();
        }
    }
}
