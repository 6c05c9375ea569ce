package org.bankfire.analysis.thermocouple;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class WireGaugeTest {
    /** ASTM B258: d = 0.127 mm × 92^((36 − n) / 39). */
    @Test
    void diametersAreThoseOfTheAmericanWireGauge() {
        for (WireGauge gauge : WireGauge.values()) {
            double expectedM = 0.127e-3 * Math.pow(92, (36 - gauge.number()) / 39.0);
            assertThat(gauge.diameterM()).as(gauge.name()).isCloseTo(expectedM, within(0.0005 * expectedM));
        }
    }

    /** Limits of protected type K wire, ASTM E230, from memory. */
    @Test
    void aSoldDiameterFindsItsLimit() {
        assertThat(WireGauge.limitC(3.25e-3)).isEqualTo(1260);
        assertThat(WireGauge.limitC(1.63e-3)).isEqualTo(1090);
        assertThat(WireGauge.limitC(0.8e-3)).isEqualTo(980);
        assertThat(WireGauge.limitC(0.5e-3)).isEqualTo(870);
        assertThat(WireGauge.limitC(0.33e-3)).isEqualTo(870);
        assertThat(WireGauge.limitC(0.25e-3)).isEqualTo(760);
    }

    @Test
    void betweenTwoGaugesTheThinnerOneCounts() {
        assertThat(WireGauge.limitC(3.0e-3)).isEqualTo(1090);
        assertThat(WireGauge.limitC(1.0e-3)).isEqualTo(980);
    }

    @Test
    void noLimitIsKnownForHairWireOrAnUnknownDiameter() {
        assertThat(WireGauge.limitC(0.1e-3)).isNaN();
        assertThat(WireGauge.limitC(Double.NaN)).isNaN();
    }
}
