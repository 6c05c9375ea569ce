package org.bankfire.analysis.thermocouple;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class WireHoursTest {
    @Test
    void timeAboveTheLimitIsCountedSilencesAndTimeBelowAreNot() {
        WireHours hours = new WireHours(980);
        for (int s = 0; s <= 7_200; s++) {
            hours.add(s * 1_000_000L, s <= 3_600 ? 1_000 : 900);
        }
        assertThat(hours.hours()).isCloseTo(1, within(1e-9));
        hours.add(8_000_000_000L, 1_000);
        hours.add(9_000_000_000L, 1_000);
        assertThat(hours.hours()).isCloseTo(1, within(1e-9));
    }

    @Test
    void whatWasCountedBeforeIsTakenUpToTheMicrosecondAndNonsenseIsNot() {
        WireHours hours = new WireHours(980);
        hours.setSeconds(12_345.678901);
        double told = hours.hours();
        WireHours again = new WireHours(980);
        again.setSeconds(told * 3_600);
        assertThat(again.seconds()).isEqualTo(hours.seconds());
        again.setSeconds(Double.NaN);
        again.setSeconds(-1);
        again.setSeconds(1e12);
        assertThat(again.seconds()).isEqualTo(hours.seconds());
    }

    @Test
    void withoutALimitNothingIsCounted() {
        WireHours hours = new WireHours(Double.NaN);
        hours.add(0, 1_300);
        hours.add(1_000_000, 1_300);
        assertThat(hours.hours()).isZero();
    }

    /** ASTM E608/E608M, upper temperature limits of sheathed type K; from memory. Inch sizes as sold. */
    @ParameterizedTest
    @CsvSource({
        "6, 1150",
        "6.35, 1150",
        "4.8, 1150",
        "4.5, 1150",
        "3.2, 1070",
        "3, 1070",
        "1.6, 920",
        "1.5, 920",
        "1, 700",
        "0.5, 700"
    })
    void eachSheathHasItsLimit(double diameterMm, double limitC) {
        assertThat(MineralSheath.limitC(diameterMm / 1e3)).isEqualTo(limitC);
    }

    @Test
    void aSheathThinnerThanAnyListedHasNone() {
        assertThat(MineralSheath.limitC(0.25e-3)).isNaN();
        assertThat(MineralSheath.limitC(Double.NaN)).isNaN();
    }
}
