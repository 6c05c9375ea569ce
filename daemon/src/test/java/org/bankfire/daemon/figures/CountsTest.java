package org.bankfire.daemon.figures;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.junit.jupiter.api.Test;

/** What the figures are counted with. */
final class CountsTest {
    @Test
    void quantilesAreValuesThatOccurred() {
        Spread spread = new Spread(5, 1, 4, 2, 3);
        assertThat(spread.quantile(0)).isEqualTo(1);
        assertThat(spread.median()).isEqualTo(3);
        assertThat(spread.quantile(0.8)).isEqualTo(4);
        assertThat(spread.quantile(0.81)).isEqualTo(5);
        assertThat(spread.max()).isEqualTo(5);
        assertThat(new Spread().median()).isNaN();
    }

    @Test
    void lagsOfAWhileAreTheDifferenceOfTwoCounts() {
        CountedLag early = CountedLag.of(metrics(90, 99, 100));
        CountedLag later = CountedLag.of(metrics(100, 198, 200));
        CountedLag between = later.since(early);
        assertThat(between.count()).isEqualTo(100);
        assertThat(between.quantileMs(0.1)).isEqualTo(50);
        assertThat(between.quantileMs(0.11)).isEqualTo(100);
        assertThat(between.quantileMs(0.99)).isEqualTo(100);
        assertThat(between.quantileMs(1)).isInfinite();
    }

    private static String metrics(long... upTo) {
        String name = "bankfire_snapshot_lag_seconds_bucket{le=\"";
        return "# TYPE bankfire_snapshot_lag_seconds histogram\n" + name + "0.05\"} " + upTo[0] + "\n" + name
                + "0.1\"} " + upTo[1] + "\n" + name + "+Inf\"} " + upTo[2] + "\n";
    }

    @Test
    void packsAreWhatTheDaemonReads() throws Exception {
        ForgeValues values = ForgeValues.burning(3, 2, 10);
        byte[] pack = new PackBytes("quarry").pack(1_772_359_212_250_007L, values.tail(1));
        assertThat(new String(pack, StandardCharsets.US_ASCII))
                .startsWith("[{\"bn\":\"quarry:\",\"bt\":1772359212.250007,");
        var readings = FrameDecoders.of(new FrameFormat.SenMl(ChecksumPolicy.OPTIONAL, null))
                .decode(pack, new WallTime(1_772_359_300_000_000L))
                .readings();
        assertThat(readings)
                .hasSize(ForgeValues.CHANNELS)
                .extracting(Reading::sourceTime)
                .containsOnly(new WallTime(1_772_359_212_250_007L));
        assertThat(readings.get(0).value()).isBetween(900.0, 1_200.0);
    }
}
