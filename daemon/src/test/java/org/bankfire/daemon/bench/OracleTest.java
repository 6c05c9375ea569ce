package org.bankfire.daemon.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.bankfire.daemon.acquire.virtual.VirtualForge;
import org.bankfire.daemon.bench.Oracle.RatedStock;
import org.junit.jupiter.api.Test;

class OracleTest {
    @Test
    void moreStockIsHarderToTellFromAFlameOut() {
        VirtualForge forge = soaked();
        double surfaceM2 = forge.traits().chamber().surfaceM2();
        Oracle little = Oracle.of(forge, new RatedStock(0.05 * surfaceM2, 0.01));
        Oracle rated = Oracle.of(forge, new RatedStock(0.15 * surfaceM2, 0.03));
        Oracle absurd = Oracle.of(forge, new RatedStock(0.45 * surfaceM2, 0.2));
        assertThat(rated.stockFallK() / little.stockFallK()).isBetween(2.0, 4.0);
        assertThat(rated.delayS()).isBetween(little.delayS(), 10.0);
        assertThat(absurd.stockFallK()).isGreaterThan(absurd.fallK());
        assertThat(Double.isNaN(absurd.delayS()) || absurd.delayS() > rated.delayS())
                .isTrue();
    }

    @Test
    void fallIsThatOfTheForgeItself() {
        VirtualForge forge = soaked();
        Oracle oracle = Oracle.of(forge, new RatedStock(0.01, 0.01));
        double before = forge.probeC();
        assertThat(forge.isLit()).as("the oracle touches nothing").isTrue();
        forge.putOut();
        forge.step(4);
        // The forge flutters, its twins do not; and soaked, it hardly moves by itself.
        assertThat(before - forge.probeC()).isCloseTo(oracle.fallK(), within(4.0));
    }

    private static VirtualForge soaked() {
        VirtualForge forge = new VirtualForge(5);
        forge.startAt(1_100);
        forge.setPressure(VirtualForge.WORK_PA);
        forge.openGas();
        forge.light();
        for (int i = 0; i < 1_800; i++) {
            forge.step(1);
        }
        return forge;
    }
}
