package org.bankfire.daemon.testbed;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.gas.Atmosphere;
import org.bankfire.daemon.acquire.virtual.ForgeTraits;
import org.junit.jupiter.api.Test;

class RandomBurnTest {
    @Test
    void heatsHoldsAndCoolsAndTellsWhatHandsDid() {
        Set<RandomBurn.Hand> seen = EnumSet.noneOf(RandomBurn.Hand.class);
        Set<Double> rates = new HashSet<>();
        for (long seed = 0; seed < 24; seed++) {
            RandomBurn burn = RandomBurn.of(seed);
            List<RandomBurn.Act> acts = burn.acts();
            acts.forEach(act -> seen.add(act.hand()));
            rates.add(burn.rateHz());
            double offS = acts.get(acts.size() - 1).timeS();
            assertThat(acts.get(acts.size() - 1).hand()).isEqualTo(RandomBurn.Hand.GAS_OFF);
            double[] chamber = burn.chamberC();
            double[] gas = burn.gasPa();
            double room = burn.traits().ambientC();
            int off = (int) (offS * burn.rateHz());
            String which = "seed " + seed;
            assertThat(chamber[0]).as(which).isCloseTo(room, within(5.0));
            double hottest = Arrays.stream(chamber).max().orElseThrow();
            assertThat(hottest).as(which).isBetween(800.0, 1_380.0);
            assertThat(chamber[chamber.length - 1]).as(which).isBetween(room + 50, 0.75 * hottest);
            assertThat(gas[off - 5]).as(which).isBetween(15e3, 50e3);
            assertThat(Math.abs(gas[gas.length - 1])).as(which).isLessThan(3_000);
            assertThat(burn.timeS()[burn.size() - 1]).as(which).isBetween(offS + 599, offS + 1_801);
            assertThat(burn.ambientC()[off]).as(which).isCloseTo(room, within(2.0));
            assertThat(burn.shellC()[burn.size() - 1]).as(which).isBetween(room - 2, room + 250);
        }
        assertThat(seen).isEqualTo(EnumSet.allOf(RandomBurn.Hand.class));
        assertThat(rates).hasSizeGreaterThan(3);
    }

    @Test
    void gasUsedIsWhatThePressureGaveThroughTheJet() {
        RandomBurn burn = RandomBurn.of(5);
        double kg = 0;
        for (double pascal : burn.gasPa()) {
            // Flow goes with the root of a small pressure: the noise of a closed valve would count.
            kg += pascal < 5_000 ? 0 : burn.truth().gasFlowKgPerS(pascal) / burn.rateHz();
        }
        assertThat(burn.gasUsedKg()).isCloseTo(kg, within(0.01 * kg));
    }

    @Test
    void sameSeedGivesTheSameBurnAndAnotherGivesAnother() {
        assertThat(RandomBurn.of(3).chamberC())
                .isEqualTo(RandomBurn.of(3).chamberC())
                .isNotEqualTo(RandomBurn.of(4).chamberC());
    }

    @Test
    void builderIsWrongWithinBoundsAndRightAboutWhatIsMeasured() {
        double most = 0;
        for (long seed = 0; seed < 60; seed++) {
            RandomBurn burn = RandomBurn.of(seed);
            ForgeTraits real = burn.traits();
            ForgeTraits said = burn.described();
            double conductivity = said.lining().get(0).conductivity(600)
                    / real.lining().get(0).conductivity(600);
            assertThat(conductivity).isBetween(0.85, 1.15);
            most = Math.max(most, Math.abs(conductivity - 1));
            assertThat(said.front().areaM2() / real.front().areaM2()).isBetween(0.849, 1.151);
            assertThat(said.probe().lagS() / real.probe().lagS()).isBetween(0.7, 1.3);
            assertThat(said.burner().discharge() / real.burner().discharge()).isBetween(0.97, 1.03);
            ForgeDescription description = burn.description();
            assertThat(description.lining()).hasSameSizeAs(real.lining());
            assertThat(description.burner().jetDiameterM())
                    .isEqualTo(real.burner().jetM());
            assertThat(Atmosphere.pressurePa(description.altitudeM())).isCloseTo(real.airPressurePa(), within(20.0));
        }
        assertThat(most).as("wrong at all").isGreaterThan(0.1);
    }
}
