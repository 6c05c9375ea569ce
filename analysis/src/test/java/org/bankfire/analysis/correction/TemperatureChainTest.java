package org.bankfire.analysis.correction;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.analysis.correction.Frames.at;
import static org.bankfire.analysis.correction.Frames.chain;
import static org.bankfire.analysis.correction.Frames.faultAt;
import static org.bankfire.analysis.correction.Frames.names;
import static org.bankfire.analysis.correction.Frames.only;
import static org.bankfire.analysis.correction.Frames.printedMillivolt;
import static org.bankfire.analysis.reading.Unit.CELSIUS;
import static org.bankfire.analysis.reading.Unit.KELVIN;
import static org.bankfire.analysis.reading.Unit.MILLIVOLT;
import static org.bankfire.analysis.reading.Unit.PASCAL;
import static org.bankfire.analysis.reading.Unit.VOLT;

import java.util.List;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.thermocouple.ToleranceClass;
import org.junit.jupiter.api.Test;

class TemperatureChainTest {
    // Half a digit of the printed table at 0.037 mV/K or more, once for each of two table values.
    private static final double PRINTED_K = 0.03;

    @Test
    void voltageAndColdJunctionOfOneFrameGiveTheTemperature() {
        double measured = printedMillivolt(1150) - printedMillivolt(25);
        List<Reading> all = chain().correct(
                        List.of(at(0, "chamber-emf", measured, MILLIVOLT), at(0, "cold-junction", 25, CELSIUS)));
        assertThat(names(all)).containsExactly("chamber-emf", "chamber", "cold-junction");
        Reading chamber = only("chamber", all);
        assertThat(chamber.value()).isCloseTo(1150, within(PRINTED_K));
        assertThat(chamber.unit()).isEqualTo(CELSIUS);
        assertThat(chamber.quality()).isEqualTo(Quality.GOOD);
        assertThat(chamber.sourceTime()).isEqualTo(Frames.START);
        assertThat(chamber.receiptTime()).isEqualTo(Frames.START.plusSeconds(0.1));
        assertThat(only("chamber-emf", all).value()).isEqualTo(measured);
    }

    @Test
    void theOrderInTheFrameAndTheUnitsDoNotMatter() {
        double measuredV = (printedMillivolt(900) - printedMillivolt(40)) * 1e-3;
        List<Reading> all =
                chain().correct(List.of(at(0, "cold-junction", 313.15, KELVIN), at(0, "shell-emf", measuredV, VOLT)));
        assertThat(only("shell", all).value()).isCloseTo(900, within(PRINTED_K));
        assertThat(only("cold-junction", all).value()).isCloseTo(40, within(1e-9));
        assertThat(only("cold-junction", all).unit()).isEqualTo(CELSIUS);
    }

    @Test
    void anyNameMayBeAThermocouple() {
        List<Reading> all = chain().correct(List.of(
                at(0, "flue-emf", printedMillivolt(600), MILLIVOLT), at(0, "cold-junction", 0, CELSIUS)));
        assertThat(only("flue", all).value()).isCloseTo(600, within(PRINTED_K));
    }

    @Test
    void theLatestColdJunctionServesForThirtySeconds() {
        CorrectionChain chain = chain();
        double measured = printedMillivolt(500) - printedMillivolt(30);
        chain.correct(List.of(at(0, "cold-junction", 30, CELSIUS)));
        assertThat(only("chamber", chain.correct(List.of(at(30, "chamber-emf", measured, MILLIVOLT))))
                        .value())
                .isCloseTo(500, within(PRINTED_K));
        Reading late = only("chamber", chain.correct(List.of(at(30.5, "chamber-emf", measured, MILLIVOLT))));
        assertThat(late.quality()).isEqualTo(Quality.COLD_JUNCTION);
        assertThat(late.value()).isNaN();
        assertThat(late.unit()).isEqualTo(CELSIUS);
    }

    @Test
    void eachReadingOfAFrameTakesTheColdJunctionNearestToIt() {
        List<Reading> all = chain().correct(List.of(
                at(0, "cold-junction", 20, CELSIUS),
                at(10, "cold-junction", 24, CELSIUS),
                at(9, "chamber-emf", printedMillivolt(700) - printedMillivolt(24), MILLIVOLT),
                at(1, "stock-emf", printedMillivolt(700) - printedMillivolt(20), MILLIVOLT)));
        assertThat(only("chamber", all).value()).isCloseTo(700, within(PRINTED_K));
        assertThat(only("stock", all).value()).isCloseTo(700, within(PRINTED_K));
    }

