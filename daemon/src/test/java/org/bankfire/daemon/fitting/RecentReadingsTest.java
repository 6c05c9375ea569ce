package org.bankfire.daemon.fitting;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Random;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RecentReadingsTest {
    private static final List<Channel> CHANNELS = List.of(new Channel("loft", "chamber"), new Channel("loft", "gas"));
    private static final List<Unit> UNITS = List.of(Unit.CELSIUS, Unit.KILOPASCAL, Unit.PASCAL);

    private final RecentReadings recent = new RecentReadings();

    private static Reading reading(Random random, int number, Quality quality) {
        double uncertainty = random.nextBoolean() ? Double.NaN : random.nextDouble();
        WallTime source = new WallTime(1_780_000_000_000_000L + number);
        return new Reading(
                CHANNELS.get(random.nextInt(CHANNELS.size())),
                random.nextGaussian(),
                UNITS.get(random.nextInt(UNITS.size())),
                uncertainty,
                quality,
                source,
                random.nextBoolean() ? source : source.plusMicros(random.nextInt(1_000)));
    }

    private List<Reading> held() {
        List<Reading> held = new ArrayList<>();
        recent.forEach(held::add);
        return held;
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void theNewestComeBackAsTheyWereHoweverManyAreKept(long seed) {
        Random random = new Random(seed);
        Deque<Reading> expected = new ArrayDeque<>();
        int most = 1_000;
        for (int i = 0; i < 12_000; i++) {
            if (i % 1_500 == 0) {
                most = 1 + random.nextInt(2_000);
            }
            Reading reading = reading(random, i, Quality.GOOD);
            recent.add(reading, most);
            expected.addLast(reading);
            while (expected.size() > most) {
                expected.removeFirst();
            }
            if (i % 97 == 0) {
                assertThat(held()).as("after reading %d", i).isEqualTo(List.copyOf(expected));
            }
        }
        assertThat(held()).isEqualTo(List.copyOf(expected));
    }

    @Test
    void whatIsNotGoodIsPassedOver() {
        Random random = new Random(6);
        Reading good = reading(random, 1, Quality.GOOD);
        recent.add(good, 10);
        recent.add(reading(random, 2, Quality.UNCERTAIN), 10);
        recent.add(reading(random, 3, Quality.SPIKE), 10);
        assertThat(held()).containsExactly(good);
    }

    @Test
    void aSourceThatChangesUnitsWithoutEndIsNotFollowedForEver() {
        Channel channel = CHANNELS.get(0);
        for (int i = 0; i < 1_000; i++) {
            WallTime time = new WallTime(i);
            recent.add(Reading.good(channel, i, Unit.ofSymbol("u" + i), time, time), 4_096);
        }
        assertThat(recent.size()).isEqualTo(64);
    }
}
