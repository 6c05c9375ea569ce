package org.bankfire.daemon.acquire.virtual;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ForgeTruthTest {
    /** Longer than the slowest lining takes to soak: thickness²/diffusivity is some ten hours at most. */
    private static final int SOAK_S = 40 * 3_600;

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void longBurnLosesWhatTheTruthSays(long seed) {
        VirtualForge forge = lit(RandomForge.of(seed), 90_000);
        run(forge, SOAK_S);
        HeatLedger before = forge.ledger();
        int spanS = 600;
        run(forge, spanS);
        HeatLedger after = forge.ledger();
        double lostW = (after.shellJ() + after.openingsJ() - before.shellJ() - before.openingsJ()) / spanS;
        double over = forge.hotFaceC() - forge.traits().ambientC();
        double truth = forge.truth().lossWPerK(forge.hotFaceC());
        assertThat(lostW / over).isCloseTo(truth, within(0.01 * truth));
        assertThat(forge.hotFaceC()).isCloseTo(forge.truth().steadyFaceC(forge.pressurePa()), within(6.0));
    }

    @Test
    void flatWallLosesWhatTheTextbookSays() {
        // A chamber of 1 m sides under a lining of 10 mm is nearly flat: q = ΔT / (L/k + 1/contact + 1/outside); its
        // edges
        // add 1 % to the way.
        ForgeTraits shed = ForgeTraits.shed();
        ForgeTraits flat = new ForgeTraits(
                new ForgeTraits.Chamber(1, 1, 1),
                List.of(new ForgeTraits.Layer(0.01, 500, 1_000, 0.2, 0)),
                new ForgeTraits.Hole(0.01, 0.01),
                shed.rear(),
                true,
                shed.burner(),
                shed.exchange(),
                shed.frame(),
                shed.probe(),
                shed.droopPaPerKgS(),
                20,
                101_325,
                shed.noise());
        double lossW = new ForgeTruth(flat).liningW(600);
        double flux = lossW / (6 * 1.02 * 1.02);
        double sheetC = 600 - lossW / 6.06 * 0.01 / 0.2 - flux / 40;
        double hot = sheetC + 273.15;
        double radiated = 0.9 * 5.67e-8 * (Math.pow(hot, 4) - Math.pow(293.15, 4));
        double natural = 1.42 * Math.pow((sheetC - 20) / 1.02, 0.25) * (sheetC - 20);
        assertThat(flux).isCloseTo(radiated + natural, within(0.02 * flux));
    }

    @ParameterizedTest
    @ValueSource(longs = {11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
    void ledgerOfARandomForgeCloses(long seed) {
        VirtualForge forge = lit(RandomForge.of(seed), 100_000);
        double heldJ = forge.ledger().heldJ();
        run(forge, 900);
        forge.stockIn(0.03);
        run(forge, 200);
        forge.pullPlug();
        run(forge, 200);
        forge.stockIn(0.012, 4, 0.03);
        forge.openFront(2);
        forge.blow(5e-4);
        run(forge, 100);
        forge.closeFront();
        forge.blow(0);
        forge.stockOut();
        forge.setPressure(25_000);
        run(forge, 600);
        forge.putOut();
        run(forge, 60);
        forge.closeGas();
        run(forge, 900);
        HeatLedger ledger = forge.ledger();
        double out = ledger.flueJ() + ledger.openingsJ() + ledger.shellJ() + ledger.stockJ();
        assertThat(out + ledger.heldJ() - heldJ).isCloseTo(ledger.releasedJ(), within(1e-6 * ledger.releasedJ()));
    }

    @Test
    void twoHundredForgesAreBelievable() {
        double[] loss = new double[200];
        double[] mixture = new double[200];
        for (int i = 0; i < loss.length; i++) {
            ForgeTruth truth = new ForgeTruth(RandomForge.of(i));
            assertThat(truth.steadyFaceC(40_000)).as("seed " + i).isBetween(850.0, 1_300.0);
            assertThat(truth.steadyFaceC(120_000)).as("seed " + i).isBetween(1_100.0, 1_340.0);
            loss[i] = truth.lossWPerK(1_100);
            mixture[i] = truth.mixture();
            assertThat(loss[i]).as("seed " + i).isBetween(0.7, 6.0);
            assertThat(mixture[i]).as("seed " + i).isBetween(0.85, 1.35);
            double opened = truth.lossWPerK(1_100, false);
            assertThat(opened / loss[i]).as("seed " + i).isBetween(1.02, 2.0);
        }
        Arrays.sort(loss);
        Arrays.sort(mixture);
        assertThat(loss[180] / loss[20]).as("they differ").isGreaterThan(1.5);
        assertThat(mixture[20]).as("rich ones too").isLessThan(1);
        assertThat(mixture[180]).as("lean ones too").isGreaterThan(1.2);
    }

    @ParameterizedTest
    @CsvSource({
        // Transmission probabilities of round tubes, P. Clausing (1932), as tabled in J. Vac. Sci. Technol. 8 (1971)
        // 636;
        // from memory. A tube that reradiates passes as a tube that scatters.
        "0.1, 0.9524",
        "0.5, 0.8013",
        "1, 0.6720",
        "2, 0.5142",
        "4, 0.3566",
        "10, 0.1910"
    })
    void holePassesWhatATubePasses(double lengthOverRadius, double published) {
        assertThat(Holes.passing(lengthOverRadius)).isCloseTo(published, within(0.003));
    }

    @Test
    void airFallsInMostWithoutAFlameAndNotAtAllAgainstAStrongOne() {
        Holes holes = new Holes(withDraught(0.6));
        double still = holes.draughtKgS(1_000, 0, true);
        // About half of A √H for fires of window size, 0.52 times (Drysdale, An Introduction to Fire Dynamics): 2e-3.
        assertThat(still).isBetween(0.0012, 0.0025);
        double against = holes.draughtKgS(1_000, 0.002, true);
        assertThat(against).isBetween(0.0001, 0.8 * still);
        assertThat(holes.draughtKgS(1_000, 0.006, true)).isZero();
        assertThat(holes.draughtKgS(1_000, 0, true)).isCloseTo(still, within(1e-9));
        assertThat(holes.draughtKgS(1_000, 0, false)).isGreaterThan(1.2 * still);
        assertThat(holes.draughtKgS(15, 0, true)).isZero();
    }

    @Test
    void flueGasCarriesWhatTheTablesSay() {
        // JANAF, H(1500 K) − H(298 K) in kJ/mol, from memory: CO2 61.71, H2O 48.15, N2 38.41, O2 40.60.
        BurntGas gas = new BurntGas(1.2, 25, 0.1, 1, 101_325);
        double perKg = (3 * 61.71e3 + 4 * 48.15e3 + 1 * 40.60e3 + 3.774 * 6 * 38.41e3) / 44.096e-3;
        assertThat(gas.burntJPerKg(1_226.85)).isCloseTo(perKg, within(0.003 * perKg));
        // Propane's lower heating value, 46.3 MJ/kg.
        assertThat(gas.releasedJPerKg()).isCloseTo(46.3e6, within(0.1e6));
    }

    @Test
    void richMixtureLosesHeatUnburnt() {
        BurntGas even = new BurntGas(1.0, 25, 0.1, 1, 101_325);
        BurntGas rich = new BurntGas(0.85, 25, 0.1, 1, 101_325);
        assertThat(even.unburntFraction()).isZero();
        assertThat(rich.unburntFraction()).isBetween(0.03, 0.12);
        // Each missing half mole of oxygen leaves 283 kJ as CO or 242 kJ as H2: 0.75 mol of oxygen lack.
        double lost = (even.releasedJPerKg() - rich.releasedJPerKg()) * 44.096e-3;
        assertThat(lost).isBetween(1.5 * 241e3, 1.5 * 284e3);
    }

    @Test
    void clearGasIsAFaintRadiator() {
        // Hottel's charts give some 0.08 for 0.03 atm m of carbon dioxide and water at 1500 °C; read from memory.
        BurntGas gas = new BurntGas(1.05, 25, 0.11, 1, 101_325);
        assertThat(gas.emissivity(1_500)).isBetween(0.04, 0.12);
    }

    @Test
    void thickBarIsColderInsideAndTakesTheSameHeat() {
        SteelBar bar = new SteelBar(0.04, 0.2, 20);
        double joules = 0;
        for (int i = 0; i < 600; i++) {
            bar.take(1_500, 0.1);
            joules += 150;
        }
        assertThat(bar.surfaceC() - bar.coreC()).isBetween(5.0, 80.0);
        for (int i = 0; i < 20_000; i++) {
            bar.take(0, 0.1);
        }
        assertThat(bar.surfaceC()).isCloseTo(bar.coreC(), within(0.01));
        double massKg = 7_850 * Math.PI / 4 * 0.04 * 0.04 * 0.2;
        double mean = joules / massKg / (bar.celsius() - 20);
        assertThat(mean).isBetween(460.0, 520.0);
    }

    @Test
    void refusesWhatNoForgeIs() {
        assertThatThrownBy(() -> new ForgeTraits.Layer(0, 500, 1_000, 0.2, 0)).hasMessageContaining("0.005 to 0.3");
        assertThatThrownBy(() -> new ForgeTraits.Exchange(30, 7, 1.1, 1, 0.5)).hasMessageContaining("1.1");
        assertThatThrownBy(() -> new ForgeTraits.Burner(Double.NaN, 0.8, 0.02, 1))
                .hasMessageContaining("jet bore");
        assertThatThrownBy(() -> new ForgeTruth(ForgeTraits.shed()).lossWPerK(20))
                .hasMessageContaining("ambient");
        assertThatThrownBy(() -> new SteelBar(0.2, 0.2, 20)).hasMessageContaining("0.002 to 0.1");
    }

    private static ForgeTraits withDraught(double discharge) {
        ForgeTraits shed = ForgeTraits.shed();
        return new ForgeTraits(
                shed.chamber(),
                shed.lining(),
                shed.front(),
                shed.rear(),
                true,
                shed.burner(),
                new ForgeTraits.Exchange(30, 7, 0.85, 1, discharge),
                shed.frame(),
                shed.probe(),
                shed.droopPaPerKgS(),
                20,
                101_325,
                shed.noise());
    }

    private static VirtualForge lit(ForgeTraits traits, double pressurePa) {
        VirtualForge forge = new VirtualForge(traits, 1);
        forge.setPressure(pressurePa);
        forge.openGas();
        forge.light();
        return forge;
    }

    private static void run(VirtualForge forge, int seconds) {
        for (int i = 0; i < seconds; i++) {
            if (forge.contentsKg() < 1) {
                forge.changeCylinder();
            }
            forge.step(1);
        }
    }
}
