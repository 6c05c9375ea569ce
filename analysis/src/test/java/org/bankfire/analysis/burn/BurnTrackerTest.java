package org.bankfire.analysis.burn;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class BurnTrackerTest {
    private final List<String> stages = new ArrayList<>();
    private int progresses;
    private final BurnTracker burns = new BurnTracker(new BurnListener() {
        @Override
        public void onStage(BurnBoundary.Stage stage, long atMicros, String why) {
            stages.add(stage.code() + " " + atMicros / 1_000_000);
        }

        @Override
        public void onProgress(long atMicros) {
            progresses++;
        }
    });

    @Test
    void steadyNeedsAMinuteWithinTheBandAndLeavesItOnlyWhenClearlyBent() {
        burns.lit(s(0), s(0), "Lit.");
        run(0, 120, 1100, 20, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.HEATING);
        run(120, 200, 1100, 1, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.STEADY);
        run(200, 260, 1100, 5, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.STEADY);
        run(260, 280, 1100, 12, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.HEATING);
        assertThat(stages).containsExactly("lit 0", "steady 180");
    }

    @Test
    void aConstantButColdChamberIsNotSteady() {
        burns.lit(s(0), s(0), "Lit.");
        run(0, 300, 200, 0, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.HEATING);
    }

    @Test
    void turnedDownForTwentySecondsIsIdlingAndABlipIsNot() {
        burns.lit(s(0), s(0), "Lit.");
        run(0, 60, 1100, 20, 50e3);
        run(60, 70, 1100, 20, 15e3);
        run(70, 90, 1100, 20, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.HEATING);
        run(90, 120, 1100, -5, 15e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.IDLING);
        run(120, 140, 1100, 5, 50e3);
        assertThat(burns.phase()).isEqualTo(BurnPhase.HEATING);
        assertThat(stages).containsExactly("lit 0", "idle 110");
    }

    @Test
    void coldAndCoolingPartWithAHysteresis() {
        burns.chamber(s(0), 90, 0, 1);
        assertThat(burns.phase()).isEqualTo(BurnPhase.COLD);
        burns.chamber(s(1), 110, 0, 1);
        assertThat(burns.phase()).isEqualTo(BurnPhase.COOLING);
        burns.chamber(s(2), 90, 0, 1);
        assertThat(burns.phase()).isEqualTo(BurnPhase.COOLING);
        burns.chamber(s(3), 70, 0, 1);
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

    private void run(int from, int to, double celsius, double rate, double pascal) {
        for (int i = from; i < to; i++) {
            burns.gas(s(i), s(i), pascal, 1e-4);
            burns.chamber(s(i), celsius, rate, 0.3);
        }
    }

    private static long s(int seconds) {
        return seconds * 1_000_000L;
    }
}
