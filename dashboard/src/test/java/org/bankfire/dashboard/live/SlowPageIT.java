package org.bankfire.dashboard.live;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.time.Duration;
import java.util.List;
import java.util.stream.IntStream;
import org.bankfire.analysis.burn.BurnPhase;
import org.bankfire.analysis.monitor.FlameState;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.dashboard.testing.RunningDashboard;
import org.bankfire.dashboard.testing.ScriptedForge;
import org.junit.jupiter.api.Test;

/** A page that takes nothing, over a real connection whose buffers fill. */
class SlowPageIT {
    // Some 200 kB a snapshot, so that the kernel's buffers of a few megabytes fill within seconds.
    private static final int CHANNELS = 1_000;
    private static final Duration PATIENCE = Duration.ofMinutes(2);

    @Test
    void aPageThatTakesNothingIsDroppedAndHoldsNobodyUp() throws Exception {
        ScriptedForge forge = new ScriptedForge();
        try (RunningDashboard dashboard = new RunningDashboard(forge);
                Socket slow = new Socket()) {
            slow.setReceiveBufferSize(4_096);
            slow.connect(new InetSocketAddress(InetAddress.getLoopbackAddress(), dashboard.port()));
            slow.getOutputStream().write("GET /api/v1/live HTTP/1.1\r\nHost: localhost\r\n\r\n".getBytes(US_ASCII));
            await().atMost(PATIENCE)
                    .until(() -> dashboard.get("/metrics").body().contains("bankfire_live_clients 1\n"));
            ForgeSnapshot large = large(forge);
            await().atMost(PATIENCE).pollInterval(Duration.ofMillis(50)).until(() -> {
                long before = System.nanoTime();
                forge.publish(large);
                // The thread that makes snapshots is never held up, whatever the page does: it would be until the
                // page is dropped.
                assertThat(System.nanoTime() - before).isLessThan(LiveClient.LONGEST_BLOCK_NANOS);
                return dashboard.get("/metrics").body().contains("bankfire_live_clients_dropped_total 1\n");
            });
            await().atMost(PATIENCE)
                    .until(() -> dashboard.get("/metrics").body().contains("bankfire_live_clients 0\n"));
        }
    }

    private static ForgeSnapshot large(ScriptedForge forge) {
        List<Reading> many = IntStream.range(0, CHANNELS)
                .mapToObj(i -> Reading.good(
                        new Channel(ScriptedForge.QUARRY, "extra-" + i), i, Unit.VOLT, forge.now(), forge.now()))
                .toList();
        return forge.snapshot(
                ScriptedForge.QUARRY, 900, Quality.GOOD, BurnPhase.HEATING, FlameState.BURNING, List.of(), many);
    }
}
