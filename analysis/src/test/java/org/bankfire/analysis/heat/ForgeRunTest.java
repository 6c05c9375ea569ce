package org.bankfire.analysis.heat;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import java.util.Map;
import org.bankfire.analysis.Fixtures;
import org.bankfire.analysis.lining.Layer;
import org.bankfire.analysis.lining.Material;
import org.bankfire.analysis.lining.Material.ConductivityPoint;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ForgeRunTest {
    /** NIST, FDS verification, thermocouple_time_constant: a step from 20 to 30 °C, printed to 0.001 K. */
    @Test
    void theProbeLagsAsTheThermocouplesOfFds() {
        for (double lagS : new double[] {0.5, 3, 8}) {
            String column = "T_tau" + (lagS < 1 ? "0.5" : Integer.toString((int) lagS));
            double probe = 20;
            double timeS = 0;
            for (Map<String, String> row : Fixtures.rows("heat-conduction/fds_thermocouple_time_constant.csv")) {
                double atS = Fixtures.number(row, "t_s");
                probe = ForgeRun.follow(lagS, probe, 30, 30, atS - timeS);
                timeS = atS;
                assertThat(probe)
                        .as("%s s behind, %s s", lagS, atS)
                        .isCloseTo(Fixtures.number(row, column), within(6e-4));
            }
        }
    }

    /** Doebelin, Measurement Systems (from memory): behind a ramp a first-order probe ends up its lag times the rate late. */
    @Test
    void behindARampTheProbeIsLateByItsLag() {
        double probe = 300;
        for (double timeS = 0; timeS < 200; timeS += 0.7) {
            probe = ForgeRun.follow(8, probe, 300 + 2 * timeS, 300 + 2 * (timeS + 0.7), 0.7);
        }
        assertThat(probe).isCloseTo(300 + 2 * (200.2 - 8), within(1e-6));
        assertThat(ForgeRun.follow(0, 300, 400, 410, 1)).isEqualTo(410);
    }

    /** The lagged probe of a run is what a lag makes of the probe without one. */
    @ParameterizedTest
    @ValueSource(doubles = {5, 60})
    void theProbeOfARunLagsBehindWhatItWouldShowAtOnce(double lagS) {
        List<Layer> lining = List.of(Forges.layer("insulating-firebrick-23", 0.076));
        ForgeRun quick = Forges.lit(Forges.model(Forges.of(0.8e-3, lining, 0)), 1e5);
        ForgeRun slow = Forges.lit(Forges.model(Forges.of(0.8e-3, lining, lagS)), 1e5);
        // At once the probe sees the flame's gas; it is then that it starts to follow.
        quick.advanceTo(0.01);
        slow.advanceTo(0.01);
        double expected = slow.chamberK();
        double stepS = 0.05;
        for (int n = 1; n <= 12_000; n++) {
            double before = quick.chamberK();
            quick.advanceTo(0.01 + n * stepS);
            double middle = (before + quick.chamberK()) / 2;
            expected = middle + (expected - middle) * Math.exp(-stepS / lagS);
        }
        slow.advanceTo(0.01 + 600);
        assertThat(slow.chamberK()).isCloseTo(expected, within(0.5));
        assertThat(slow.hotFaceK()).isCloseTo(quick.hotFaceK(), within(0.5));
        assertThat(slow.chamberK()).isLessThan(quick.chamberK());
    }

    /** Also where gas goes off and the draught of the openings, which is set once a step, takes over; 1 K of 1200. */
    @Test
    void stepsOfItsOwnChoiceAreAsGoodAsShortOnes() {
        ForgeModel model = Forges.model(Forges.bench());
        ForgeRun free = Forges.lit(model, 1e5);
        ForgeRun careful = Forges.lit(model, 1e5);
        for (double timeS : new double[] {60, 300, 900, 1800}) {
            compare(free, careful, timeS);
        }
        free.fire(Firing.OFF);
        careful.fire(Firing.OFF);
        for (double timeS : new double[] {1860, 2400, 3600, 7200}) {
            compare(free, careful, timeS);
        }
    }

    private static void compare(ForgeRun free, ForgeRun careful, double timeS) {
        free.advanceTo(timeS);
        for (double now = careful.timeS(); now < timeS; now += 0.5) {
            careful.advanceTo(now + 0.5);
        }
        assertThat(free.hotFaceK()).as("hot face at %s s", timeS).isCloseTo(careful.hotFaceK(), within(1.0));
        assertThat(free.shellK()).as("shell at %s s", timeS).isCloseTo(careful.shellK(), within(0.2));
        assertThat(free.ledgerJ().flue()).isCloseTo(careful.ledgerJ().flue(), withinPercentage(0.2));
    }

    /** For the first minutes the wall is thick: its face rises as √t, twice as far in four times the time. */
    @Test
    void underASteadyFlameTheHotFaceRisesWithTheRootOfTime() {
        ForgeModel model = Forges.model(Forges.bench());
        ForgeRun run = Forges.lit(model, 1e4);
        run.advanceTo(15);
        double early = run.hotFaceK() - Forges.AMBIENT_K;
        run.advanceTo(60);
        double late = run.hotFaceK() - Forges.AMBIENT_K;
        // Less than 2: the hotter the face, the less it takes.
        assertThat(late / early).isBetween(1.3, 2.0);
    }

    @Test
    void gasIsCounted() {
        ForgeModel model = Forges.model(Forges.bench());
        ForgeRun run = Forges.lit(model, 1e5);
        double kgPerS = Forges.firing(model, 1e5).gasKgPerS();
        run.advanceTo(600);
        run.fire(Firing.OFF);
        run.advanceTo(900);
        assertThat(run.gasKg()).isCloseTo(600 * kgPerS, withinPercentage(1e-6));
        assertThat(run.ledgerJ().input())
                .isCloseTo(
                        run.gasKg() * model.forge().burner().fuel().lowerHeatingValueJPerKg(), withinPercentage(1e-6));
    }

    @Test
    void unburntGasCoolsAHotChamber() {
        ForgeModel model = Forges.model(Forges.bench());
        ForgeRun unlit = new ForgeRun(model, 1200, Forges.AMBIENT_K);
        ForgeRun shut = new ForgeRun(model, 1200, Forges.AMBIENT_K);
        unlit.fire(new Firing(model.gasKgPerS(1e5, Forges.AMBIENT_K), false));
        unlit.advanceTo(60);
        shut.advanceTo(60);
        assertThat(unlit.hotFaceK()).isLessThan(shut.hotFaceK() - 10);
        assertThat(unlit.ledgerJ().input()).isZero();
        assertThat(unlit.gasKg()).isPositive();
    }

    @Test
    void whatCannotBeIsRefused() {
        ForgeModel model = Forges.model(Forges.bench());
        assertThatThrownBy(() -> new ForgeRun(model, Double.NaN, 293))
                .hasMessage("start temperature in K is NaN: allowed are 200.0 to 1900.0");
        assertThatThrownBy(() -> new ForgeRun(model, 293, 400))
                .hasMessage("ambient in K is 400.0: allowed are 223.15 to 333.15");
        ForgeRun run = new ForgeRun(model, 293, 293);
        Bar bar = new Bar(0.02, 0.1);
        assertThatThrownBy(() -> run.stockIn(bar, Double.NaN))
                .hasMessage("temperature of the bar in K is NaN: allowed are 200.0 to 1900.0");
        assertThatThrownBy(() -> run.ambient(Double.NaN)).hasMessageContaining("ambient in K is NaN");
        assertThatThrownBy(() -> run.advanceTo(-1)).hasMessage("cannot go from 0.0 s to -1.0 s");
        assertThatThrownBy(() -> run.advanceTo(Double.NaN)).hasMessageContaining("NaN s");
        assertThatThrownBy(() -> run.advanceTo(Double.POSITIVE_INFINITY)).hasMessageContaining("Infinity s");
        assertThatThrownBy(() -> new Firing(-1e-3, true)).hasMessage("gas flow is -0.001 kg/s: it must be 0 or more");
        assertThatThrownBy(() -> new Firing(Double.NaN, true)).hasMessageContaining("NaN kg/s");
        assertThatThrownBy(() -> new SteadyForge(model, true, Double.NaN)).hasMessageContaining("ambient in K is NaN");
    }

    @Test
    void parametersThatCannotBeAreRefused() {
        assertThatThrownBy(() -> new ForgeParameters(0, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1))
                .hasMessage("heat release factor is 0.0: allowed are 0.2 to 5.0");
        assertThatThrownBy(() -> new ForgeParameters(1, 0.3, 1, 1, 1, 0, 1, 1, 1, 1, 1))
                .hasMessage("mixture is 0.3: allowed are 0.4 to 5.0");
        assertThatThrownBy(() -> new ForgeParameters(1, 1, 1, 1, 1, -1, 1, 1, 1, 1, 1))
                .hasMessage("probe lag in s is -1.0: allowed are 0.0 to 300.0");
        assertThatThrownBy(() -> new ForgeParameters(1, 1, 1, 1, 1, 0, 1, Double.NaN, 1, 1, 1))
                .hasMessage("gas emissivity factor is NaN: allowed are 0.1 to 10.0");
    }

    /** A wall that hardly gives way: what a bar sees then is a black enclosure of one temperature but for its own greyness. */
    private static ForgeModel massive() {
        Material block =
                new Material("massive", 5000, 5000, List.of(new ConductivityPoint(300, 50)), Double.NaN, "a test");
        return Forges.model(Forges.of(0.8e-3, List.of(new Layer(block, 0.2)), 0));
    }

    /**
     * A bar of 60 mm: the five shells of the product against sixty shells and explicit steps of 2 ms written here, both
     * given the same heat at the surface; through the transformation, which a coarse bar sees in steps of a shell.
     */
    @Test
    void aThickBarHeatsThroughAsAFineOneDoes() {
        ForgeRun run = new ForgeRun(massive(), 1473.15, 333);
        Bar bar = new Bar(0.06, 0.1);
        run.stockIn(bar, 293.15);
        FineBar fine = new FineBar(bar, 60, 293.15);
        double worstK = 0;
        double greatestK = 0;
        for (int second = 1; second <= 2400; second++) {
            double before = run.ledgerJ().stock();
            run.advanceTo(second);
            fine.heat(run.ledgerJ().stock() - before, 500, 2e-3);
            worstK = Math.max(worstK, Math.abs(run.stockCentreK() - fine.centreK()));
            worstK = Math.max(worstK, Math.abs(run.stockSurfaceK() - fine.surfaceK()));
            greatestK = Math.max(greatestK, fine.surfaceK() - fine.centreK());
        }
        // The bar is far from one temperature, so that the comparison means something.
        assertThat(greatestK).isGreaterThan(60);
        assertThat(worstK).isLessThan(8);
        assertThat(run.stockCentreK()).isCloseTo(fine.centreK(), within(1.0));
    }

    /** Enthalpy method, explicit, cells between even radii. */
    private static final class FineBar {
        private final double[] heatJ;
        private final double[] kelvin;
        private final double[] kg;
        private final double lengthM;

        FineBar(Bar bar, int cells, double startK) {
            heatJ = new double[cells];
            kelvin = new double[cells];
            kg = new double[cells];
            lengthM = bar.lengthM();
            double stepM = bar.diameterM() / 2 / cells;
            for (int i = 0; i < cells; i++) {
                kg[i] = 7850 * Math.PI * stepM * stepM * ((i + 1.0) * (i + 1) - (double) i * i) * lengthM;
                kelvin[i] = startK;
                heatJ[i] = kg[i] * Steel.heatJPerKg(startK);
            }
        }

        void heat(double joules, int steps, double stepS) {
            int last = kg.length - 1;
            for (int n = 0; n < steps; n++) {
                for (int i = 0; i < last; i++) {
                    double conductivity = Steel.conductivityWPerMK((kelvin[i] + kelvin[i + 1]) / 2);
                    // 2 π r k L ΔT / Δr at the border between two cells.
                    double flow = 2 * Math.PI * (i + 1) * conductivity * lengthM * (kelvin[i + 1] - kelvin[i]) * stepS;
                    heatJ[i] += flow;
                    heatJ[i + 1] -= flow;
                }
                heatJ[last] += joules / steps;
                for (int i = 0; i <= last; i++) {
                    kelvin[i] = Steel.temperatureK(heatJ[i] / kg[i]);
                }
            }
        }

        double centreK() {
            return kelvin[0];
        }

        double surfaceK() {
            return kelvin[kelvin.length - 1];
        }
    }

    /**
     * Carslaw and Jaeger, section 7.7: a cylinder under a steady flux is hotter at its surface by q r / 2k. Above 900 °C
     * steel has constant properties. The flux falls while the bar warms; the parabola follows it by r² / 16 α, the first
     * term of the ratio of its Bessel functions. Two per cent: its second term, and five shells.
     */
    @Test
    void aHotBarHasTheParabolaOfItsFlux() {
        ForgeRun run = new ForgeRun(massive(), 1800, 333);
        Bar bar = new Bar(0.06, 0.1);
        run.stockIn(bar, 1250);
        double lateS = 0.03 * 0.03 / 16 / (27.3 / (7850 * 650));
        // r² / 5.8² α, ten seconds, is when the start has died away by a factor of e.
        run.advanceTo(100 - lateS - 0.05);
        run.advanceTo(100 - lateS + 0.05);
        double fluxWPerM2 = run.ledgerW().stock() / bar.surfaceM2();
        run.advanceTo(100);
        double difference = run.stockSurfaceK() - run.stockCentreK();
        assertThat(difference).isCloseTo(fluxWPerM2 * 0.03 / (2 * 27.3), withinPercentage(2));
    }

    /** Stefan and Boltzmann, and the gas between, which the wall heats: some 8 W/(m² K) and a tenth of the radiation. */
    @Test
    void aColdBarTakesWhatTheWallRadiates() {
        ForgeRun run = new ForgeRun(massive(), 1473.15, 333);
        Bar bar = new Bar(0.06, 0.1);
        run.stockIn(bar, 293.15);
        run.advanceTo(1);
        double radiated = 0.8 * 5.670374e-8 * bar.surfaceM2() * (Math.pow(1473.15, 4) - Math.pow(293.15, 4));
        assertThat(run.ledgerW().stock() / radiated).isBetween(0.95, 1.25);
    }
}
