package org.bankfire.daemon.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.bankfire.analysis.quantity.Range;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DimensionTest {
    /** Factors of psi, inH2O, lb/ft3: NIST SP 811 appendix B.8, as printed there. */
    @ParameterizedTest
    @CsvSource({
        "LENGTH, 0.8 mm, 0.8e-3, 1e-18",
        "LENGTH, 76mm, 0.076, 1e-15",
        "LENGTH, .5 in, 0.0127, 1e-15",
        "LENGTH, 2 ft, 0.6096, 1e-15",
        "LENGTH, 1e-1 m, 0.1, 0",
        "TEMPERATURE, 1150 degC, 1423.15, 0",
        "TEMPERATURE, 1150 °C, 1423.15, 0",
        "TEMPERATURE, -40 degF, 233.15, 1e-9",
        "TEMPERATURE, 2102 degF, 1423.15, 1e-9",
        "TEMPERATURE, 300 K, 300, 1e-9",
        "TEMPERATURE_DIFFERENCE, 20 K, 20, 0",
        "DURATION, 12 s, 12, 0",
        "DURATION, 730 days, 63072000, 0",
        "DURATION, 2 min, 120, 0",
        "DURATION, 1.5 h, 5400, 0",
        "PRESSURE, 1.2 bar, 1.2e5, 1e-9",
        "PRESSURE, 15 psi, 103421.4, 0.1",
        "PRESSURE, 11 inH2O, 2739.978, 0.001",
        "PRESSURE, 37 mbar, 3700, 0",
        "VOLTAGE, 20 uV, 20e-6, 1e-18",
        "VOLTAGE, 20 µV, 20e-6, 1e-18",
        "CURRENT, 4 mA, 0.004, 0",
        "RESISTANCE, 250 ohm, 250, 0",
        "RESISTANCE, 250 Ω, 250, 0",
        "MASS, 1 lb, 0.45359237, 0",
        "DENSITY, 550 kg/m3, 550, 0",
        "DENSITY, 550 kg/m³, 550, 0",
        "DENSITY, 1 lb/ft3, 16.01846, 5e-6",
        "HEAT_CAPACITY, 1050 J/(kg K), 1050, 0",
        "HEAT_CAPACITY, 1.05 kJ/(kg·K), 1050, 1e-9",
        "HEAT_CAPACITY, 1050 J/kg/K, 1050, 0",
        "CONDUCTIVITY, 0.14 W/(m K), 0.14, 0",
        "CONDUCTIVITY, 0.14 W/(m*K), 0.14, 0",
        "SENSITIVITY, 5 mV/K, 0.005, 0",
        "SENSITIVITY, 41.276 uV/K, 41.276e-6, 1e-18",
        "HEATING_RATE, 36 K/h, 0.01, 1e-15",
        "HEATING_RATE, 3 K/min, 0.05, 1e-15",
        "FREQUENCY, 4 Hz, 4, 0",
        "SIZE, 2 GB, 2e9, 0",
        "SIZE, 500 MB, 5e8, 0",
        "RATIO, 1 %, 0.01, 0",
        "RATIO, 0.85, 0.85, 0"
    })
    void aNumberWithItsUnitBecomesSi(Dimension dimension, String text, double si, double tolerance) {
        assertThat(dimension.parse(text).si()).isCloseTo(si, within(tolerance));
    }

    @ParameterizedTest
    @CsvSource({
        "LENGTH, 0.8, it needs its unit",
        "LENGTH, '', not a number with its unit",
        "LENGTH, mm, not a number with its unit",
        "LENGTH, '0,8 mm', '\",8 mm\" is not a unit of a length'",
        "LENGTH, 0.8 MM, '\"MM\" is not a unit of a length'",
        "LENGTH, 0.8 bar, '\"bar\" is not a unit of a length'",
        "LENGTH, 1 2 mm, '\"2 mm\" is not a unit of a length'",
        "LENGTH, NaN mm, not a number with its unit",
        "LENGTH, 1e999 m, too large",
        "TEMPERATURE, 1150, it needs its unit",
        "TEMPERATURE_DIFFERENCE, 20 degC, '\"degC\" is not a unit of a temperature difference'",
        "PRESSURE, 1 BAR, '\"BAR\" is not a unit of a pressure'"
    })
    void anythingElseIsRefusedWithTheReason(Dimension dimension, String text, String reason) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> dimension.parse(text))
                .withMessage(reason);
    }

    @Test
    void aVeryLongTextIsRefused() {
        assertThatIllegalArgumentException().isThrownBy(() -> Dimension.LENGTH.parse("1".repeat(10_000) + " mm"));
    }

    @Test
    void whatIsAllowedIsToldInTheUnitOfTheExample() {
        assertThat(Dimension.LENGTH.allowed(new Range(1e-4, 5e-3), "0.8 mm"))
                .isEqualTo("a length from 0.1 mm to 5 mm, as in \"0.8 mm\" (units: mm, cm, m, in, ft)");
        assertThat(Dimension.TEMPERATURE.allowed(new Range(573.15, 1873.15), "1150 degC"))
                .isEqualTo("a temperature from 300 degC to 1600 degC, as in \"1150 degC\" (units: degC, degF, K)");
    }

    @Test
    void whatIsWrittenReadsBackToTheLastBit() {
        Random random = new Random(20260301);
        for (Dimension dimension : Dimension.values()) {
            if (dimension == Dimension.TEMPERATURE) {
                continue;
            }
            String symbol = dimension == Dimension.RATIO ? "" : symbolOf(dimension);
            for (int i = 0; i < 300; i++) {
                double si = (random.nextDouble() - 0.3) * Math.pow(10, random.nextInt(16) - 8);
                String text = dimension.write(si, dimension.parse("1 " + symbol).unit());
                assertThat(dimension.parse(text).si()).as(text).isEqualTo(si);
            }
        }
    }

    @Test
    void aTemperatureReadsBackToTheLastBitWhicheverUnitItWasWrittenIn() {
        Random random = new Random(20260302);
        String[] units = {"degC", "degF", "K"};
        for (int i = 0; i < 1000; i++) {
            String written = Math.round(random.nextDouble() * 1e6) / 1e3 + " " + units[random.nextInt(units.length)];
            double si = Dimension.TEMPERATURE.parse(written).si();
            String text = TomlText.quantity(Dimension.TEMPERATURE, si, "degC");
            assertThat(text).endsWith(" degC").hasSizeLessThan(20);
            assertThat(Dimension.TEMPERATURE.parse(text).si()).as(written).isEqualTo(si);
        }
    }

    @Test
    void whatIsWrittenIsAsShortAsItGoes() {
        assertThat(TomlText.quantity(Dimension.LENGTH, 0.8e-3, "mm")).isEqualTo("0.8 mm");
        assertThat(TomlText.quantity(Dimension.PRESSURE, 4e5, "bar")).isEqualTo("4 bar");
        assertThat(TomlText.quantity(Dimension.SENSITIVITY, 41.276e-6, "uV/K")).isEqualTo("41.276 uV/K");
        assertThat(Decimal.write(1_000_000)).isEqualTo("1000000");
        assertThat(Decimal.write(0)).isEqualTo("0");
        assertThat(Decimal.write(-0.25)).isEqualTo("-0.25");
    }

    private static String symbolOf(Dimension dimension) {
        return switch (dimension) {
            case LENGTH -> "mm";
            case TEMPERATURE -> "degC";
            case TEMPERATURE_DIFFERENCE -> "K";
            case DURATION -> "days";
            case PRESSURE -> "psi";
            case VOLTAGE -> "mV";
            case CURRENT -> "mA";
            case RESISTANCE -> "kohm";
            case MASS -> "lb";
            case DENSITY -> "lb/ft3";
            case HEAT_CAPACITY -> "kJ/(kg K)";
            case CONDUCTIVITY -> "mW/(m K)";
            case SENSITIVITY -> "uV/K";
            case HEATING_RATE -> "K/h";
            case FREQUENCY -> "Hz";
            case SIZE -> "MB";
            case RATIO -> "";
        };
    }
}
