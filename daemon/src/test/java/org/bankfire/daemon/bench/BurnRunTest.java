package org.bankfire.daemon.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.daemon.bench.Act.Deed;
import org.junit.jupiter.api.Test;

class BurnRunTest {
    private static final long OUT_AT_WORK = 10;

    @Test
    void sameSeedHasTheSameOutcome() {
        BurnOutcome once = BurnRun.of(BurnPlan.of(OUT_AT_WORK));
        assertThat(BurnRun.of(BurnPlan.of(OUT_AT_WORK))).isEqualTo(once);
        assertThat(once.kind()).isEqualTo("out-at-work");
    }

    @Test
    void watcherSeesTheFlameGoOutWhenTheOutcomeSays() {
        List<Double> litS = new ArrayList<>();
        BurnPlan plan = BurnPlan.of(OUT_AT_WORK);
        BurnOutcome outcome = BurnRun.of(plan, (timeS, forge, feed, alarms) -> {
            if (forge.isLit()) {
                litS.add(timeS);
            }
        });
        assertThat(litS.get(litS.size() - 1)).isCloseTo(outcome.outS(), within(1.2 / plan.rateHz()));
        assertThat(outcome.litH() * 3_600).isLessThan(outcome.outS());
        assertThat(outcome.phase()).isNotEmpty();
    }

    @Test
    void gasThatNobodyLightsIsCalled() {
        BurnOutcome outcome = BurnRun.of(BurnPlan.of(8));
        assertThat(outcome.kind()).isEqualTo("no-ignition");
        assertThat(outcome.litH()).isZero();
        assertThat(outcome.noIgnitionS()).isBetween(13.0, 15.0);
        assertThat(outcome.annunciations()).containsKey("no-ignition");
    }

    @Test
    void regulatorTurnsAsSlowlyAsItIsPlanned() {
        BurnPlan plan = quiet(List.of(
                new Act(1, Deed.TURN, 80_000, 0),
                new Act(1, Deed.GAS_ON),
                new Act(2, Deed.LIGHT),
                new Act(100, Deed.TURN, 40_000, 40)));
        List<double[]> seen = new ArrayList<>();
        BurnOutcome ignored =
                BurnRun.of(plan, (timeS, forge, feed, alarms) -> seen.add(new double[] {timeS, forge.pressurePa()}));
        double at99 = pressureAt(seen, 99);
        double at120 = pressureAt(seen, 120);
        double at145 = pressureAt(seen, 145);
        assertThat(at120 / at99).isCloseTo(0.75, within(0.03));
        assertThat(at145 / at99).isCloseTo(0.5, within(0.03));
        assertThat(ignored.falseFlameOuts()).isEmpty();
    }

    private static BurnPlan quiet(List<Act> acts) {
        BurnPlan plan = BurnPlan.of(3);
        return new BurnPlan(
                3,
                BurnPlan.Kind.QUIET,
                plan.traits(),
                plan.described(),
                20,
                10,
                acts,
                200,
                4,
                new FaultPlan(0, 0, 0, 0, 0, 0, 0, 0.01, false, 1),
                plan.rating(),
                0.1);
    }

    private static double pressureAt(List<double[]> seen, double timeS) {
        return seen.stream().filter(each -> each[0] >= timeS).findFirst().orElseThrow()[1];
    }
}
