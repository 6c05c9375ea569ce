package org.bankfire.analysis.outlook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.burnfit.BurnRecorder;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.SteadyForge;
import org.bankfire.analysis.outlook.IdleAdvice.Kind;
import org.bankfire.analysis.prediction.GasProgramme;
import org.bankfire.analysis.prediction.Prediction;
import org.bankfire.analysis.prediction.PredictionRequest;
import org.bankfire.analysis.prediction.Predictor;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class OutlooksTest {
    private static final OutlookSettings USUAL = OutlookSettings.of(Sheds.shed());
    /** Of a forge that is known exactly, what is left is noise of the readings and steps of the walk. */
    private static final double SURE_K = 2;

    private static IdleAdvice idle(Sheds.Going going, OutlookSettings settings) {
        return Outlooks.of(Sheds.sure(), going.record(), settings).idle().orElseThrow();
    }

    private static Settling settling(Sheds.Going going) {
        return Outlooks.of(Sheds.sure(), going.record(), USUAL).settling().orElseThrow();
    }

    @Test
    void theForecastOfAForgeThatIsKnownIsWhatHappens() {
        Sheds.Going going = Sheds.atTarget(Sheds.asDescribed()).at(50e3, 300);
        Settling settling = settling(going);
        assertThat(settling.curve()).hasSize(60);
        for (Settling.Point point : settling.curve()) {
            assertThat(point.chamberK().value())
                    .as("after %s s", point.aheadS())
                    .isCloseTo(going.aheadK(50e3, point.aheadS()), within(SURE_K));
        }
        double soakedK = new SteadyForge(going.model(), true, Sheds.AMBIENT_K)
                .at(new Firing(going.model().gasKgPerS(50e3, Sheds.AMBIENT_K), true))
                .chamberK();
        assertThat(settling.soakedK().value()).isCloseTo(soakedK, within(SURE_K));
    }

    @Test
    void steadyIsTheFirstMomentAfterWhichFiveMinutesChangeNothing() {
        Sheds.Going going = Sheds.atTarget(Sheds.asDescribed()).at(50e3, 300);
        Settling settling = settling(going);
        assertThat(settling.already()).isFalse();
        double untilS = settling.untilS().value();
        double before = going.aheadK(50e3, untilS - 100 + 300) - going.aheadK(50e3, untilS - 100);
        double after = going.aheadK(50e3, untilS + 100 + 300) - going.aheadK(50e3, untilS + 100);
        assertThat(Math.abs(before)).isGreaterThan(5);
        assertThat(Math.abs(after)).isLessThan(5);
        assertThat(settling.steadyK().value()).isCloseTo(going.aheadK(50e3, untilS), within(SURE_K));
    }

    @Test
    void aForgeThatBurnsForHoursAsItIsIsSteadyAlready() {
        Settling settling = settling(new Sheds.Going(Sheds.asDescribed()).at(60e3, 4 * 3600));
        assertThat(settling.already()).isTrue();
        assertThat(settling.untilS().value()).isZero();
    }

    /** The description's forge is not the one that burns: it is learnt from the burn. */
    @Test
    void anotherForgeThanTheDescribedIsLearntFromTheBurn() {
        Sheds.Going going = Sheds.atTarget(Sheds.other()).at(45e3, 300);
        Outlook outlook = Outlooks.of(Sheds.described(), going.record(), USUAL);
        Settling settling = outlook.settling().orElseThrow();
        assertThat(outlook.doubts()).containsExactly(Doubt.NO_FIT);
        assertThat(outlook.missK()).isGreaterThan(10);
        assertThat(outlook.chamberK()).isCloseTo(going.now().chamberK(), within(2.0));
        for (Settling.Point point : settling.curve()) {
            if (point.aheadS() < 3600) {
                double trueK = going.aheadK(45e3, point.aheadS());
                assertThat(point.chamberK().value()).isCloseTo(trueK, within(12.0));
                assertThat(trueK)
                        .isBetween(
                                point.chamberK().low95() - 1, point.chamberK().high95() + 1);
            }
        }
    }

    @Test
    void theBandWidensIntoTheFutureAndTheSameQuestionHasTheSameAnswer() {
        Sheds.Going going = Sheds.atTarget(Sheds.other()).at(45e3, 300);
        Outlook outlook = Outlooks.of(Sheds.described(), going.record(), USUAL);
        List<Settling.Point> curve = outlook.settling().orElseThrow().curve();
        double first =
                curve.get(0).chamberK().high95() - curve.get(0).chamberK().low95();
        double last =
                curve.get(59).chamberK().high95() - curve.get(59).chamberK().low95();
        assertThat(first).isBetween(0.1, 12.0);
        assertThat(last).isGreaterThan(2 * first);
        assertThat(Outlooks.of(Sheds.described(), going.record(), USUAL)).isEqualTo(outlook);
    }

    @Test
    void theAdvisedPressureHoldsTheTarget() {
        Sheds.Going going = Sheds.atTarget(Sheds.asDescribed());
        IdleAdvice advice = idle(going, USUAL);
        assertThat(advice.kind()).isEqualTo(Kind.DOWN);
        assertThat(advice.turnPa()).isCloseTo(advice.advisedPa() - 110e3, within(500.0));
        double sum = 0;
        for (double share : new double[] {75, 150, 225, 300}) {
            sum += going.aheadK(advice.advisedPa(), share) / 4;
        }
        assertThat(sum).isCloseTo(Sheds.TARGET_K, within(SURE_K));
    }

    @Test
    void whatHoldsTheSoakedForgeIsWhatThePredictionSays() {
        IdleAdvice advice = idle(Sheds.atTarget(Sheds.asDescribed()), USUAL);
        Prediction prediction = Predictor.predict(
                Sheds.sure(), new PredictionRequest(GasProgramme.constant(110e3), 3600, true, 0, null, 0));
        // What readings and model are apart by counts as some kelvin of the target.
        assertThat(advice.soaked().pressurePa().value())
                .isCloseTo(prediction.idle().soakedPa().value(), withinPercentage(1.5));
        assertThat(advice.soaked().kgPerHour().value())
                .isCloseTo(prediction.idle().soakedKgPerHour().value(), withinPercentage(1.5));
    }

    @Test
    void theSoakingLiningTakesLessAndLess() {
        IdleAdvice advice = idle(Sheds.atTarget(Sheds.asDescribed()), USUAL);
        List<IdleAdvice.HoldPoint> curve = advice.curve();
        assertThat(curve).hasSizeBetween(6, IdleAdvice.MOST_POINTS);
        assertThat(curve.get(0).pressurePa()).isEqualTo(advice.now().pressurePa());
        for (int i = 1; i < curve.size(); i++) {
            assertThat(curve.get(i).pressurePa().value())
                    .isLessThan(curve.get(i - 1).pressurePa().value());
            assertThat(curve.get(i).kgPerHour()).isLessThan(curve.get(i - 1).kgPerHour());
        }
        assertThat(curve.get(curve.size() - 1).pressurePa().value())
                .isGreaterThan(advice.soaked().pressurePa().value());
    }

    @Test
    void aHotterTargetTakesMore() {
        Sheds.Going going = Sheds.atTarget(Sheds.asDescribed());
        IdleAdvice cooler = idle(going, USUAL.withTarget(Sheds.TARGET_K - 10));
        IdleAdvice hotter = idle(going, USUAL.withTarget(Sheds.TARGET_K + 10));
        assertThat(hotter.now().kgPerHour().value())
                .isGreaterThan(cooler.now().kgPerHour().value());
        assertThat(hotter.soaked().pressurePa().value())
                .isGreaterThan(cooler.soaked().pressurePa().value());
    }

    @ParameterizedTest
    @CsvSource({"90e3, NaN", "NaN, 15e3", "60e3, 90e3", "20e3, 30e3", "NaN, NaN"})
    void noAdviceLiesBeyondTheLimitsOfStableBurning(double lowPa, double highPa) {
        for (Sheds.Going going : List.of(
                Sheds.atTarget(Sheds.asDescribed()),
                Sheds.atTarget(Sheds.asDescribed()).at(40e3, 600),
                Sheds.atTarget(Sheds.asDescribed()).at(110e3, 600),
                new Sheds.Going(Sheds.asDescribed()).at(90e3, 240))) {
            IdleAdvice advice = idle(going, USUAL.withLimits(lowPa, highPa));
            double advisedPa = Double.isNaN(advice.advisedPa()) ? going.gaugePa() : advice.advisedPa();
            double laterPa = advice.advised().pressurePa().value();
            assertThat(laterPa < lowPa || laterPa > highPa)
                    .as("later %s Pa", laterPa)
                    .isFalse();
            assertThat(advisedPa < lowPa || (advice.kind() != Kind.HEATING && advisedPa > highPa))
                    .as("%s: %s Pa", advice.kind(), advisedPa)
                    .isFalse();
        }
    }

    @Test
    void aLimitInTheWaySaysHowFarTheChamberEndsFromTheTarget() {
        Sheds.Going going = Sheds.atTarget(Sheds.asDescribed());
        IdleAdvice low = idle(going, USUAL.withLimits(95e3, Double.NaN));
        assertThat(low.kind()).isEqualTo(Kind.LIMIT_LOW);
        assertThat(low.advisedPa()).isEqualTo(95e3);
        double endsK = new SteadyForge(going.model(), true, Sheds.AMBIENT_K)
                .at(new Firing(going.model().gasKgPerS(95e3, Sheds.AMBIENT_K), true))
                .chamberK();
        assertThat(low.aboveTargetK().value()).isCloseTo(endsK - Sheds.TARGET_K, within(SURE_K));
        assertThat(low.aboveTargetK().value()).isGreaterThan(50);
        IdleAdvice high = idle(going, USUAL.withLimits(Double.NaN, 10e3));
        assertThat(high.kind()).isEqualTo(Kind.LIMIT_HIGH);
        assertThat(high.advisedPa()).isEqualTo(10e3);
        assertThat(high.aboveTargetK().value()).isLessThan(0);
    }

    @Test
    void whatIsSetRightIsLeft() {
        Sheds.Going going = new Sheds.Going(Sheds.asDescribed()).at(40e3, 3 * 3600);
        IdleAdvice advice = idle(going, USUAL.withTarget(going.now().chamberK()));
        assertThat(advice.kind()).isEqualTo(Kind.LEAVE);
        assertThat(advice.turnPa()).isZero();
        assertThat(advice.advisedPa()).isCloseTo(40e3, within(300.0));
    }

    @Test
    void belowTheTargetItHeatsAndSaysForHowLong() {
        Sheds.Going going = new Sheds.Going(Sheds.asDescribed()).at(70e3, 120);
        IdleAdvice advice = idle(going, USUAL);
        assertThat(advice.kind()).isEqualTo(Kind.HEATING);
        assertThat(going.aheadK(70e3, advice.toTargetS().value())).isCloseTo(Sheds.TARGET_K, within(SURE_K));
        assertThat(advice.now().pressurePa().value()).isBetween(20e3, 70e3);
        assertThat(advice.advisedPa()).isNaN();
    }

    @Test
    void atAPressureThatNeverGetsThereTheWorkingPressureIsAdvisedIfItDoes() {
        Sheds.Going going = new Sheds.Going(Sheds.asDescribed()).at(110e3, 200).at(8e3, 900);
        IdleAdvice advice = idle(going, USUAL);
        assertThat(advice.kind()).isEqualTo(Kind.NEVER);
        assertThat(advice.advisedPa()).isCloseTo(110e3, within(1000.0));
        assertThat(advice.pause().relightS().value()).isNaN();
        IdleAdvice hopeless = idle(going, USUAL.withTarget(1850));
        assertThat(hopeless.kind()).isEqualTo(Kind.NEVER);
        assertThat(hopeless.advisedPa()).isNaN();
    }

    @Test
    void costIsGasTimesItsPriceAndNotANumberWithoutOne() {
        Sheds.Going going = Sheds.atTarget(Sheds.asDescribed());
        IdleAdvice priced = idle(going, USUAL.withPrice(2.5));
        assertThat(priced.now().costPerHour())
                .isCloseTo(2.5 * priced.now().kgPerHour().value(), within(1e-9));
        assertThat(priced.now().savedKgPerHour())
                .isCloseTo(priced.full().kgPerHour() - priced.now().kgPerHour().value(), within(1e-9));
        assertThat(priced.soaked().savedPerHour())
                .isCloseTo(2.5 * priced.soaked().savedKgPerHour(), within(1e-9));
        assertThat(priced.pause().saved())
                .isCloseTo(2.5 * priced.pause().savedKg().value(), within(1e-9));
        assertThat(priced.full().kgPerHour())
                .isCloseTo(3600 * going.model().gasKgPerS(110e3, Sheds.AMBIENT_K), withinPercentage(1));
        IdleAdvice free = idle(going, USUAL);
        assertThat(free.now().costPerHour()).isNaN();
        assertThat(free.pause().saved()).isNaN();
        assertThat(free.now().kgPerHour()).isEqualTo(priced.now().kgPerHour());
    }

    @Test
    void twoWaysThroughAPauseAddUpAndBreakEvenWhereSaid() {
        Sheds.Going going = Sheds.atTarget(Sheds.asDescribed()).at(60e3, 600);
        IdleAdvice.Pause tea = idle(going, USUAL.withPause(1200)).pause();
        IdleAdvice.Pause meal = idle(going, USUAL.withPause(3600)).pause();
        assertThat(tea.savedKg().value())
                .isCloseTo(tea.idleKg().value() - tea.relightKg().value(), within(1e-9));
        assertThat(meal.relightS().value()).isGreaterThan(tea.relightS().value());
        assertThat(meal.idleKg().value())
                .isBetween(2 * tea.idleKg().value(), 3 * tea.idleKg().value());
        assertThat(meal.breakEvenS()).isEqualTo(tea.breakEvenS());
        double most = Math.min(12 * 3600, 2 * Math.max(600, tea.breakEvenS()));
        assertThat(idle(going, USUAL.withPause(most)).pause().savedKg().value()).isPositive();
    }

    /** Heating back from a pause, run by hand. */
    @Test
    void waitingForTheRelitForgeIsWhatTheForgeTakes() {
        Sheds.Going going = Sheds.atTarget(Sheds.asDescribed());
        IdleAdvice.Pause pause = idle(going, USUAL.withPause(1200)).pause();
        org.bankfire.analysis.heat.ForgeRun run = going.now();
        run.fire(Firing.OFF);
        run.advanceTo(run.timeS() + 1200);
        run.fire(new Firing(going.model().gasKgPerS(110e3, Sheds.AMBIENT_K), true));
        run.advanceTo(run.timeS() + pause.relightS().value());
        assertThat(run.chamberK()).isCloseTo(Sheds.TARGET_K, within(3.0));
        assertThat(pause.relightKg().value())
                .isCloseTo(
                        pause.relightS().value() * going.model().gasKgPerS(110e3, Sheds.AMBIENT_K),
                        withinPercentage(1));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.05, 30, Double.NaN})
    void anAbsurdSteadyBandIsRefused(double kelvinPerMin) {
        assertThatIllegalArgumentException()
                .isThrownBy(() ->
                        new OutlookSettings(1300, kelvinPerMin, Double.NaN, Double.NaN, Double.NaN, Double.NaN, 600))
                .withMessageContaining("steady band in K/min");
    }

    @Test
    void limitsTheWrongWayRoundAreRefused() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> USUAL.withLimits(50e3, 40e3))
                .withMessage("the lowest stable pressure, 50000.0 Pa, must be below the highest, 40000.0 Pa");
    }

    private static List<Doubt> doubts(BurnRecord record) {
        Outlook outlook = Outlooks.of(Sheds.sure(), record, USUAL);
        assertThat(outlook.settling().isPresent())
                .isEqualTo(outlook.doubts().stream().noneMatch(Doubt::isSilencing));
        assertThat(outlook.idle().isPresent()).isEqualTo(outlook.settling().isPresent());
        return outlook.doubts();
    }

    @Test
    void whatCannotBeSaidIsSaid() {
        assertThat(doubts(new BurnRecorder().record())).containsExactly(Doubt.SHORT);
        assertThat(doubts(new Sheds.Going(Sheds.asDescribed()).at(90e3, 40).record()))
                .containsExactly(Doubt.SHORT);
        Sheds.Going hot = new Sheds.Going(Sheds.asDescribed()).at(90e3, 600);
        assertThat(doubts(hot.record())).isEmpty();
        assertThat(doubts(hot.stock(true).at(90e3, 60).record())).containsExactly(Doubt.STOCK_IN);
        assertThat(doubts(hot.stock(false).at(90e3, 60).record())).containsExactly(Doubt.STOCK_OUT);
        assertThat(doubts(hot.plug(false).at(90e3, 200).record())).containsExactly(Doubt.PLUG_OUT, Doubt.PLUG_MOVED);
        assertThat(doubts(hot.at(0, 30).record())).contains(Doubt.NOT_LIT);
    }

    @Test
    void aMissingPressureOrThermocoupleSilencesIt() {
        BurnRecord whole = new Sheds.Going(Sheds.asDescribed()).at(90e3, 900).record();
        List<Stretch> noGas = new ArrayList<>();
        List<Stretch> blind = new ArrayList<>();
        for (Stretch each : whole.stretches()) {
            boolean late = each.startS() > 600;
            noGas.add(new Stretch(
                    each.startS(),
                    each.endS(),
                    each.chamberK(),
                    each.samples(),
                    Double.NaN,
                    Double.NaN,
                    true,
                    true,
                    false));
            blind.add(new Stretch(
                    each.startS(),
                    each.endS(),
                    late ? Double.NaN : each.chamberK(),
                    late ? 0 : each.samples(),
                    each.gaugePa(),
                    Double.NaN,
                    true,
                    true,
                    false));
        }
        assertThat(doubts(new BurnRecord(noGas, 900, Double.NaN, Double.NaN))).containsExactly(Doubt.NO_PRESSURE);
        assertThat(doubts(new BurnRecord(blind, 600, Double.NaN, Double.NaN))).containsExactly(Doubt.NO_CHAMBER);
    }

    @Test
    void aForgeThatBehavesLikeNoneThatIsKnownSilencesIt() {
        BurnRecorder recorder = new BurnRecorder();
        for (int i = 0; i < 1200; i++) {
            recorder.chamber(i, 300 + i * 0.1);
            recorder.gas(i, 90e3);
        }
        assertThat(Outlooks.of(Sheds.sure(), recorder.record(), USUAL).doubts()).containsExactly(Doubt.MISFIT);
    }
}