    @Test
    void aColdJunctionOutsideItsRangeIsAFaultOfItsOwnAndOfWhatItServes() {
        CorrectionChain chain = chain();
        chain.correct(List.of(at(0, "cold-junction", 25, CELSIUS)));
        for (double celsius : new double[] {-40.1, 125.1}) {
            List<Reading> all = chain.correct(
                    List.of(at(1, "chamber-emf", 40, MILLIVOLT), at(1, "cold-junction", celsius, CELSIUS)));
            assertThat(only("cold-junction", all).quality()).isEqualTo(Quality.RANGE);
            assertThat(only("cold-junction-raw", all).value()).isEqualTo(celsius);
            assertThat(only("chamber", all).quality()).isEqualTo(Quality.COLD_JUNCTION);
        }
        Reading after = only("chamber", chain.correct(List.of(at(2, "chamber-emf", 40, MILLIVOLT))));
        assertThat(after.quality()).as("the latest word was a fault").isEqualTo(Quality.COLD_JUNCTION);
    }

    /** A straight line at 41.276 µV/K reports 1183.98 °C for 1200 °C from a cold junction at 25 °C. */
    @Test
    void aStraightLineAmplifierIsOffByMoreThanFifteenKelvinAtTwelveHundredAndPutRight() {
        double reported = 25 + (printedMillivolt(1200) - printedMillivolt(25)) / 0.041276;
        assertThat(1200 - reported).isGreaterThan(15);
        List<Reading> all = chain().correct(
                        List.of(at(0, "chamber-linear", reported, CELSIUS), at(0, "cold-junction", 25, CELSIUS)));
        assertThat(only("chamber", all).value()).isCloseTo(1200, within(PRINTED_K));
        assertThat(only("chamber-linear", all).value()).isEqualTo(reported);
    }

    @Test
    void aStraightLineAmplifierUnderThePlainNameIsPutRightAndKeptRaw() {
        CorrectionChain chain = chain(ThermocoupleCalibration.straightLine("chamber", ToleranceClass.IEC_2));
        double reported = 25 + (printedMillivolt(1000) - printedMillivolt(25)) / 0.041276;
        List<Reading> all =
                chain.correct(List.of(at(0, "chamber", reported, CELSIUS), at(0, "cold-junction", 25, CELSIUS)));
        assertThat(names(all)).containsExactly("chamber-raw", "chamber", "cold-junction");
        assertThat(only("chamber", all).value()).isCloseTo(1000, within(PRINTED_K));
        assertThat(only("chamber-raw", all).value()).isEqualTo(reported);
    }

    /**
     * Data sheet of the AD8495: 5 mV/K, gain 122.4, exact at 25 °C (from memory). At 1000 °C the amplifier gives
     * 0.125 V + 122.4 × (E(1000) − E(25)).
     */
    @Test
    void anAnalogueAmplifierIsPutRightFromVoltageAndFromWhatItsLineSays() {
        double outputV = 0.125 + 122.4 * (printedMillivolt(1000) - printedMillivolt(25)) * 1e-3;
        CorrectionChain plain = chain(ThermocoupleCalibration.analogue("chamber", 0, ToleranceClass.IEC_2));
        List<Reading> fromVolts = plain.correct(List.of(at(0, "chamber-volts", outputV, VOLT)));
        assertThat(only("chamber", fromVolts).value()).isCloseTo(1000, within(PRINTED_K));

        List<Reading> fromLine = plain.correct(List.of(at(1, "chamber", outputV / 5e-3, CELSIUS)));
        assertThat(only("chamber", fromLine).value()).isCloseTo(1000, within(PRINTED_K));
        assertThat(only("chamber-raw", fromLine).value()).isEqualTo(outputV / 5e-3);

        CorrectionChain lifted = chain(ThermocoupleCalibration.analogue("chamber", 1.25, ToleranceClass.IEC_2));
        assertThat(only("chamber", lifted.correct(List.of(at(0, "chamber", outputV + 1.25, VOLT))))
                        .value())
                .isCloseTo(1000, within(PRINTED_K));
    }

    @Test
    void anotherUnitAloneKeepsNoRawReading() {
        List<Reading> all =
                chain().correct(List.of(at(0, "chamber", 1273.15, KELVIN), at(0, "ambient", 68, Unit.FAHRENHEIT)));
        assertThat(names(all)).containsExactly("chamber", "ambient");
        assertThat(only("chamber", all).value()).isCloseTo(1000, within(1e-9));
        assertThat(only("ambient", all).value()).isCloseTo(20, within(1e-9));
    }

