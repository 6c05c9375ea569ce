package org.bankfire.analysis.correction;

import static org.assertj.core.api.Assertions.assertThat;
import static org.bankfire.analysis.correction.Frames.at;
import static org.bankfire.analysis.correction.Frames.chain;
import static org.bankfire.analysis.correction.Frames.names;
import static org.bankfire.analysis.correction.Frames.only;
import static org.bankfire.analysis.correction.Frames.printedMillivolt;
import static org.bankfire.analysis.reading.Unit.CELSIUS;
import static org.bankfire.analysis.reading.Unit.MILLIVOLT;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.junit.jupiter.api.Test;

class PlausibilityTest {
    @Test
    void aSingleJumpIsASpikeAndTheNextReadingIsGoodAgain() {
        CorrectionChain chain = chain();
        assertThat(chamber(chain, 0, 1000).quality()).isEqualTo(Quality.GOOD);
        List<Reading> spike = chain.correct(List.of(at(0.1, "chamber", 1300, CELSIUS)));
        assertThat(only("chamber", spike).quality()).isEqualTo(Quality.SPIKE);
        assertThat(only("chamber", spike).value()).isNaN();
        assertThat(only("chamber-raw", spike).value()).isEqualTo(1300);
        assertThat(chamber(chain, 0.2, 1001).quality()).isEqualTo(Quality.GOOD);
    }

    @Test
    void aStepThatStaysCostsOneReading() {
        CorrectionChain chain = chain();
        chamber(chain, 0, 1000);
        assertThat(chamber(chain, 0.1, 300).quality()).isEqualTo(Quality.SPIKE);
        assertThat(chamber(chain, 0.2, 299).quality()).isEqualTo(Quality.GOOD);
        assertThat(chamber(chain, 0.3, 298).quality()).isEqualTo(Quality.GOOD);
    }

    /** First order with 4 s: the fastest that the defaults are for, thrown from the cold into a flame 1900 K hotter. */
    @Test
    void aBareProbePutIntoTheFlameIsNoSpikeAtAnyRateOfSampling() {
        for (double stepS : new double[] {0.05, 0.1, 0.5, 1, 5}) {
            CorrectionChain chain = chain();
            for (double s = 0; s < 4; s += stepS) {
                double celsius = 20 + 1900 * (1 - Math.exp(-s / 4));
                assertThat(chamber(chain, s, celsius).quality())
                        .as("%s °C after %s s in steps of %s s", celsius, s, stepS)
                        .isNotEqualTo(Quality.SPIKE);
            }
        }
    }

    @Test
    void readingsOutOfOrderAreNotJudgedAndAClockSetBackBlindsNothing() {
        CorrectionChain chain = chain();
        chamber(chain, 1000, 1000);
        assertThat(chamber(chain, 999, 20).quality()).isEqualTo(Quality.GOOD);
        assertThat(chamber(chain, 1000.1, 1000).quality()).isEqualTo(Quality.GOOD);
        assertThat(chamber(chain, 10, 1000).quality()).isEqualTo(Quality.GOOD);
        assertThat(chamber(chain, 10.1, 1000).quality()).isEqualTo(Quality.GOOD);
        assertThat(chamber(chain, 10.2, 400).quality()).isEqualTo(Quality.SPIKE);
    }

    @Test
    void aColdJunctionThatJumpsOnceIsRiddenOver() {
        CorrectionChain chain = chain();
        double measured = printedMillivolt(800) - printedMillivolt(30);
        chain.correct(List.of(at(0, "cold-junction", 30, CELSIUS)));
        List<Reading> all = chain.correct(
                List.of(at(0.1, "cold-junction", 60, CELSIUS), at(0.1, "chamber-emf", measured, MILLIVOLT)));
        assertThat(only("cold-junction", all).quality()).isEqualTo(Quality.SPIKE);
        assertThat(only("chamber", all).quality()).isEqualTo(Quality.GOOD);
        assertThat(only("chamber", all).value()).isBetween(799.9, 800.1);
    }

    @Test
    void aHotSensorThatStandsStillForTenMinutesIsStuckUntilItMoves() {
        CorrectionChain chain = chain();
        chamber(chain, 0, 999.75);
        for (int s = 1; s <= 600; s++) {
            assertThat(chamber(chain, s, 1000).quality()).as("after %s s", s).isEqualTo(Quality.GOOD);
        }
        assertThat(chamber(chain, 601, 1000).quality()).isEqualTo(Quality.STUCK);
        assertThat(chamber(chain, 602, 1000).quality()).isEqualTo(Quality.STUCK);
        assertThat(chamber(chain, 603, 1000.25).quality()).isEqualTo(Quality.GOOD);
    }

    @Test
    void aColdSensorACoarseOneAndOneWithGapsMayStandStill() {
        CorrectionChain cold = chain();
        chamber(cold, 0, 20.25);
        CorrectionChain coarse = chain();
        chamber(coarse, 0, 999);
        CorrectionChain gaps = chain();
        chamber(gaps, 0, 999.75);
        for (int s = 1; s <= 3600; s++) {
            assertThat(chamber(cold, s, 20).quality()).isEqualTo(Quality.GOOD);
            assertThat(chamber(coarse, s, 1000).quality()).isEqualTo(Quality.GOOD);
            if (s % 120 == 0) {
                assertThat(chamber(gaps, s, 1000).quality()).isEqualTo(Quality.GOOD);
            }
        }
    }

