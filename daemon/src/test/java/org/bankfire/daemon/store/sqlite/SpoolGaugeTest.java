package org.bankfire.daemon.store.sqlite;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class SpoolGaugeTest {
    @Test
    void whoeverLooksSeesNoRowGoneWhoseRefusalIsNotCounted() throws Exception {
        int rows = 1_000_000;
        SpoolGauge gauge = new SpoolGauge();
        gauge.set(new SpoolCounts(rows, rows, 0, 0, 0));
        Thread remover = new Thread(() -> {
            for (int i = 0; i < rows; i++) {
                gauge.changed(new SpoolGauge.Change(-1, -1, 0, 0), 1);
            }
        });
        remover.start();
        SpoolCounts seen = gauge.counts();
        while (seen.rows() > 0 && seen.refused() == rows - seen.rows()) {
            seen = gauge.counts();
        }
        remover.join();
        assertThat(seen).isEqualTo(new SpoolCounts(0, 0, 0, 0, rows));
    }
}
