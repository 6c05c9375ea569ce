package org.bankfire.daemon.store.sqlite;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.bankfire.daemon.store.Rollup;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SpoolBucketsTest {
    /** 2026-03-01T10:00:00Z, the start of a 5 min bucket. */
    private static final long T0 = 1_772_359_200_000_000L;

    private static final long WIDTH_US = Rollup.Width.FIVE_MINUTES.micros();

    private record Run(int channelId, long startUs, long readings) {}

    @Test
    void aSecondOfFourChannelsTakesFewBytes() throws Exception {
        SpoolBuckets buckets = new SpoolBuckets();
        for (int channel = 1; channel <= 4; channel++) {
            for (int i = 0; i < 10; i++) {
                buckets.add(channel, T0 + i * 100_000L, 1);
            }
        }
        byte[] written = buckets.bytes();
        assertThat(written).hasSizeLessThanOrEqualTo(16);
        assertThat(read(written))
                .containsExactly(new Run(1, T0, 10), new Run(2, T0, 10), new Run(3, T0, 10), new Run(4, T0, 10));
    }

    @Test
    void noReadingsTakeNothing() throws Exception {
        assertThat(new SpoolBuckets().bytes()).isEmpty();
        assertThat(read(new byte[0])).isEmpty();
    }

    @Test
    void timesBeforeTheEpochAndOfAllAgesComeBack() throws Exception {
        SpoolBuckets buckets = new SpoolBuckets();
        buckets.add(7, -1, 2);
        buckets.add(7, Long.MAX_VALUE, 1);
        buckets.add(2_000_000_000, Long.MIN_VALUE + WIDTH_US, 1);
        assertThat(read(buckets.bytes()))
                .containsExactly(
                        new Run(7, -WIDTH_US, 2),
                        new Run(7, Math.floorDiv(Long.MAX_VALUE, WIDTH_US) * WIDTH_US, 1),
                        new Run(2_000_000_000, Math.floorDiv(Long.MIN_VALUE + WIDTH_US, WIDTH_US) * WIDTH_US, 1));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3})
    void whateverIsAddedComesBack(long seed) throws Exception {
        Random random = new Random(seed);
        SpoolBuckets buckets = new SpoolBuckets();
        List<Run> runs = new ArrayList<>();
        int channelId = 0;
        for (int i = 0; i < 2_000; i++) {
            channelId = (channelId + 1 + random.nextInt(4_000)) % 10_000; // never the same twice
            long startUs = T0 + random.nextInt(-500, 500) * WIDTH_US;
            long readings = 1 + random.nextLong(5_000);
            runs.add(new Run(channelId, startUs, readings));
            buckets.add(channelId, startUs + random.nextLong(WIDTH_US), readings);
        }
        assertThat(read(buckets.bytes())).isEqualTo(runs);
    }

    private static List<Run> read(byte[] written) throws Exception {
        List<Run> runs = new ArrayList<>();
        SpoolBuckets.read(written, (channelId, startUs, readings) -> runs.add(new Run(channelId, startUs, readings)));
        return runs;
    }
}
