package org.bankfire.analysis.heat;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.lining.Material.ConductivityPoint;
import org.junit.jupiter.api.Test;

class SteadyForgeTest {
    private final ForgeModel model = Forges.model(Forges.bench());
    private final SteadyForge rest = new SteadyForge(model, true, Forges.AMBIENT_K);
    private final double mostKgPerS = model.gasKgPerS(4e5, Forges.AMBIENT_K);

    @Test
    void theGasThatHoldsATemperatureLeadsThere() {
        for (double chamberK : new double[] {900, 1100, 1300, 1473.15}) {
            double kgPerS = rest.holdingKgPerS(chamberK, mostKgPerS);
            assertThat(rest.at(new Firing(kgPerS, true)).chamberK()).isCloseTo(chamberK, within(0.01));
        }
    }

    @Test
    void aTemperatureOutOfReachIsHeldByNothing() {
        assertThat(rest.holdingKgPerS(2500, mostKgPerS)).isNaN();
        assertThat(rest.holdingKgPerS(280, mostKgPerS)).isNaN();
    }

    /** One material of one conductivity: Langmuir's shape factor between the faces (Incropera, table 4.1). */
    @Test
    void theSoakedLiningLosesByLangmuirsShapeFactor() {
        double hotK = 1273.15;
        double shellK = rest.shellK(hotK);
        // Class 23 brick: 0.14 W/(m K) up to 400 °C, then 0.1 per 1000 K more: the mean between shell and hot face.
        double above = hotK - 673.15;
        double mean = (0.14 * (673.15 - shellK) + (0.14 + 1e-4 * above / 2) * above) / (hotK - shellK);
        double shape = (0.2296 - 0.0099) / 0.076 + 0.54 * 4 * (0.2 + 0.16 + 0.23) + 8 * 0.15 * 0.076;
        // The bend of the curve lies within a cell.
        assertThat(rest.liningW(hotK)).isCloseTo(mean * shape * (hotK - shellK), withinPercentage(0.5));
        assertThat(shellK).isBetween(Forges.AMBIENT_K + 20, 473.0);
    }

    @Test
    void theLossIsLiningAndOpeningsOverTheExcess() {
        double hotK = 1273.15;
        double openings =
                model.effectiveOpeningM2(true) * 5.670374e-8 * (Math.pow(hotK, 4) - Math.pow(Forges.AMBIENT_K, 4));
        assertThat(rest.lossWPerK(hotK))
                .isCloseTo((rest.liningW(hotK) + openings) / (hotK - Forges.AMBIENT_K), withinPercentage(1e-4));
        assertThat(rest.lossWPerK(1473)).isGreaterThan(rest.lossWPerK(1073));
    }

    @Test
    void withoutGasAForgeEndsAtAmbient() {
        SteadyForge.State cold = rest.at(Firing.OFF);
        assertThat(cold.hotFaceK()).isCloseTo(Forges.AMBIENT_K, within(0.01));
        assertThat(cold.shellK()).isCloseTo(Forges.AMBIENT_K, within(0.01));
        assertThat(cold.ledgerW().input()).isZero();
    }

    /**
     * A tenfold conductivity over a few hundred kelvin in one thick cell: the balance at rest still is where a run ends. The
     * run's steps, each of days, wander there by some hundredths of a kelvin.
     */
    @Test
    void aSteepConductivityIsFollowedToTheEnd() {
        Material steep = new Material(
                "steep",
                200,
                1000,
                List.of(
                        new ConductivityPoint(400, 0.05),
                        new ConductivityPoint(700, 0.5),
                        new ConductivityPoint(1000, 1)),
                Double.NaN,
                "a test");
        List<Layer> lining = List.of(Forges.layer("dense-firebrick", 0.2), new Layer(steep, 0.02));
        ForgeModel odd = Forges.model(Forges.of(0.8e-3, lining, 0));
        Firing firing = Forges.firing(odd, 1e5);
        ForgeRun run = new ForgeRun(odd, Forges.AMBIENT_K, Forges.AMBIENT_K);
        run.fire(firing);
        run.advanceTo(1e8);
        SteadyForge.State end = new SteadyForge(odd, true, Forges.AMBIENT_K).at(firing);
        assertThat(end.hotFaceK()).isCloseTo(run.hotFaceK(), within(0.1));
        assertThat(end.shellK()).isCloseTo(run.shellK(), within(0.1));
        assertThat(end.ledgerW().lining()).isCloseTo(run.ledgerW().lining(), withinPercentage(0.05));
    }
}
