package org.bankfire.daemon.bridge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.bankfire.analysis.burn.BurnPhase;
import org.bankfire.analysis.monitor.FlameState;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.dashboard.source.SnapshotLag;
import org.junit.jupiter.api.Test;

final class LagCounterTest {
    private static final WallTime NOON = new WallTime(1_772_366_400_000_000L);

    private final LagCounter counter = new LagCounter();

    @Test
    void aReadingCountsOnceByItsAgeInTheSnapshotThatFirstShowsIt() {
        ForgeSnapshot first = showing(NOON);
        counter.count(null, first, () -> NOON.plusSeconds(0.04));
        counter.count(first, showing(NOON), () -> NOON.plusSeconds(0.2));
        counter.count(first, showing(NOON.plusSeconds(0.1)), () -> NOON.plusSeconds(0.16));
        assertThat(classes()).containsExactly("0.05: 1", "0.075: 1");
        assertThat(counter.lag().sumS()).isCloseTo(0.1, within(1e-6));
    }

    @Test
    void theNewestOfSeveralReadingsCounts() {
        counter.count(null, showing(NOON.plusSeconds(-3), NOON, NOON.plusSeconds(-1)), () -> NOON.plusSeconds(0.004));
        assertThat(classes()).containsExactly("0.005: 1");
    }

    @Test
    void beyondTheLastBoundIsAClassOfItsOwnAndAClockAheadIsNoLag() {
        counter.count(null, showing(NOON), () -> NOON.plusSeconds(3_600));
        counter.count(null, showing(NOON), () -> NOON.plusSeconds(-60));
        assertThat(classes()).containsExactly("0.001: 1", "more: 1");
        assertThat(counter.lag().sumS()).isCloseTo(3_600, within(1e-6));
    }

    @Test
    void aChannelWhoseClockIsAheadDoesNotHideTheOthers() {
        WallTime ahead = NOON.plusSeconds(3_600);
        ForgeSnapshot first = showing(ahead, NOON);
        ForgeSnapshot second = showing(ahead, NOON.plusSeconds(0.1));
        ForgeSnapshot third = showing(ahead.plusSeconds(0.2), NOON.plusSeconds(0.1));
        ForgeSnapshot fourth = showing(ahead.plusSeconds(0.2), NOON.plusSeconds(0.3));
        counter.count(null, first, () -> NOON.plusSeconds(0.04));
        counter.count(first, second, () -> NOON.plusSeconds(0.16));
        counter.count(second, third, () -> NOON.plusSeconds(0.21));
        counter.count(third, fourth, () -> NOON.plusSeconds(0.48));
        assertThat(classes()).containsExactly("0.05: 1", "0.075: 1", "0.2: 1");
    }

    @Test
    void aSnapshotWithoutReadingsDoesNotCount() {
        counter.count(null, showing(), () -> NOON);
        assertThat(classes()).isEmpty();
    }

    /** The classes that are not empty. */
    private List<String> classes() {
        SnapshotLag lag = counter.lag();
        return java.util.stream.IntStream.range(0, lag.counts().size())
                .filter(i -> lag.counts().get(i) > 0)
                .mapToObj(i -> (i < lag.boundsS().size() ? lag.boundsS().get(i).toString() : "more") + ": "
                        + lag.counts().get(i))
                .toList();
    }

    private static ForgeSnapshot showing(WallTime... times) {
        List<Reading> latest = java.util.Arrays.stream(times)
                .map(time ->
                        new Reading(new Channel("shed", "chamber"), 1_000, Unit.CELSIUS, 1, Quality.GOOD, time, time))
                .toList();
        return new ForgeSnapshot(
                "shed",
                NOON,
                BurnPhase.HEATING,
                FlameState.BURNING,
                null,
                Double.NaN,
                Double.NaN,
                null,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                Double.NaN,
                null,
                List.of(),
                latest);
    }
}
