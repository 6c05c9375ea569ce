package org.bankfire.daemon.acquire.mqtt;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashSet;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;

class BackOffTest {
    @Test
    void waitsDoubleFromASecondToHalfAMinuteEachDrawnFromTheUpperHalf() {
        BackOff backOff = new BackOff(new Random(1));
        long[] windows = {2_000, 4_000, 8_000, 16_000, 30_000, 30_000, 30_000};
        for (long window : windows) {
            assertThat(backOff.nextMs()).isBetween(window / 2, window);
        }
        backOff.reset();
        assertThat(backOff.nextMs()).isBetween(1_000L, 2_000L);
    }

    @Test
    void twoClientsDoNotComeAtTheSameTimes() {
        Set<Long> waits = new HashSet<>();
        for (int client = 0; client < 50; client++) {
            waits.add(new BackOff(new Random(client)).nextMs());
        }
        assertThat(waits).hasSizeGreaterThan(40);
    }
}
