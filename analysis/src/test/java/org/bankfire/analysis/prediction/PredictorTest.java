package org.bankfire.analysis.prediction;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.bankfire.analysis.forge.Burner;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.gas.Jet;
import org.bankfire.analysis.heat.Bar;
import org.bankfire.analysis.heat.Firing;
import org.bankfire.analysis.heat.ForgeModel;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.heat.ForgeRun;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Materials;
import org.bankfire.analysis.prediction.Prediction.Point;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class PredictorTest {
    private static final double ZERO_CELSIUS_K = 273.15;
    private static final GasProgramme FULL = GasProgramme.constant(1e5);

    static ForgeDescription forge(double jetM, double targetC) {
        return new ForgeDescription(
                "shed",
                "Shed",
                targetC + ZERO_CELSIUS_K,
                20 + ZERO_CELSIUS_K,
                0,
                new Burner(Fuel.PROPANE, jetM, 18e-3, 0.85, 0.05),
                0.2,
                0.16,
                0.23,
                12,
                List.of(new Layer(Materials.find("insulating-firebrick-23").orElseThrow(), 0.076)),
                List.of(new Opening("front", 0.09, 0.11, false), new Opening("rear", 0.076, 0.08, true)));
    }

    private static Prediction predict(GasProgramme programme, double durationS, int members) {
        return Predictor.predict(
                forge(0.8e-3, 1150), new PredictionRequest(programme, durationS, true, members, null, 0));
    }

    @Test
    void theSameQuestionHasTheSameAnswerToTheLastDigit() {
        assertThat(predict(FULL, 1800, 40)).isEqualTo(predict(FULL, 1800, 40));
    }

    @Test
    void theDescribedForgeLiesWithinItsBandAtEveryMoment() {
        Prediction prediction = predict(FULL, 7200, 128);
        for (Point point : prediction.curve()) {
            Band chamber = point.chamberK();
            assertThat(chamber.value()).as("at %s s", point.timeS()).isBetween(chamber.low95(), chamber.high95());
        }
        assertThat(prediction.steadyK().value())
                .isBetween(prediction.steadyK().low95(), prediction.steadyK().high95());
        assertThat(prediction.timeToTargetS().value())
                .isBetween(
                        prediction.timeToTargetS().low95(),
                        prediction.timeToTargetS().high95());
        // A band that is nothing, or everything, would say nothing.
        Band end = prediction.curve().get(prediction.curve().size() - 1).chamberK();
        assertThat(end.high95() - end.low95()).isBetween(40.0, 400.0);
    }

    @Test
    void aJetOfWhichNothingIsKnownStillGetsABand() {
        ForgeDescription known = forge(0.8e-3, 1150);
        ForgeDescription vague = new ForgeDescription(
                known.id(),
                known.name(),
                known.targetK(),
                known.ambientK(),
                known.altitudeM(),
                new Burner(Fuel.PROPANE, 0.8e-3, 18e-3, 0.3, Burner.DISCHARGE_UNCERTAINTY.high()),
                known.chamberWidthM(),
                known.chamberHeightM(),
                known.chamberDepthM(),
                known.probeLagS(),
                known.lining(),
                known.openings());
        Band steady = Predictor.predict(vague, new PredictionRequest(FULL, 600, true, 128, null, 0))
                .steadyK();
        assertThat(steady.low95()).isLessThan(steady.value());
        assertThat(steady.high95()).isGreaterThan(steady.value());
    }

    @Test
    void twiceTheMembersGiveNearlyTheSameBand() {
        Band few = predict(FULL, 1800, 128).steadyK();
        Band many = predict(FULL, 1800, 1024).steadyK();
        assertThat(few.low95()).isCloseTo(many.low95(), within(25.0));
        assertThat(few.high95()).isCloseTo(many.high95(), within(25.0));
    }

    @Test
    void timeToTargetIsWhenTheCurveGetsThere() {
        Prediction prediction = predict(FULL, 3600, 0);
        double timeS = prediction.timeToTargetS().value();
        ForgeModel model = new ForgeModel(forge(0.8e-3, 1150), ForgeParameters.of(forge(0.8e-3, 1150)));
        ForgeRun run = new ForgeRun(model, 293.15, 293.15);
        run.fire(new Firing(model.gasKgPerS(1e5, 293.15), true));
        run.advanceTo(timeS);
        assertThat(run.chamberK()).isCloseTo(1150 + ZERO_CELSIUS_K, within(0.2));
    }

    @Test
    void theSoakedIdlePressureHoldsTheTargetForEver() {
        Prediction first = predict(FULL, 3600, 0);
        double pressure = first.idle().soakedPa().value();
        Prediction held = predict(GasProgramme.constant(pressure), 3600, 0);
        assertThat(held.steadyK().value()).isCloseTo(1150 + ZERO_CELSIUS_K, within(0.1));
        assertThat(held.flame().kgPerHour())
                .isCloseTo(first.idle().soakedKgPerHour().value(), within(1e-6));
    }

    @Test
    void thePressureThatHoldsTheTargetAtFirstIsHigherAndHoldsItForAWhile() {
        Prediction full = predict(FULL, 3600, 0);
        double reachedS = full.timeToTargetS().value();
        double firstPa = full.idle().firstPa().value();
        assertThat(firstPa).isGreaterThan(1.5 * full.idle().soakedPa().value());
        GasProgramme thenHeld = GasProgramme.of(new double[] {0, reachedS, reachedS}, new double[] {1e5, 1e5, firstPa});
        List<Point> curve = predict(thenHeld, reachedS + 300, 0).curve();
        for (Point point : curve) {
            if (point.timeS() > reachedS) {
                assertThat(point.chamberK().value())
                        .as("at %s s", point.timeS())
                        .isCloseTo(1150 + ZERO_CELSIUS_K, within(30.0));
            }
        }
        assertThat(curve.get(curve.size() - 1).chamberK().value()).isCloseTo(1150 + ZERO_CELSIUS_K, within(1.0));
    }

    @Test
    void aRampInThePressureIsFollowedAsFineStepsWouldBe() {
        GasProgramme ramp = GasProgramme.of(new double[] {0, 1200}, new double[] {20e3, 120e3});
        double[] times = new double[2400];
        double[] pressures = new double[2400];
        for (int i = 0; i < 1200; i++) {
            times[2 * i] = i;
            times[2 * i + 1] = i + 1;
            pressures[2 * i] = 20e3 + 100e3 * (i + 0.5) / 1200;
            pressures[2 * i + 1] = pressures[2 * i];
        }
        Prediction coarse = predict(ramp, 1200, 0);
        Prediction fine = predict(GasProgramme.of(times, pressures), 1200, 0);
        for (int i = 0; i < coarse.curve().size(); i++) {
            assertThat(coarse.curve().get(i).chamberK().value())
                    .isCloseTo(fine.curve().get(i).chamberK().value(), within(0.5));
        }
        assertThat(coarse.curve().get(coarse.curve().size() - 1).gasKg())
                .isCloseTo(fine.curve().get(fine.curve().size() - 1).gasKg(), within(1e-5));
    }

    @Test
    void gasUsedIsTheJetsFlowOverTime() {
        Prediction prediction = predict(FULL, 3600, 0);
        double flow = Jet.massFlowKgPerS(Fuel.PROPANE.jetGas(), 0.8e-3, 0.85, 1e5, 101_325, 293.15);
        assertThat(prediction.curve().get(prediction.curve().size() - 1).gasKg())
                .isCloseTo(3600 * flow, within(1e-9));
    }

    @Test
    void everyMomentsLedgerAddsUpToTheHeatInput() {
        GasProgramme upAndOff = GasProgramme.of(new double[] {0, 600, 900, 900}, new double[] {1e5, 1e5, 4e4, 0});
        for (Point point : predict(upAndOff, 3600, 0).curve()) {
            double scale = Math.max(1, Math.abs(point.ledgerW().stored()));
            assertThat(point.ledgerW().gap()).as("at %s s", point.timeS()).isCloseTo(0, within(1e-6 * scale));
        }
    }

    @Test
    void aTargetThatIsNeverReachedIsToldAsSuch() {
        Prediction prediction = Predictor.predict(
                forge(0.4e-3, 1500), new PredictionRequest(GasProgramme.constant(5e4), 3600, true, 20, null, 0));
        assertThat(prediction.timeToTargetS().value()).isNaN();
        assertThat(prediction.timeToTargetS().high95()).isInfinite();
        assertThat(prediction.idle().firstPa().value()).isNaN();
    }

    /** Common practice, no source: a 16 mm bar put into a warming chamber needs more than two minutes to follow. */
    @Test
    void aBarPutIntoAWarmingChamberNeedsMoreThanTwoMinutesToFollow() {
        Prediction prediction = Predictor.predict(
                forge(0.8e-3, 1150), new PredictionRequest(FULL, 3600, true, 0, new Bar(0.016, 0.15), 300));
        assertThat(prediction.bar().orElseThrow().soakS()).isBetween(120.0, 600.0);
        assertThat(prediction.bar().orElseThrow().biot()).isLessThan(0.1);
    }

    @ParameterizedTest
    @ValueSource(ints = {-1, 1, 19, 2001})
    void aBandOfTooFewOrTooManyMembersIsRefused(int members) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new PredictionRequest(FULL, 3600, true, members, null, 0))
                .withMessage("members of the band are " + members + ": allowed are 0 and 20 to 2000");
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 59, 1e9, Double.NaN})
    void anAbsurdDurationIsRefused(double durationS) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new PredictionRequest(FULL, durationS, true, 0, null, 0))
                .withMessageContaining("duration in s is " + durationS);
    }

    @ParameterizedTest
    @ValueSource(doubles = {-1, 3600, Double.NaN})
    void aBarThatGoesInOutsideTheBurnIsRefused(double inS) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new PredictionRequest(FULL, 3600, true, 0, new Bar(0.016, 0.15), inS))
                .withMessageContaining("the bar goes in at " + inS);
    }
}