    /** Ten hours at one reading a second; the chamber wanders by half a kelvin, two steps of the amplifier. */
    @Test
    void aSoakingForgeReadInQuarterKelvinsIsNeverStuck() {
        CorrectionChain chain = chain();
        SplittableRandom random = new SplittableRandom(7);
        double level = 1150;
        for (int i = 0; i < 36_000; i++) {
            level += 0.02 * (1150 - level) + 0.1 * random.nextGaussian();
            double reported = Math.round(level * 4) / 4.0;
            assertThat(chamber(chain, i, reported).quality()).isEqualTo(Quality.GOOD);
        }
    }

    /** Whatever comes, each reading is kept, each known channel answers, and nothing is thrown. */
    @Test
    void noFrameIsFatalAndNoReadingIsLost() {
        SplittableRandom random = new SplittableRandom(20260301);
        String[] names = {
            "chamber",
            "chamber-emf",
            "chamber-linear",
            "chamber-raw",
            "shell",
            "shell-raw",
            "gas",
            "gas-volts",
            "gas-ratio",
            "gas-raw",
            "cold-junction",
            "cylinder",
            "flame",
            "flue-emf",
            "seq",
            "own",
            "emf",
            "a-raw",
            "gas-emf",
            "cold-junction-emf",
            "oven-volts",
            "mine"
        };
        double[] values = {0, -0.0, 1, 25, 40, 1000, -1e9, 1e9, Double.MAX_VALUE, -Double.MAX_VALUE, Double.MIN_VALUE};
        Unit[] units = {
            Unit.CELSIUS,
            Unit.KELVIN,
            Unit.VOLT,
            Unit.MILLIVOLT,
            Unit.PASCAL,
            Unit.BAR,
            Unit.NONE,
            Unit.RATIO,
            Unit.KILOGRAM,
            Unit.MILLIAMPERE,
            Unit.ofSymbol("lx")
        };
        CorrectionChain chain = chain(
                ThermocoupleCalibration.straightLine("shell", ThermocoupleCalibration.USUAL_CLASS),
                ThermocoupleCalibration.analogue("oven", 1.25, ThermocoupleCalibration.USUAL_CLASS),
                PressureCalibration.ratiometric("gas", 4e5),
                new PointsCalibration("mine", 0, 0, 1e-9, 1e9, Double.NaN));
        for (int round = 0; round < 20_000; round++) {
            List<Reading> frame = new ArrayList<>();
            for (int i = random.nextInt(6); i >= 0; i--) {
                String name = names[random.nextInt(names.length)];
                double second = round + random.nextInt(3);
                frame.add(
                        random.nextInt(10) == 0
                                ? Frames.faultAt(second, name, units[random.nextInt(units.length)], Quality.FAULT)
                                : at(
                                        second,
                                        name,
                                        values[random.nextInt(values.length)],
                                        units[random.nextInt(units.length)]));
            }
            List<Reading> all = chain.correct(frame);
            for (Reading raw : frame) {
                assertThat(all).as("of %s", frame).anyMatch(each -> keeps(each, raw) || isSourceOf(each, raw));
            }
        }
    }

    @Test
    void readingsWithoutMeaningPassUnchanged() {
        List<Reading> frame = List.of(
                at(0, "seq", 7, Unit.NONE),
                at(0, "door", 1, Unit.ofSymbol("lx")),
                at(0, "battery-volts", 3.7, Unit.VOLT),
                at(0, "door-raw", 3, Unit.NONE));
        assertThat(chain().correct(frame)).isEqualTo(frame);
        assertThat(names(chain().correct(List.of()))).isEmpty();
    }

    @Test
    void namesWithoutEndNeitherFillTheMemoryNorCrowdOutTheChamber() {
        CorrectionChain chain = chain();
        for (int i = 0; i < 5_000; i++) {
            chain.correct(List.of(at(0, "probe" + i + "-emf", 40, MILLIVOLT)));
        }
        chamber(chain, 0, 1000);
        assertThat(chamber(chain, 0.1, 1300).quality()).isEqualTo(Quality.SPIKE);
    }

    private static boolean keeps(Reading stored, Reading raw) {
        String name = raw.channel().name();
        boolean named =
                stored.channel().name().equals(name) || stored.channel().name().equals(name + "-raw");
        boolean same = Double.compare(stored.value(), raw.value()) == 0
                && stored.unit().equals(raw.unit());
        boolean converted = !stored.quality().isBad()
                && stored.unit().quantity() == raw.unit().quantity()
                && stored.value() == raw.unit().convert(raw.value(), stored.unit());
        boolean fault = raw.quality().isBad() && stored.quality() == raw.quality();
        return named && stored.sourceTime().equals(raw.sourceTime()) && (same || converted || fault);
    }

    /** A plain reading gives way to its own raw one, from which it is made again. */
    private static boolean isSourceOf(Reading stored, Reading raw) {
        return stored.channel().name().equals(raw.channel().name() + "-raw")
                && stored.sourceTime().equals(raw.sourceTime());
    }

    private static Reading chamber(CorrectionChain chain, double second, double celsius) {
        return only("chamber", chain.correct(List.of(at(second, "chamber", celsius, CELSIUS))));
    }
}
