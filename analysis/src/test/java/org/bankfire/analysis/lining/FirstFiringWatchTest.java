package org.bankfire.analysis.lining;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.EnumSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.function.DoubleUnaryOperator;
import org.bankfire.analysis.burn.TemperatureTrend;
import org.bankfire.analysis.lining.FirstFiringWatch.Verdict;
import org.junit.jupiter.api.Test;

/** Scenes of our own: a chamber that follows a schedule, or does not, read with noise. */
class FirstFiringWatchTest {
    private static final FirstFiring TWO = new FirstFiring(
            List.of(new FirstFiring.Step(120, 60 / 3600.0, 3_600), new FirstFiring.Step(600, 150 / 3600.0, 1_800)));

    @Test
    void whoKeepsToTheScheduleHearsNothingHoweverNoisyTheProbe() {
        for (int seed = 1; seed <= 10; seed++) {
            Scene scene = new Scene(seed, 2);
            scene.run(6_000, t -> Math.min(121, 20 + 58 / 3600.0 * t));
            scene.run(9_700, t -> 120);
            assertThat(scene.watch.stepsDone()).as("seed %d", seed).isEqualTo(1);
            scene.run(21_500, t -> Math.min(601, 120 + 146 / 3600.0 * (t - 9_700)));
            scene.run(24_000, t -> 601);
            assertThat(scene.seen).as("seed %d", seed).containsExactly(Verdict.INSIDE);
            assertThat(scene.watch.isDone()).as("seed %d", seed).isTrue();
        }
    }

    @Test
    void aForgeThatIsLitAsOnAnyOtherDayIsTooFastWithinAMinute() {
        Scene scene = new Scene(2, 1);
        scene.run(60, t -> 20);
        scene.run(120, t -> 20 + 1.5 * (t - 60));
        assertThat(scene.watch.verdict()).isEqualTo(Verdict.TOO_FAST);
        double topC = 20 + 1.5 * 60;
        scene.run(300, t -> topC);
        assertThat(scene.watch.verdict()).isEqualTo(Verdict.INSIDE);
    }

    @Test
    void twiceTheAllowedRiseIsFoundThroughNoise() {
        Scene scene = new Scene(3, 2);
        scene.run(60, t -> 20);
        scene.run(3_000, t -> 20 + 120 / 3600.0 * (t - 60));
        assertThat(scene.seen).contains(Verdict.TOO_FAST);
        // 25 K of lead at 60 K/h too much are used up after 25 min, a little less where noise adds to it.
        assertThat(scene.firstAtS).isBetween(1_000.0, 1_900.0);
    }

    @Test
    void shortSpellsOfFlameThatKeepTheMeanAreNoFault() {
        Scene scene = new Scene(4, 1);
        scene.run(4_800, t -> 20 + 55 / 3600.0 * t + 8 * Math.sin(t / 40));
        assertThat(scene.seen).containsExactly(Verdict.INSIDE);
    }

    @Test
    void aHoldThatIsLeftEarlyIsSaidUntilTheChamberIsBack() {
        Scene scene = new Scene(5, 1);
        scene.run(6_000, t -> Math.min(120, 20 + 58 / 3600.0 * t));
        scene.run(7_200, t -> 120);
        double heldS = scene.watch.heldS();
        scene.run(8_700, t -> 120 + 55 / 3600.0 * (t - 7_200));
        assertThat(scene.watch.verdict()).isEqualTo(Verdict.HOLD_LEFT);
        assertThat(scene.watch.stepsDone()).isZero();
        assertThat(heldS).isBetween(1_000.0, 2_700.0);
        scene.run(8_800, t -> 118);
        assertThat(scene.watch.verdict()).isEqualTo(Verdict.INSIDE);
        scene.run(11_000, t -> 120);
        assertThat(scene.watch.stepsDone()).isEqualTo(1);
    }

    @Test
    void fallingBelowTheHoldOnlyStopsTheCountAndWhatIsFiredMayBePassedAtAnySpeed() {
        Scene scene = new Scene(6, 1);
        scene.watch.begin(1);
        scene.run(60, t -> 20);
        scene.run(120, t -> 20 + 1.5 * (t - 60));
        assertThat(scene.seen).containsExactly(Verdict.INSIDE);
        scene.run(240, t -> 110 + 1.5 * (t - 120));
        assertThat(scene.watch.verdict()).isEqualTo(Verdict.TOO_FAST);
        Scene below = new Scene(7, 1);
        below.run(6_200, t -> Math.min(120, 20 + 58 / 3600.0 * t));
        below.run(7_000, t -> 60);
        double heldS = below.watch.heldS();
        below.run(8_000, t -> 60);
        assertThat(below.watch.heldS()).isEqualTo(heldS).isPositive();
        assertThat(below.seen).containsExactly(Verdict.INSIDE);
    }

    @Test
    void theSchedulesOfTheLibraryRiseAndASchedulesStepsMust() {
        assertThat(FirstFiring.CASTABLE.steps()).hasSize(4);
        assertThat(FirstFiring.BLOCK.steps()).hasSize(3);
        FirstFiring.Step step = TWO.steps().get(0);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new FirstFiring(List.of(step, step)))
                .withMessageContaining("step 2", "120.0 °C");
        assertThatIllegalArgumentException().isThrownBy(() -> new FirstFiring.Step(5, 0.01, 0));
    }

    /** A chamber that is read four times a second. */
    private static final class Scene {
        final FirstFiringWatch watch = new FirstFiringWatch(TWO);
        final TemperatureTrend trend = new TemperatureTrend();
        final Set<Verdict> seen = EnumSet.noneOf(Verdict.class);
        final Random random;
        final double noiseK;
        double timeS;
        double firstAtS = Double.NaN;

        Scene(long seed, double noiseK) {
            this.random = new Random(seed);
            this.noiseK = noiseK;
        }

        void run(double toS, DoubleUnaryOperator celsius) {
            for (; timeS < toS; timeS += 0.25) {
                long at = Math.round(timeS * 1e6);
                double read = celsius.applyAsDouble(timeS) + noiseK * random.nextGaussian();
                trend.add(at, read);
                watch.chamber(at, read, trend.rateKPerMin(), trend.standardErrorKPerMin());
                seen.add(watch.verdict());
                if (watch.verdict() != Verdict.INSIDE && Double.isNaN(firstAtS)) {
                    firstAtS = timeS;
                }
            }
        }
    }
}
