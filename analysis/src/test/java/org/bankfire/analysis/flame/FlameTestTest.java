package org.bankfire.analysis.flame;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Against {@link BenchForge}: 24 forges drawn by their seeds, with 1, 2, 4 or 10 samples a second, white noise of 0.2 to
 * 1.5 K and flutter of up to 2.5 K. The delays asked for are the targets of the alarm design, by probe lag.
 */
class FlameTestTest {
    private static final int FORGES = 24;
    /** Rated stock of a smith who puts in one bar at a time: 5 % of the inner surface. */
    private static final double ONE_BAR = 0.05;

    /** Seconds from light to the verdict must be well within the 15 s after which no ignition is raised. */
    @ParameterizedTest
    @ValueSource(doubles = {2, 12, 30})
    void aLitBurnerIsNoticedWithinTenSeconds(double lagS) {
        for (int seed = 1; seed <= FORGES; seed++) {
            Bench bench = new Bench(seed, lagS);
            double litAt = bench.light();
            assertThat(bench.forge.timeS() - litAt).as("forge %d", seed).isLessThanOrEqualTo(10);
        }
    }

    /** Two in 24 may be late, most of all those that are sampled once a second with a quick probe. */
    @ParameterizedTest
    @CsvSource({"2, 4", "12, 7", "30, 12"})
    void aFlameOutAtForgingTemperatureIsFoundInTime(double lagS, double withinS) {
        List<Double> late = new ArrayList<>();
        for (int seed = 1; seed <= FORGES; seed++) {
            Bench bench = new Bench(seed, lagS);
            bench.heatUp();
            double seconds = bench.secondsToFindFlameOut();
            assertThat(seconds).as("forge %d", seed).isLessThanOrEqualTo(30);
            if (seconds > withinS) {
                late.add(seconds);
            }
        }
        assertThat(late).hasSizeLessThanOrEqualTo(2);
    }

    @ParameterizedTest
    @CsvSource({"2, 10", "12, 20", "30, 30"})
    void aFlameOutSoonAfterLightingIsFoundInTime(double lagS, double withinS) {
        for (int seed = 1; seed <= FORGES; seed++) {
            Bench bench = new Bench(seed, lagS);
            bench.light();
            bench.run(bench.forge.between(15, 40));
            assertThat(bench.secondsToFindFlameOut()).as("forge %d", seed).isLessThanOrEqualTo(withinS);
        }
    }

    /** Four in 24 may be late: at a quarter of the pressure the amplitude is known least. */
    @ParameterizedTest
    @CsvSource({"2, 6", "12, 10", "30, 18"})
    void aFlameOutAtIdleIsFoundInTimeInNearlyEveryForgeAndInAMinuteInAll(double lagS, double withinS) {
        List<Double> late = new ArrayList<>();
        for (int seed = 1; seed <= FORGES; seed++) {
            Bench bench = new Bench(seed, lagS);
            bench.heatUp();
            bench.forge.pressurePa *= bench.forge.between(0.25, 0.4);
            bench.run(300);
            double seconds = bench.secondsToFindFlameOut();
            assertThat(seconds).as("forge %d", seed).isLessThanOrEqualTo(60);
            if (seconds > withinS) {
                late.add(seconds);
            }
        }
        assertThat(late).hasSizeLessThanOrEqualTo(4);
    }

    @ParameterizedTest
    @ValueSource(doubles = {2, 12, 30})
    void heatingAndThePlugAndTheRegulatorAndADraughtRaiseNothing(double lagS) {
        for (int seed = 1; seed <= FORGES; seed++) {
            Bench bench = new Bench(seed, lagS);
            bench.heatUp();
            bench.forge.plugOut = true;
            bench.run(60);
            bench.forge.plugOut = false;
            bench.run(60);
            double pressurePa = bench.forge.pressurePa;
            for (double part : new double[] {0.5, 1, 0.25, 1, 0.6, 0.2, 0.8, 1.3, 1}) {
                bench.forge.pressurePa = pressurePa * part;
                bench.run(bench.forge.between(5, 40));
            }
            bench.forge.draughtKgPerS = 0.1 * bench.forge.flow();
            bench.run(20);
            bench.forge.draughtKgPerS = 0;
            bench.run(60);
            assertThat(bench.flameOuts).as("forge %d", seed).isZero();
        }
    }

