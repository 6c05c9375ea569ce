package org.bankfire.daemon.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.virtual.Observation;
import org.junit.jupiter.api.Test;

class FeedTest {
    private static final Observation SEEN = new Observation(1_100, 80_000, 60, 20, 15);
    private static final WallTime BEGIN = WallTime.ofEpochSeconds(1_000);
    private static final int HOURS = 100;

    @Test
    void faultsComeAsOftenAsPlanned() {
        Feed feed = new Feed("f", new FaultPlan(0, 0, 0, 5, 5, 3, 0.1, 0.1, true, 1), 1, BEGIN);
        int faults = 0;
        int spikes = 0;
        int empty = 0;
        double timeS = 0;
        for (; timeS < HOURS * 3_600; timeS += feed.intervalS()) {
            Pack pack = feed.pack(timeS, SEEN);
            if (pack.readings().isEmpty()) {
                empty++;
            } else if (pack.readings().get(1).quality().isBad()) {
                faults++;
            } else if (pack.readings().get(1).value() != SEEN.chamberC()) {
                spikes++;
            }
        }
        // Poisson counts: four standard deviations about the mean.
        assertThat(faults).isCloseTo(5 * HOURS, within(90));
        assertThat(spikes).isCloseTo(5 * HOURS, within(90));
        assertThat(empty).as("gaps of 1 to 4 s").isBetween(2 * HOURS, 3 * 5 * HOURS);
    }

    @Test
    void driftAndOffsetAreInTheReadings() {
        Feed feed = new Feed("f", new FaultPlan(10, 150, -100, 0, 0, 0, 0, 0.05, false, 1), 4, BEGIN);
        List<Reading> readings = feed.pack(1_800, SEEN).readings();
        assertThat(readings.get(1).value()).isCloseTo(1_105, within(1e-9));
        assertThat(readings.get(2).value()).isCloseTo(80_100, within(1e-9));
        assertThat(readings.get(1).sourceTime().epochSeconds()).isCloseTo(2_800, within(1e-6));
        assertThat(readings.get(1).receiptTime().secondsSince(readings.get(1).sourceTime()))
                .isBetween(0.0, 0.05);
    }
}
