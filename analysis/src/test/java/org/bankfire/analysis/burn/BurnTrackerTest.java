package org.bankfire.analysis.burn;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.bankfire.analysis.steady.Steadiness;
import org.bankfire.analysis.steady.SteadyTest;
import org.junit.jupiter.api.Test;

class BurnTrackerTest {
    private final List<String> stages = new ArrayList<>();
    private final Random noise = new Random(11);
    private double celsius = 1100;
    private int progresses;
    private final BurnTracker burns = new BurnTracker(
            new BurnListener() {
                @Override
                public void onStage(BurnBoundary.Stage stage, long atMicros, String why) {
                    stages.add(stage.code() + " " + atMicros / 1_000_000);
                }

                @Override
                public void onProgress(long atMicros) {
                    progresses++;
                }
            },
            SteadyTest.USUAL_BAND_K_PER_MIN);

    @Test
    void steadyIsToldOnceAStretchAndEndsOnlyWhenClearlyBent() {
        burns.lit(s(0), s(0), "Lit.");
        run(0, 120, 20, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.HEATING);
        run(120, 900, 0.5, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.STEADY);
        assertThat(burns.steadiness(s(900)).state()).isEqualTo(Steadiness.State.STEADY);
        assertThat(stages).hasSize(2).first().isEqualTo("lit 0");
        double steadyAtS = Double.parseDouble(stages.get(1).replace("steady ", ""));
        assertThat(steadyAtS).isBetween(240.0, 420.0);
        assertThat(burns.steadiness(s(900)).steadyForS()).isBetween(900 - steadyAtS, 780.0);
        run(900, 1_200, 12, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.HEATING);
        run(1_200, 1_800, 0, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.STEADY);
        assertThat(stages).hasSize(3).last().asString().startsWith("steady ");
    }

    @Test
    void aForgeThatIdlesIsSteadyWithoutLeavingOffToIdle() {
        burns.lit(s(0), s(0), "Lit.");
        run(0, 120, 20, 50e3);
        run(120, 600, 0, 50e3);
        run(600, 900, -20, 15e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.IDLING);
        assertThat(burns.steadiness(s(900)).state()).isEqualTo(Steadiness.State.MOVING);
        run(900, 1_800, -0.5, 15e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.IDLING);
        assertThat(burns.steadiness(s(1_800)).state()).isEqualTo(Steadiness.State.STEADY);
        assertThat(stages)
                .extracting(stage -> stage.replaceAll(" .*", ""))
                .containsExactly("lit", "steady", "idle", "steady");
    }

    @Test
    void turningUpFromAnIdleThatWasSteadyBeginsAnew() {
        burns.lit(s(0), s(0), "Lit.");
        run(0, 60, 20, 50e3);
        run(60, 600, 0, 15e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.IDLING);
        run(600, 620, 0, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.HEATING);
        assertThat(burns.steadiness(s(620)).state()).isEqualTo(Steadiness.State.CANNOT_TELL);
        run(620, 900, 0, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.STEADY);
        assertThat(stages)
                .extracting(stage -> stage.replaceAll(" .*", ""))
                .containsExactly("lit", "idle", "steady", "steady");
    }

    @Test
    void aConstantButColdChamberIsNotSteady() {
        celsius = 200;
        burns.lit(s(0), s(0), "Lit.");
        run(0, 600, 0, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.HEATING);
        assertThat(stages).containsExactly("lit 0");
    }

    @Test
    void turnedDownForTwentySecondsIsIdlingAndABlipIsNot() {
        burns.lit(s(0), s(0), "Lit.");
        run(0, 60, 20, 50e3);
        run(60, 70, 20, 15e3);
        run(70, 90, 20, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.HEATING);
        run(90, 120, -5, 15e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.IDLING);
        run(120, 140, 5, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.HEATING);
        assertThat(stages).containsExactly("lit 0", "idle 110");
    }

    @Test
    void coldAndCoolingPartWithAHysteresis() {
        burns.chamber(s(0), s(0), 90);
        assertThat(burns.phase()).isEqualTo(BurnPhase.COLD);
        burns.chamber(s(1), s(1), 110);
        assertThat(burns.phase()).isEqualTo(BurnPhase.COOLING);
        burns.chamber(s(2), s(2), 90);
        assertThat(burns.phase()).isEqualTo(BurnPhase.COOLING);
        burns.chamber(s(3), s(3), 70);
        assertThat(burns.phase()).isEqualTo(BurnPhase.COLD);
    }

    @Test
    void gasCountsFromLightingOnAndStaysWithTheBurnAfterItsEnd() {
        burns.lighting();
        for (int i = 0; i <= 5; i++) {
            burns.gas(s(i), s(i), 50e3, 1e-4);
        }
        burns.lit(s(5), s(0), "Lit.");
        for (int i = 6; i <= 100; i++) {
            burns.gas(s(i), s(i), 50e3, 1e-4);
        }
        assertThat(burns.gasUsedKg()).isCloseTo(0.01, within(1e-9));
        burns.out(s(100), s(99), "Gas off.");
        burns.lighting();
        burns.gas(s(200), s(200), 50e3, 1e-4);
        assertThat(burns.gasUsedKg()).isCloseTo(0.01, within(1e-9));
        assertThat(burns.endMicros()).isEqualTo(s(99));
        // Lit, each ten seconds, out.
        assertThat(progresses).isBetween(10, 12);
    }

    @Test
    void aGapIsBridgedUpToAMinuteAndNotBeyond() {
        GasMeter meter = new GasMeter();
        meter.add(s(0), 1e-3);
        meter.add(s(60), 2e-3);
        assertThat(meter.usedKg()).isCloseTo(0.09, within(1e-12));
        meter.add(s(121), 2e-3);
        assertThat(meter.usedKg()).isCloseTo(0.09, within(1e-12));
        meter.add(s(122), 2e-3);
        assertThat(meter.usedKg()).isCloseTo(0.092, within(1e-12));
    }

    private void run(int from, int to, double rateKPerMin, double pascal) {
        for (int i = from; i < to; i++) {
            burns.gas(s(i), s(i), pascal, 1e-4);
            burns.chamber(s(i), s(i), celsius + 0.3 * noise.nextGaussian());
            celsius += rateKPerMin / 60;
        }
    }

    private static long s(int seconds) {
        return seconds * 1_000_000L;
    }
}