    /** At forging temperature, and at a quarter to two fifths of its pressure ten minutes later. */
    @ParameterizedTest
    @ValueSource(doubles = {2, 12, 30})
    void theRatedStockRaisesNothingAtWorkOrIdle(double lagS) {
        for (int seed = 1; seed <= FORGES; seed++) {
            Bench bench = new Bench(seed, lagS, 1 / 12.0);
            bench.heatUp();
            for (int i = 0; i < 2; i++) {
                bench.forge.stockIn(1 / 12.0);
                bench.run(150);
                bench.forge.stockOut();
                bench.forge.pressurePa *= i == 0 ? bench.forge.between(0.25, 0.4) : 1;
                bench.run(600);
            }
            assertThat(bench.flameOuts).as("forge %d", seed).isZero();
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {2, 12, 30})
    void gasTurnedOffAtAnySpeedIsNoFlameOut(double lagS) {
        for (int seed = 1; seed <= FORGES; seed++) {
            Bench bench = new Bench(seed, lagS);
            bench.heatUp();
            double closingS = seed % 4;
            double pressurePa = bench.forge.pressurePa;
            for (double part = 0.9; part > 0; part -= 0.1) {
                bench.forge.pressurePa = pressurePa * part;
                bench.run(closingS / 10);
            }
            bench.forge.pressurePa = 0;
            bench.forge.lit = false;
            bench.run(120);
            assertThat(bench.flameOuts).as("forge %d", seed).isZero();
            assertThat(bench.test.verdict()).isEqualTo(FlameVerdict.NO_GAS);
        }
    }

    @Test
    void relightingAfterAFlameOutIsSeen() {
        for (int seed = 1; seed <= FORGES; seed++) {
            Bench bench = new Bench(seed, 12);
            bench.heatUp();
            bench.secondsToFindFlameOut();
            bench.run(20);
            bench.forge.lit = true;
            bench.run(20);
            assertThat(bench.test.verdict()).as("forge %d", seed).isEqualTo(FlameVerdict.BURNING);
        }
    }

    @Test
    void gasThatFlowsUnlitNeverCountsAsBurning() {
        for (int seed = 1; seed <= FORGES; seed++) {
            Bench bench = new Bench(seed, 12);
            bench.run(20);
            bench.forge.pressurePa = 0.5e5;
            bench.run(60);
            assertThat(bench.test.verdict()).as("forge %d", seed).isEqualTo(FlameVerdict.LIGHTING);
        }
    }

    @Test
    void aDarkWitnessBringsTheVerdictForward() {
        Bench without = new Bench(5, 30);
        without.heatUp();
        double aloneS = without.secondsToFindFlameOut();
        Bench with = new Bench(5, 30);
        with.witnessed = true;
        with.heatUp();
        assertThat(with.secondsToFindFlameOut()).isLessThan(aloneS);
    }

    /** One forge with its flame test, sampled like a real one. */
    private static final class Bench {
        final BenchForge forge;
        final FlameTest test;
        final double hz;
        boolean witnessed;
        int flameOuts;

        Bench(int seed, double lagS) {
            this(seed, lagS, ONE_BAR);
        }

        Bench(int seed, double lagS, double ratedStock) {
            forge = new BenchForge(seed, lagS);
            hz = new double[] {1, 2, 4, 10}[seed % 4];
            test = new FlameTest(forge.description(), ratedStock);
        }

        void run(double seconds) {
            double end = forge.timeS() + seconds - 1e-6;
            while (forge.timeS() < end) {
                forge.run(1 / hz);
                long at = Math.round(forge.timeS() * 1e6);
                test.gas(at, forge.pressurePa > 1000, forge.flow());
                if (witnessed) {
                    test.witness(at, forge.lit ? 0.9 : 0.05);
                }
                FlameVerdict before = test.verdict();
                test.chamber(at, forge.reading());
                if (test.verdict() == FlameVerdict.OUT && before != FlameVerdict.OUT) {
                    flameOuts++;
                }
            }
        }

        /** Opens the gas, strikes a light some seconds later; returns when. */
        double light() {
            run(20);
            forge.pressurePa = forge.between(0.2e5, 0.6e5);
            run(forge.between(0.5, 4));
            forge.lit = true;
            double litAt = forge.timeS();
            while (test.verdict() != FlameVerdict.BURNING && forge.timeS() < litAt + 60) {
                run(0.5);
            }
            return litAt;
        }

        /** Lights it and brings it to about 1150 °C as a person at the regulator would, in 20 minutes. */
        void heatUp() {
            light();
            run(forge.between(5, 30));
            forge.pressurePa = forge.between(0.6e5, 1.2e5);
            for (int i = 0; i < 150; i++) {
                run(8);
                if (forge.faceC() > 1180 && forge.pressurePa > 0.1e5) {
                    forge.pressurePa *= 0.93;
                } else if (forge.faceC() < 1120 && forge.pressurePa < 1.5e5 && i > 60) {
                    forge.pressurePa *= 1.05;
                }
            }
            assertThat(flameOuts).as("while heating").isZero();
        }

        double secondsToFindFlameOut() {
            forge.lit = false;
            double outAt = forge.timeS();
            while (test.verdict() != FlameVerdict.OUT && forge.timeS() < outAt + 120) {
                run(0.1);
            }
            return forge.timeS() - outAt;
        }
    }
}
