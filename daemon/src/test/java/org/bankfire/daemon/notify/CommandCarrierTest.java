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
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Real scripts. */
class CommandCarrierTest {
    private static final Duration SOON = Duration.ofSeconds(60);

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
        CommandCarrier carrier = carrier(60, """
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
        CommandCarrier carrier = carrier(60, "echo the siren has no power >&2; exit 3\n");
        CarryException failure = catchThrowableOfType(CarryException.class, () -> carrier.carry(Alarms.message()));
        assertThat(failure.words()).contains("ended with code 3: the siren has no power");
        assertThat(failure.isLasting()).isFalse();
    }

    @Test
    void aProgramThatHangsIsEndedWithWhatItStarted() throws Exception {
        Path pids = folder.resolve("pids");
        CommandCarrier carrier = carrier(5, """
                sleep 300 &
                echo $! >> "$1"
                echo $$ >> "$1"
                sleep 300
                """, pids.toString());
        CarryException failure = catchThrowableOfType(CarryException.class, () -> carrier.carry(Alarms.message()));
        assertThat(failure.words()).contains("did not end within 5.0 s and was ended");
        List<String> started = Files.readAllLines(pids);
        assertThat(started).hasSize(2);
        await().atMost(SOON).until(() -> started.stream().noneMatch(CommandCarrierTest::isAlive));
    }

    private static boolean isAlive(String pid) {
        return ProcessHandle.of(Long.parseLong(pid.strip()))
                .map(ProcessHandle::isAlive)
                .orElse(false);
    }

    @Test
    void aProgramThatPrintsWithoutEndOrReadsNothingHoldsUpNothing() throws Exception {
        CommandCarrier carrier = carrier(60, "yes x | head -c 3000000; exit 1\n");
        CarryException failure = catchThrowableOfType(CarryException.class, () -> carrier.carry(Alarms.message()));
        assertThat(failure.words()).contains("ended with code 1: x x x").hasSizeLessThan(2_500);
        assertThat(carrier(60, "exec <&-\nexit 0\n").carry(Alarms.message())).endsWith("code 0.");
    }

    @ParameterizedTest
    @ValueSource(strings = {"sleep 300", "yes"})
    void aChildThatIsLeftBehindKeepsNobodyWaiting(String child) throws Exception {
        Path pid = folder.resolve("pid");
        try {
            assertThat(carrier(60, child + " &\necho $! > \"$1\"\nexit 0\n", pid.toString())
                            .carry(Alarms.message()))
                    .endsWith("code 0.");
            if (!child.equals("yes")) { // which ends when nobody reads any more
                assertThat(isAlive(Files.readString(pid))).as("not waited for").isTrue();
            }
            await().atMost(SOON)
                    .until(() -> Thread.getAllStackTraces().keySet().stream()
                            .noneMatch(each -> each.getName().equals("output of a command")));
        } finally {
            ProcessHandle.of(Long.parseLong(Files.readString(pid).strip())).ifPresent(ProcessHandle::destroyForcibly);
        }
    }

    @Test
    void aProgramThatIsNotThereIsNamed() {
        CommandCarrier carrier = new CommandCarrier(new OutputConfig.Command(
                Alarms.everything("own"), folder.resolve("gone").toString(), List.of(), 10));
        CarryException failure = catchThrowableOfType(CarryException.class, () -> carrier.carry(Alarms.message()));
        assertThat(failure.words()).contains("gone").contains("cannot be run");
    }
}
