package org.bankfire.analysis.prediction;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class BandTest {
    /** Hyndman and Fan, type 7, the default of R: quantile(1:101, c(0.025, 0.975)) is 3.5 and 98.5. */
    @Test
    void quantilesAreThoseOfTheUsualDefinition() {
        double[] members = new double[101];
        for (int i = 0; i < members.length; i++) {
            members[i] = 101 - i;
        }
        Band band = Band.of(7, members);
        assertThat(band.value()).isEqualTo(7);
        assertThat(band.low95()).isCloseTo(3.5, within(1e-12));
        assertThat(band.high95()).isCloseTo(98.5, within(1e-12));
    }

    @Test
    void membersThatNeverGetThereMakeTheUpperEndInfinite() {
        double[] members = new double[100];
        members[0] = Double.NaN;
        members[1] = Double.NaN;
        members[2] = Double.NaN;
        members[3] = Double.NaN;
        assertThat(Band.of(1, members).high95()).isInfinite();
        assertThat(Band.of(1, members).low95()).isZero();
    }

    @Test
    void withoutMembersThereIsNoBand() {
        assertThat(Band.of(3, new double[0]).low95()).isNaN();
    }
}
