package org.bankfire.daemon.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The commands of the built jar, by their exit codes and what they print where. */
final class CommandsIT {
    private static final Duration PATIENCE = Duration.ofSeconds(60);

    @TempDir
    Path folder;

    @ParameterizedTest
    @ValueSource(
            strings = {
                "demo", "run", "check", "ports", "predict", "fit", "report", "replay", "import", "export", "write"
            })
    void everyCommandHasHelpOnStandardOutput(String command) throws Exception {
        try (DaemonProcess help = DaemonProcess.runToEnd(command, "--help")) {
            assertThat(help.exitCode()).isZero();
            assertThat(String.join("\n", help.output())).contains("Usage: bankfire " + command);
        }
    }

    @Test
    void unknownCommandIsWrongUsage() throws Exception {
        try (DaemonProcess run = DaemonProcess.runToEnd("dance")) {
            assertThat(run.exitCode()).isEqualTo(2);
            assertThat(run.output()).isEmpty();
            assertThat(String.join("\n", run.log())).contains("dance");
        }
    }

    @Test
    void wrongConfigurationNamesFileLineKeyAndNearestKey() throws Exception {
        Path config = folder.resolve("wrong.toml");
        Files.writeString(config, example().replace("target =", "tarjet ="));

        try (DaemonProcess check = DaemonProcess.runToEnd("check", "--config", config.toString())) {
            assertThat(check.exitCode()).isEqualTo(2);
            assertThat(check.output()).isEmpty();
            assertThat(String.join("\n", check.log()))
                    .contains("wrong.toml")
                    .containsPattern("wrong\\.toml:\\d+|line \\d+")
                    .contains("tarjet")
                    .contains("target");
        }
    }

    @Test
    void missingConfigurationFileIsWrongUsage() throws Exception {
        Path missing = folder.resolve("no.toml");
        try (DaemonProcess check = DaemonProcess.runToEnd("check", "--config", missing.toString())) {
            assertThat(check.exitCode()).isEqualTo(2);
            assertThat(String.join("\n", check.log())).contains("no.toml");
        }
    }

    @Test
    void checkedConfigurationPrintsResolvedAndIsAcceptedAgain() throws Exception {
        Path config = Files.writeString(folder.resolve("good.toml"), example());
        try (DaemonProcess check = DaemonProcess.runToEnd("check", "--config", config.toString())) {
            assertThat(check.exitCode()).as(String.join("\n", check.log())).isZero();
            Path again = Files.write(folder.resolve("again.toml"), check.output());
            try (DaemonProcess second = DaemonProcess.runToEnd("check", "--config", again.toString())) {
                assertThat(second.output()).isEqualTo(check.output());
            }
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"csv", "senml"})
    void exportThenImportIsTheIdentity(String format) throws Exception {
        Path first = config("first");
        Path second = config("second");
        Path record = record();
        try (DaemonProcess run = DaemonProcess.runToEnd("import", record.toString(), "--config", first.toString())) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
        }
        List<String> exported = export(first, format);
        assertThat(exported).as("a pack or row for each of 21 moments at least").hasSizeGreaterThanOrEqualTo(21);
        Path file = Files.write(folder.resolve("exported." + (format.equals("csv") ? "csv" : "ndjson")), exported);
        try (DaemonProcess run = DaemonProcess.runToEnd("import", file.toString(), "--config", second.toString())) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
        }
        assertThat(export(second, format)).isEqualTo(exported);
    }

    @Test
    void demoShowsAReadingOfItsVirtualForge() throws Exception {
        try (DaemonProcess demo = DaemonProcess.start("demo", "--port", "0")) {
            HttpClient http = HttpClient.newHttpClient();
            URI now = URI.create(demo.page() + "api/v1/forges/demo/now");
            await().atMost(PATIENCE).untilAsserted(() -> {
                HttpResponse<String> answer =
                        http.send(HttpRequest.newBuilder(now).build(), HttpResponse.BodyHandlers.ofString());
                assertThat(answer.statusCode()).isEqualTo(200);
                assertThat(answer.body()).contains("\"chamber\"");
            });
            assertThat(String.join("\n", demo.log())).contains("not a burner safety control");
            demo.stop();
        }
    }

    private List<String> export(Path config, String format) throws Exception {
        try (DaemonProcess run = DaemonProcess.runToEnd(
                "export",
                "--from",
                "2020-01-01T00:00:00Z",
                "--to",
                "2100-01-01T00:00:00Z",
                "--format",
                format,
                "--config",
                config.toString())) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
            return run.output();
        }
    }

    /** Raw and linear channels, a fault, a note, a setting, and values of every digit. */
    private Path record() throws Exception {
        List<String> lines = new ArrayList<>();
        for (int i = 0; i < 20; i++) {
            lines.add("[{\"bn\":\"shed:\",\"bt\":" + (1_780_000_000L + i)
                    + ".25,\"n\":\"chamber-emf\",\"u\":\"mV\",\"v\":"
                    + (30 + i / 7.0)
                    + "},{\"n\":\"cold-junction\",\"u\":\"Cel\",\"v\":24.5},{\"n\":\"gas\",\"u\":\"kPa\",\"v\":"
                    + (80 + i / 3.0) + "}]");
        }
        lines.add("[{\"bn\":\"shed:\",\"bt\":1780000020.25,\"n\":\"chamber-fault\",\"vs\":\"open\"},"
                + "{\"n\":\"note\",\"vs\":\"choke opened, \\\"a little\\\"\"},{\"n\":\"setting-jet\",\"u\":\"mm\",\"v\":0.9},"
                + "{\"n\":\"plug\",\"vs\":\"in\"},{\"n\":\"pyro-7\",\"u\":\"W/m2\",\"v\":1.25}]");
        return Files.write(folder.resolve("record.ndjson"), lines);
    }

    private Path config(String name) throws Exception {
        Path own = Files.createDirectory(folder.resolve(name));
        return Files.writeString(own.resolve("bankfire.toml"), example());
    }

    private static String example() throws Exception {
        return Files.readString(Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml"));
    }
}
