package org.bankfire.daemon.lifecycle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;

class ServiceNotifierTest {
    private static final Duration SOON = Duration.ofSeconds(60);

    private final List<String> heard = new CopyOnWriteArrayList<>();
    private final AtomicBoolean sound = new AtomicBoolean(true);

    @Test
    void wordIsGivenWhileTheDaemonIsSoundAndWithheldWhileItIsNot() {
        try (ServiceNotifier notifier = new ServiceNotifier(
                heard::add, 40, sound::get, () -> sound.get() ? "judging readings" : "hangs\nbadly")) {
            notifier.start();
            await().atMost(SOON).until(() -> beats() >= 3);
            sound.set(false);
            await().atMost(SOON).until(() -> heard.contains("STATUS=hangs badly"));
            long before = beats();
            sound.set(true);
            await().atMost(SOON).until(() -> beats() > before + 2);
            // A copy: the notifier goes on speaking while this looks.
            List<String> soFar = List.copyOf(heard);
            int unsound = soFar.indexOf("STATUS=hangs badly");
            assertThat(soFar.subList(unsound, soFar.lastIndexOf("STATUS=judging readings")))
                    .filteredOn("WATCHDOG=1"::equals)
                    .as("between the two states")
                    .hasSizeLessThanOrEqualTo(1);
        }
        assertThat(heard).startsWith("READY=1").endsWith("STOPPING=1");
        assertThat(heard).filteredOn("STATUS=judging readings"::equals).hasSize(2);
    }

    @Test
    void withoutWatchdogNoneIsTold() {
        try (ServiceNotifier notifier = new ServiceNotifier(heard::add, 0, sound::get, () -> "well")) {
            notifier.start();
            await().atMost(SOON).until(() -> heard.contains("STATUS=well"));
        }
        assertThat(heard).containsExactly("READY=1", "STATUS=well", "STOPPING=1");
    }

    @Test
    void theWatchdogIsOnlyMindedWhenItIsMeantForThisProcess() {
        String pid = Long.toString(ProcessHandle.current().pid());
        assertThat(ServiceNotifier.watchdogMs(Map.of())).isZero();
        assertThat(ServiceNotifier.watchdogMs(Map.of("WATCHDOG_USEC", "30000000")))
                .isEqualTo(30_000);
        assertThat(ServiceNotifier.watchdogMs(Map.of("WATCHDOG_USEC", "30000000", "WATCHDOG_PID", pid)))
                .isEqualTo(30_000);
        assertThat(ServiceNotifier.watchdogMs(Map.of("WATCHDOG_USEC", "30000000", "WATCHDOG_PID", "1")))
                .isZero();
        assertThat(ServiceNotifier.watchdogMs(Map.of("WATCHDOG_USEC", "soon"))).isZero();
    }

    @Test
    void nobodyIsToldWhenNobodyAsks() {
        assertThat(ServiceNotifier.of(Map.of(), sound::get, () -> "")).isNull();
    }

    private long beats() {
        return heard.stream().filter("WATCHDOG=1"::equals).count();
    }
}
