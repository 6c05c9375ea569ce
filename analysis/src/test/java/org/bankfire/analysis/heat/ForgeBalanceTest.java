package org.bankfire.analysis.heat;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import java.util.stream.DoubleStream;
import org.bankfire.analysis.quantity.Range;
import org.junit.jupiter.api.Test;

/** The heat ledger closes, and a run ends where the balance at rest says. */
class ForgeBalanceTest {
    private static final double SHARE = 1e-6;
    /** Ten units in the last place. */
    private static final double ROUNDING = 2e-15;

    private static final double HOT_K = 1000;
    private static final double GAS_K = 1e-9;
    private static final double LARGEST_W_PER_K = 20;
    private static final int FORGES = 240;
    private static final Range AMBIENT_K = new Range(233, 323);

    /**
     * In J, of the input; without one, of the greatest entry. In a forge at rest without gas there is next to none: there
     * it is what the heat held is rounded by, and 1e-9 K of gas temperature over the time that passed.
     */
    private static void assertClosed(HeatLedger ledger, ForgeModel model, double seconds, String where) {
        double greatest = DoubleStream.of(
                        ledger.flue(), ledger.lining(), ledger.openings(), ledger.stock(), ledger.stored())
                .map(Math::abs)
                .max()
                .orElseThrow();
        double least = ROUNDING * model.grid().capacityJPerK() * HOT_K + GAS_K * LARGEST_W_PER_K * seconds;
        double allowed = SHARE * (ledger.input() > 0 ? ledger.input() : Math.max(greatest, least / SHARE));
        assertThat(Math.abs(ledger.gap())).as("%s: %s", where, ledger).isLessThanOrEqualTo(allowed);
    }

    /** Each call is one step of the run, or the few that it makes of it; the ledger of the last and of all are looked at. */
    @Test
    void theLedgerOfAnyForgeClosesAtEveryStep() {
        SplittableRandom random = new SplittableRandom(20_260_203);
        int steps = 0;
        for (int forge = 0; forge < FORGES; forge++) {
            ForgeModel model = Forges.random(random);
            ForgeRun run = new ForgeRun(
                    model,
                    random.nextDouble(AMBIENT_K.low(), 900),
                    random.nextDouble(AMBIENT_K.low(), AMBIENT_K.high()));
            run.fire(Forges.firing(model, random.nextDouble(5e3, 2.5e5)));
            HeatLedger before = run.ledgerJ();
            for (int n = 0; n < 150; n++) {
                if (n % 10 == 0) {
                    disturb(random, model, run);
                }
                double fromS = run.timeS();
                run.advanceTo(fromS + Math.max(0.25, 1.5 * run.lastStepS()));
                HeatLedger now = run.ledgerJ();
                String where = "forge " + forge + ", call " + n;
                assertClosed(run.ledgerW().over(1 / run.lastStepS()), model, run.lastStepS(), where + ", last step");
                assertClosed(now.since(before), model, run.timeS() - fromS, where + ", steps of the call");
                before = now;
                steps++;
            }
            assertClosed(run.ledgerJ(), model, run.timeS(), "forge " + forge + ", all");
        }
        assertThat(steps).isEqualTo(FORGES * 150);
    }

    private static void disturb(SplittableRandom random, ForgeModel model, ForgeRun run) {
        switch (random.nextInt(8)) {
            case 0 -> run.fire(Firing.OFF);
            case 1, 2, 3 -> run.fire(Forges.firing(model, random.nextDouble(5e3, 2.5e5)));
            case 4 -> run.fire(new Firing(model.gasKgPerS(5e4, 293), false));
            case 5 -> run.plug(random.nextBoolean());
            case 6 ->
                run.stockIn(
                        new Bar(random.nextDouble(0.004, 0.08), random.nextDouble(0.02, 0.3)),
                        random.nextDouble(250, 1400));
            default -> run.stockOut();
        }
    }

    /** What a bar takes is what its steel holds more of, also through the transformation. */
    @Test
    void theStockHoldsWhatTheLedgerSaysItTook() {
        ForgeModel model = Forges.model(Forges.bench());
        ForgeRun run = Forges.lit(model, 1e5);
        run.advanceTo(1800);
        Bar bar = new Bar(0.03, 0.1);
        run.stockIn(bar, 293.15);
        double before = run.ledgerJ().stock();
        run.advanceTo(1800 + 14_400);
        assertThat(run.stockCentreK()).isCloseTo(run.stockSurfaceK(), within(0.5));
        assertThat(run.stockCentreK()).isGreaterThan(1100);
        double taken = run.ledgerJ().stock() - before;
        double held = bar.massKg() * (Steel.heatJPerKg(run.stockCentreK()) - Steel.heatJPerKg(293.15));
        assertThat(taken).isCloseTo(held, within(5e-3 * held));
    }

    @Test
    void aForgeOfAnyKindComesToRestWhereTheBalanceAtRestIs() {
        SplittableRandom random = new SplittableRandom(20_260_204);
        for (int forge = 0; forge < FORGES; forge++) {
            ForgeModel model = Forges.random(random);
            double ambientK = random.nextDouble(AMBIENT_K.low(), AMBIENT_K.high());
            Firing firing = Forges.firing(model, random.nextDouble(5e3, 2.5e5));
            boolean plugIn = random.nextBoolean();
            ForgeRun run = new ForgeRun(model, ambientK, ambientK);
            run.fire(firing);
            run.plug(plugIn);
            run.advanceTo(1e8);
            SteadyForge.State rest = new SteadyForge(model, plugIn, ambientK).at(firing);
            assertThat(run.hotFaceK()).as("hot face of %s", forge).isCloseTo(rest.hotFaceK(), within(0.1));
            assertThat(run.shellK()).as("shell of %s", forge).isCloseTo(rest.shellK(), within(0.1));
            assertThat(run.gasK()).as("gas of %s", forge).isCloseTo(rest.gasK(), within(0.1));
            assertThat(run.chamberK()).as("probe of %s", forge).isCloseTo(rest.chamberK(), within(0.1));
            assertClosed(rest.ledgerW(), model, 1, "at rest, forge " + forge);
        }
    }

    /** A forge that stands in the cold, unlit, stays as cold as its workshop: nothing is made of nothing. */
    @Test
    void aColdForgeInAColdWorkshopStaysCold() {
        ForgeRun run = new ForgeRun(Forges.model(Forges.bench()), 228, 228);
        run.advanceTo(86_400);
        assertThat(run.hotFaceK()).isCloseTo(228, within(1e-6));
        assertThat(run.gasK()).isCloseTo(228, within(1e-6));
        assertThat(run.ledgerJ().flue()).isCloseTo(0, within(1e-3));
    }
}
