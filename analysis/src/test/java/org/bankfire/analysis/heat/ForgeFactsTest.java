package org.bankfire.analysis.heat;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import org.bankfire.analysis.forge.ForgeDescription;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What every builder of such forges knows. Common practice, no source. */
class ForgeFactsTest {
    private static final double FORGING_K = 1273.15;

    @Test
    void jetsChangeTheHeatInputByTheirArea() {
        double small = Forges.firing(Forges.model(Forges.of(0.8e-3, "insulating-firebrick-23", 0.076)), 1e5)
                .gasKgPerS();
        double middle = Forges.firing(Forges.model(Forges.of(0.9e-3, "insulating-firebrick-23", 0.076)), 1e5)
                .gasKgPerS();
        double large = Forges.firing(Forges.model(Forges.of(1.0e-3, "insulating-firebrick-23", 0.076)), 1e5)
                .gasKgPerS();
        assertThat(middle / small).isCloseTo(81.0 / 64, withinPercentage(1e-9));
        assertThat(large / small).isCloseTo(100.0 / 64, withinPercentage(1e-9));
    }

    @ParameterizedTest
    @CsvSource({
        "0.8e-3, insulating-firebrick-23",
        "0.9e-3, insulating-firebrick-23",
        "1.0e-3, insulating-firebrick-23",
        "0.8e-3, aerated-concrete-500",
        "0.9e-3, aerated-concrete-500",
        "1.0e-3, aerated-concrete-500"
    })
    void aLightBlockForgeReachesForgingTemperatureInMinutes(double jetM, String material) {
        ForgeRun run = Forges.lit(Forges.model(Forges.of(jetM, material, 0.076)), 1e5);
        assertThat(Forges.secondsTo(run, FORGING_K, 1200)).isBetween(60.0, 1200.0);
    }

    @Test
    void aBarOfSixteenMillimetresNeedsMoreThanTwoMinutesToFollow() {
        ForgeRun run = Forges.lit(Forges.model(Forges.bench()), 1e5);
        run.advanceTo(600);
        run.stockIn(new Bar(0.016, 0.15), Forges.AMBIENT_K);
        run.advanceTo(720);
        assertThat(run.stockCentreK()).isLessThan(run.hotFaceK() - 100);
        // But no quarter of an hour: it does follow.
        run.advanceTo(1500);
        assertThat(run.stockCentreK()).isGreaterThan(run.hotFaceK() - 50);
    }

    @Test
    void aClosedRearHeatsFasterAndHotter() {
        ForgeModel model = Forges.model(Forges.bench());
        ForgeRun closed = Forges.lit(model, 1e5);
        ForgeRun open = Forges.lit(model, 1e5);
        open.plug(false);
        for (double timeS = 60; timeS <= 7200; timeS += 60) {
            closed.advanceTo(timeS);
            open.advanceTo(timeS);
            assertThat(closed.chamberK()).as("%s s", timeS).isGreaterThan(open.chamberK());
        }
        assertThat(closed.chamberK()).isGreaterThan(open.chamberK() + 10);
    }

    @Test
    void aDoubledLiningLosesLessAndEndsHotter() {
        ForgeDescription thin = Forges.of(0.8e-3, "insulating-firebrick-23", 0.076);
        ForgeDescription thick = Forges.of(
                0.8e-3,
                List.of(Forges.layer("insulating-firebrick-23", 0.076), Forges.layer("insulating-firebrick-23", 0.076)),
                5);
        SteadyForge one = new SteadyForge(Forges.model(thin), true, Forges.AMBIENT_K);
        SteadyForge two = new SteadyForge(Forges.model(thick), true, Forges.AMBIENT_K);
        // The wall alone halves the loss; its edges grow, and the outer face was never the hindrance.
        assertThat(two.liningW(FORGING_K)).isBetween(0.5 * one.liningW(FORGING_K), 0.8 * one.liningW(FORGING_K));
        assertThat(two.shellK(FORGING_K)).isLessThan(one.shellK(FORGING_K));
        Firing firing = Forges.firing(Forges.model(thin), 1e5);
        assertThat(two.at(firing).hotFaceK()).isGreaterThan(one.at(firing).hotFaceK());
        double most = Forges.model(thin).gasKgPerS(4e5, Forges.AMBIENT_K);
        assertThat(two.holdingKgPerS(FORGING_K, most)).isLessThan(one.holdingKgPerS(FORGING_K, most));
    }

    /** What the design says of light block: a loss read from the first minutes is several times the soaked one. */
    @Test
    void theWallTakesSeveralTimesMoreInTheFirstMinutesThanWhenSoaked() {
        ForgeModel model = Forges.model(Forges.bench());
        ForgeRun run = Forges.lit(model, 1e5);
        run.advanceTo(300);
        double intoWall = run.ledgerW().stored() + run.ledgerW().lining();
        assertThat(intoWall / (run.hotFaceK() - Forges.AMBIENT_K))
                .isGreaterThan(2.5
                        * new SteadyForge(model, true, Forges.AMBIENT_K).liningW(run.hotFaceK())
                        / (run.hotFaceK() - Forges.AMBIENT_K));
    }
}