    @Test
    void aUnitThatAChannelDoesNotTakeIsAFaultAndNothingIsLost() {
        for (Reading wrong : List.of(
                at(0, "chamber", 1000, PASCAL),
                at(0, "chamber", 1000, Unit.NONE),
                at(0, "chamber", 1000, Unit.ofSymbol("furlong")),
                at(0, "gas", 1000, CELSIUS),
                at(0, "cylinder", 10, PASCAL),
                at(0, "flame", 1, VOLT))) {
            String name = wrong.channel().name();
            List<Reading> all = chain().correct(List.of(wrong));
            assertThat(only(name, all).quality()).as(wrong.toString()).isEqualTo(Quality.UNIT);
            assertThat(only(name, all).value()).isNaN();
            assertThat(only(name + "-raw", all).value()).isEqualTo(wrong.value());
            assertThat(only(name + "-raw", all).unit()).isEqualTo(wrong.unit());
        }
        assertThat(only("chamber", chain().correct(List.of(at(0, "chamber-emf", 40, CELSIUS))))
                        .quality())
                .isEqualTo(Quality.UNIT);
        assertThat(only("chamber", chain().correct(List.of(at(0, "chamber-linear", 40, VOLT))))
                        .quality())
                .isEqualTo(Quality.UNIT);
    }

    @Test
    void whatTypeKCannotReadIsOutOfRange() {
        for (double millivolt : new double[] {-8, 70, 1e6}) {
            List<Reading> all = chain().correct(
                            List.of(at(0, "chamber-emf", millivolt, MILLIVOLT), at(0, "cold-junction", 25, CELSIUS)));
            assertThat(only("chamber", all).quality()).isEqualTo(Quality.RANGE);
        }
        for (double celsius : new double[] {-201, 1373, 1800, 1e308}) {
            List<Reading> all = chain().correct(List.of(at(0, "chamber", celsius, CELSIUS)));
            assertThat(only("chamber", all).quality()).isEqualTo(Quality.RANGE);
            assertThat(only("chamber-raw", all).value()).isEqualTo(celsius);
        }
    }

    @Test
    void faultsOfTheSourcePassAndReachTheChannel() {
        List<Reading> plain = chain().correct(List.of(faultAt(0, "chamber", Unit.NONE, Quality.OPEN)));
        assertThat(names(plain)).containsExactly("chamber");
        assertThat(only("chamber", plain).quality()).isEqualTo(Quality.OPEN);
        assertThat(only("chamber", plain).unit()).isEqualTo(CELSIUS);

        List<Reading> raw = chain().correct(List.of(faultAt(0, "chamber-emf", MILLIVOLT, Quality.NOT_A_NUMBER)));
        assertThat(only("chamber", raw).quality()).isEqualTo(Quality.NOT_A_NUMBER);
        assertThat(only("chamber-emf", raw).quality()).isEqualTo(Quality.NOT_A_NUMBER);
    }

    @Test
    void aFaultInTheSameFrameDecidesOverTheVoltageThatCameWithIt() {
        List<Reading> all = chain().correct(List.of(
                at(0, "chamber-emf", 1.2, MILLIVOLT),
                faultAt(0, "chamber", CELSIUS, Quality.SHORT_TO_GROUND),
                at(0, "cold-junction", 25, CELSIUS)));
        assertThat(names(all)).containsExactly("chamber-emf", "chamber", "cold-junction");
        assertThat(only("chamber", all).quality()).isEqualTo(Quality.SHORT_TO_GROUND);
    }

    @Test
    void whatTheChipItselfThinksIsKeptRawBesideTheVoltage() {
        List<Reading> all = chain().correct(List.of(
                at(0, "chamber", 1140, CELSIUS),
                at(0, "chamber-emf", printedMillivolt(1150), MILLIVOLT),
                at(0, "cold-junction", 0, CELSIUS)));
        assertThat(only("chamber", all).value()).isCloseTo(1150, within(PRINTED_K));
        assertThat(only("chamber-raw", all).value()).isEqualTo(1140);
    }

