package org.bankfire.daemon.notify;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.bankfire.daemon.config.OutputConfig;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Real scripts. */
class CommandCarrierTest {
    @TempDir
    Path folder;

    private CommandCarrier carrier(double timeoutS, String script, String... arguments) throws IOException {
        Path file = Files.writeString(folder.resolve("own.sh"), "#!/bin/sh\n" + script);
        assertThat(file.toFile().setExecutable(true)).isTrue();
        return new CommandCarrier(
                new OutputConfig.Command(Alarms.everything("own"), file.toString(), List.of(arguments), timeoutS));
    }

    @Test
    void theProgramGetsTheObjectTheFactsAndItsArgumentsAsTheyStand() throws Exception {
        Path out = folder.resolve("out");
        CommandCarrier carrier = carrier(10, """
                cat > "$1"
                printf '%s|%s|%s|%s|%s|%s\\n' "$BANKFIRE_FORGE" "$BANKFIRE_ALARM" "$BANKFIRE_STATE" \\
                    "$BANKFIRE_PRIORITY" "$BANKFIRE_VALUE" "$BANKFIRE_SUBJECT" >> "$1"
                echo "$2" >> "$1"
                """, out.toString(), "$(id); `id` *");
        String words = carrier.carry(Alarms.message());
        assertThat(words).endsWith("ended with code 0.");
        assertThat(Files.readAllLines(out))
                .containsExactly(
                        Alarms.message().json(),
                        "shed|flame-out|unacknowledged|critical|1103 °C|Shed forge: Flame out",
                        "$(id); `id` *");
    }

    @Test
    void aProgramThatFailsIsToldWithWhatItPrinted() throws Exception {
        CommandCarrier carrier = carrier(10, "echo the siren has no power >&2; exit 3\n");
        CarryException failure = catchThrowableOfType(CarryException.class, () -> carrier.carry(Alarms.message()));
        assertThat(failure.words()).contains("ended with code 3: the siren has no power");
        assertThat(failure.isLasting()).isFalse();
    }

    @Test
    void aProgramThatHangsIsEndedWithWhatItStarted() throws Exception {
        Path pids = folder.resolve("pids");
        CommandCarrier carrier = carrier(0.5, """
                sleep 300 &
                echo $! >> "$1"
                echo $$ >> "$1"
                sleep 300
                """, pids.toString());
        long begin = System.nanoTime();
        CarryException failure = catchThrowableOfType(CarryException.class, () -> carrier.carry(Alarms.message()));
        assertThat(failure.words()).contains("did not end within 0.5 s and was ended");
        assertThat(Duration.ofNanos(System.nanoTime() - begin)).isLessThan(Duration.ofSeconds(5));
        List<String> started = Files.readAllLines(pids);
        assertThat(started).hasSize(2);
        await().atMost(Duration.ofSeconds(5))
                .until(() -> started.stream()
                        .noneMatch(pid -> ProcessHandle.of(Long.parseLong(pid))
                                .map(ProcessHandle::isAlive)
                                .orElse(false)));
    }

    @Test
    void aProgramThatPrintsWithoutEndOrReadsNothingHoldsUpNothing() throws Exception {
        CommandCarrier carrier = carrier(20, "yes x | head -c 3000000; exit 1\n");
        CarryException failure = catchThrowableOfType(CarryException.class, () -> carrier.carry(Alarms.message()));
        assertThat(failure.words()).contains("ended with code 1: x x x").hasSizeLessThan(2_500);
        assertThat(carrier(10, "exec <&-\nexit 0\n").carry(Alarms.message())).endsWith("code 0.");
    }

    @Test
    void aChildThatIsLeftBehindKeepsNobodyWaiting() throws Exception {
        long begin = System.nanoTime();
        assertThat(carrier(10, "sleep 8 &\nexit 0\n").carry(Alarms.message())).endsWith("code 0.");
        await().atMost(Duration.ofSeconds(2))
                .until(() -> Thread.getAllStackTraces().keySet().stream()
                        .noneMatch(each -> each.getName().equals("output of a command")));
        assertThat(Duration.ofNanos(System.nanoTime() - begin)).isLessThan(Duration.ofSeconds(6));
    }

    @Test
    void aProgramThatIsNotThereIsNamed() {
        CommandCarrier carrier = new CommandCarrier(new OutputConfig.Command(
                Alarms.everything("own"), folder.resolve("gone").toString(), List.of(), 10));
        CarryException failure = catchThrowableOfType(CarryException.class, () -> carrier.carry(Alarms.message()));
        assertThat(failure.words()).contains("gone").contains("cannot be run");
    }
}
