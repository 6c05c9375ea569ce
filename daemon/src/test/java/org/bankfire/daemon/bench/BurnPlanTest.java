package org.bankfire.daemon.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumSet;
import java.util.Set;
import org.bankfire.daemon.acquire.virtual.VirtualForge;
import org.bankfire.daemon.bench.Act.Deed;
import org.junit.jupiter.api.Test;

class BurnPlanTest {
    private static final int SEEDS = 30;

    @Test
    void sameSeedIsTheSamePlanAndAnotherIsNot() {
        assertThat(BurnPlan.of(7)).isEqualTo(BurnPlan.of(7)).isNotEqualTo(BurnPlan.of(8));
    }

    @Test
    void everyKindAndDeedAndLagIsDrawn() {
        Set<BurnPlan.Kind> kinds = EnumSet.noneOf(BurnPlan.Kind.class);
        Set<Deed> deeds = EnumSet.noneOf(Deed.class);
        Set<BenchTable.LagClass> lags = EnumSet.noneOf(BenchTable.LagClass.class);
        for (long seed = 0; seed < SEEDS; seed++) {
            BurnPlan plan = BurnPlan.of(seed);
            kinds.add(plan.kind());
            plan.acts().forEach(act -> deeds.add(act.deed()));
            double lagS = plan.traits().probe().lagS();
            lags.add(BenchTable.LagClass.of(lagS));
            assertThat(plan.described().probe().lagS()).isBetween(0.7 * lagS, 1.3 * lagS);
            assertThat(plan.rateHz()).isBetween(1.0, 10.0);
        }
        assertThat(kinds).containsExactlyInAnyOrder(BurnPlan.Kind.values());
        assertThat(deeds).containsExactlyInAnyOrder(Deed.values());
        assertThat(lags).containsExactlyInAnyOrder(BenchTable.LagClass.values());
    }

    @Test
    void stockIsNeverMoreThanRated() {
        Rating rating = new Rating(0.1, 0.2);
        double most = 0;
        for (long seed = 0; seed < SEEDS; seed++) {
            BurnPlan plan = BurnPlan.of(seed, rating);
            double lengthM = new VirtualForge(plan.traits(), 1).barLengthM();
            for (Act act : plan.acts()) {
                if (act.deed() == Deed.STOCK_IN) {
                    double m2 = Math.PI * act.value() * act.extra() * lengthM;
                    most = Math.max(most, m2 / plan.traits().chamber().surfaceM2());
                }
            }
        }
        assertThat(most).isBetween(0.09, 0.1001);
    }

    @Test
    void gasIsLeftAloneOnceTheFlameIsOut() {
        for (long seed = 0; seed < SEEDS; seed++) {
            BurnPlan plan = BurnPlan.of(seed);
            double outS = plan.acts().stream()
                    .filter(act -> act.deed() == Deed.FLAME_OUT)
                    .mapToDouble(Act::timeS)
                    .findFirst()
                    .orElse(Double.POSITIVE_INFINITY);
            assertThat(Double.isFinite(outS)).isEqualTo(plan.kind().losesTheFlame());
            assertThat(plan.acts()).noneMatch(act -> act.timeS() > outS && act.atTheGas());
        }
    }
}