    @Test
    void whatWasCorrectedCorrectsToItself() {
        CorrectionChain chain = chain(
                ThermocoupleCalibration.straightLine("chamber", ToleranceClass.IEC_2),
                new PointsCalibration("shell", 0, 1.5, 100, 99, 0.5),
                new PointsCalibration("cold-junction", 0, -2, 100, 98, 0.1));
        List<Reading> once = chain.correct(List.of(
                at(0, "chamber", 800, CELSIUS),
                at(0, "shell", 80, CELSIUS),
                at(0, "stock", 5000, CELSIUS),
                at(0, "cold-junction", 25, CELSIUS)));
        assertThat(names(once))
                .containsExactly(
                        "chamber-raw",
                        "chamber",
                        "shell-raw",
                        "shell",
                        "stock-raw",
                        "stock",
                        "cold-junction-raw",
                        "cold-junction");
        List<Reading> twice = chain(
                        ThermocoupleCalibration.straightLine("chamber", ToleranceClass.IEC_2),
                        new PointsCalibration("shell", 0, 1.5, 100, 99, 0.5),
                        new PointsCalibration("cold-junction", 0, -2, 100, 98, 0.1))
                .correct(once);
        // The store keeps one reading of each channel and time: those of both passes are the same.
        assertThat(twice).containsAll(once).hasSameSizeAs(once);
    }

    @Test
    void twoPointsMakeAStraightLine() {
        // 1.5 at the ice point and 99 at the boiling point.
        CorrectionChain chain = chain(new PointsCalibration("shell", 1.5, 0, 99, 100, 0.4));
        List<Reading> all = chain.correct(List.of(at(0, "shell", 50.25, CELSIUS)));
        assertThat(only("shell", all).value()).isCloseTo(50, within(1e-9));
        assertThat(only("shell", all).standardUncertainty()).isCloseTo(0.4 * 100 / 97.5, within(1e-9));
        assertThat(only("shell-raw", all).value()).isEqualTo(50.25);
    }

    @Test
    void aCalibratedColdJunctionServesCalibrated() {
        CorrectionChain chain = chain(new PointsCalibration("cold-junction", 0, -2, 100, 98, 0.1));
        List<Reading> all = chain.correct(List.of(
                at(0, "chamber-emf", printedMillivolt(700) - printedMillivolt(25), MILLIVOLT),
                at(0, "cold-junction", 27, CELSIUS)));
        assertThat(only("chamber", all).value()).isCloseTo(700, within(PRINTED_K));
        assertThat(only("cold-junction-raw", all).value()).isEqualTo(27);
    }

    /** GUM: wire 8.625 / √3 = 4.980 K; cold junction 1 K × 0.0405 / 0.0363 = 1.116 K; 10 µV / 36.3 µV/K = 0.275 K. */
    @Test
    void wireColdJunctionAndAmplifierAddInQuadrature() {
        CorrectionChain chain = chain(new ThermocoupleCalibration(
                "chamber",
                ThermocoupleCalibration.Amplifier.EMF,
                Double.NaN,
                Double.NaN,
                ToleranceClass.IEC_2,
                Double.NaN,
                1,
                10e-6));
        double slopeAt1150 = (printedMillivolt(1160) - printedMillivolt(1140)) / 20;
        double slopeAt25 = (printedMillivolt(30) - printedMillivolt(20)) / 10;
        List<Reading> all = chain.correct(List.of(
                at(0, "chamber-emf", printedMillivolt(1150) - printedMillivolt(25), MILLIVOLT),
                at(0, "cold-junction", 25, CELSIUS)));
        double expected = Math.sqrt(Math.pow(8.625 / Math.sqrt(3), 2)
                + Math.pow(slopeAt25 / slopeAt1150, 2)
                + Math.pow(0.010 / slopeAt1150, 2));
        assertThat(only("chamber", all).standardUncertainty()).isCloseTo(expected, within(0.01));
    }

    /** ASTM E230 standard, 0.75 % of 1000 °C over √3; ambient may be any sensor. */
    @Test
    void aChipOfUnknownMakeGetsTheWireOfTheUsualClass() {
        List<Reading> all = chain().correct(List.of(at(0, "chamber", 1000, CELSIUS), at(0, "ambient", 20, CELSIUS)));
        assertThat(only("chamber", all).standardUncertainty()).isCloseTo(7.5 / Math.sqrt(3), within(1e-9));
        assertThat(only("ambient", all).standardUncertainty()).isNaN();
    }

    @Test
    void beyondTheWiresClassAReadingIsUncertain() {
        Reading hot = only("chamber", chain().correct(List.of(at(0, "chamber", 1300, CELSIUS))));
        assertThat(hot.quality()).isEqualTo(Quality.UNCERTAIN);
        assertThat(hot.value()).isEqualTo(1300);
        assertThat(hot.standardUncertainty()).isCloseTo(9.75 / Math.sqrt(3), within(1e-9));
    }
}
