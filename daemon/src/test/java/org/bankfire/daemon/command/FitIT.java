package org.bankfire.daemon.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.virtual.PackWriter;
import org.bankfire.daemon.acquire.virtual.VirtualForge;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What {@code fit} of the built jar tells of burns of the virtual forge, which knows no equation of the fit's model. */
final class FitIT {
    private static final ObjectMapper JSON = new ObjectMapper();
    /** 2026-03-01T10:00:00Z. */
    private static final double T0 = 1_772_359_200;

    private static final int OFF_S = 2_400;
    private static final int END_S = 3_600;

    @TempDir
    Path folder;

    private Path config() throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        String text = Files.readString(example).replace("firebrick-23", "firebrick-26");
        return Files.writeString(folder.resolve("bankfire.toml"), text);
    }

    /** Lit after 30 s, full gas, idle after half an hour, off at 40 min, 20 min of cooling; one line a second. */
    private List<String> burn(double startS) {
        VirtualForge forge = new VirtualForge(5);
        PackWriter writer = new PackWriter("shed");
        List<String> lines = new ArrayList<>();
        for (int s = 0; s < END_S; s++) {
            if (s == 30) {
                forge.setPressure(VirtualForge.FULL_PA);
                forge.openGas();
                forge.light();
            } else if (s == 1_800) {
                forge.setPressure(VirtualForge.IDLE_PA);
            } else if (s == OFF_S) {
                forge.closeGas();
            }
            forge.step(1);
            lines.add(new String(writer.write(forge.observe(), s, T0 + startS + s), StandardCharsets.UTF_8));
        }
        return lines;
    }

    private Path file(String name, List<String> lines) throws Exception {
        return Files.write(folder.resolve(name), lines);
    }

    private static DaemonProcess run(Path config, String command, String... options) throws Exception {
        List<String> arguments = new ArrayList<>(List.of(command, "--config", config.toString()));
        arguments.addAll(List.of(options));
        return DaemonProcess.runToEnd(arguments.toArray(String[]::new));
    }

    private static List<JsonNode> fits(Path config, String... options) throws Exception {
        List<String> all = new ArrayList<>(List.of(options));
        all.add("--json");
        try (DaemonProcess run = run(config, "fit", all.toArray(String[]::new))) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
            List<JsonNode> fits = new ArrayList<>();
            for (String line : run.output()) {
                fits.add(JSON.readTree(line));
            }
            return fits;
        }
    }

    private static List<String> keys(JsonNode object) {
        List<String> keys = new ArrayList<>();
        object.fieldNames().forEachRemaining(keys::add);
        return keys;
    }

    @Test
    void aRecordedBurnIsFittedWithTheKeysThatScriptsRelyOn() throws Exception {
        Path burn = file("burn.ndjson", burn(0));
        JsonNode fit = fits(config(), burn.toString()).get(0);
        assertThat(keys(fit))
                .contains(
                        "forge",
                        "start",
                        "end",
                        "samples",
                        "effectiveSamples",
                        "model",
                        "rmsResidualK",
                        "converged",
                        "parameters",
                        "lossCoefficient",
                        "timeConstantS",
                        "ledger",
                        "predicted",
                        "measured");
        assertThat(fit.get("forge").textValue()).isEqualTo("shed");
        assertThat(fit.get("start").textValue()).startsWith("2026-03-01T10:00:3");
        assertThat(fit.get("end").textValue()).startsWith("2026-03-01T10:59:59");
        assertThat(fit.get("samples").intValue()).isBetween(3_500, 3_600);
        assertThat(fit.get("converged").booleanValue()).isTrue();
        assertThat(fit.get("rmsResidualK").doubleValue()).isPositive();
        assertThat(fit.get("lossCoefficient").get("atC").doubleValue()).isEqualTo(1_000);
        assertThat(keys(fit.get("lossCoefficient"))).contains("valueWPerK", "low95", "high95");
        assertThat(keys(fit.get("predicted"))).contains("timeToTargetS", "steadyC");
        assertThat(keys(fit.get("measured"))).contains("timeToTargetS", "steadyC");

        List<String> names = new ArrayList<>();
        for (JsonNode parameter : fit.get("parameters")) {
            names.add(parameter.get("name").textValue());
            assertThat(keys(parameter))
                    .contains("name", "unit", "value", "standardError", "low95", "high95", "status", "advice");
            assertThat(parameter.get("status").textValue()).isIn("identified", "prior", "not-identifiable");
            assertThat(parameter.get("value").doubleValue())
                    .as(names.get(names.size() - 1))
                    .isBetween(
                            parameter.get("low95").doubleValue(),
                            parameter.get("high95").doubleValue());
        }
        assertThat(names)
                .contains(
                        "heatReleaseFactor",
                        "mixture",
                        "liningConductivityScale",
                        "liningCapacityScale",
                        "effectiveOpeningArea",
                        "sensorLag");
    }

    @Test
    void theLedgerAddsUpToTheInputAndNoGasBringsNoHeat() throws Exception {
        JsonNode ledger =
                fits(config(), file("burn.ndjson", burn(0)).toString()).get(0).get("ledger");
        assertThat(ledger).isNotEmpty();
        double before = 0;
        for (JsonNode entry : ledger) {
            double input = entry.get("inputW").doubleValue();
            double sum = entry.get("flueW").doubleValue()
                    + entry.get("liningW").doubleValue()
                    + entry.get("openingsW").doubleValue()
                    + entry.get("stockW").doubleValue()
                    + entry.get("storedW").doubleValue();
            assertThat(sum).isCloseTo(input, within(0.01 + 1e-6 * input));
            double atS = entry.get("atS").doubleValue();
            assertThat(atS).isGreaterThan(before);
            if (before > OFF_S) {
                assertThat(input).isZero();
                assertThat(entry.get("storedW").doubleValue()).isNegative();
            }
            before = atS;
        }
    }

    @Test
    void everyBurnOfARecordIsALineInOrder() throws Exception {
        List<String> lines = new ArrayList<>(burn(0));
        lines.addAll(burn(7_200));
        List<JsonNode> fits = fits(config(), file("two.ndjson", lines).toString(), "--at", "900 degC");
        assertThat(fits.stream()
                        .map(fit -> fit.get("start").textValue().substring(0, 16))
                        .collect(Collectors.toList()))
                .containsExactly("2026-03-01T10:00", "2026-03-01T12:00");
        assertThat(fits.get(1).get("lossCoefficient").get("atC").doubleValue()).isEqualTo(900);
        // The second begins as cold as the first: it is the same burn.
        assertThat(fits.get(1).get("lossCoefficient").get("valueWPerK"))
                .isEqualTo(fits.get(0).get("lossCoefficient").get("valueWPerK"));
    }

    @Test
    void aStoredBurnIsFittedWithItsCoolDownAsItsFileIs() throws Exception {
        Path config = config();
        Path burn = file("burn.ndjson", burn(0));
        JsonNode fromFile = fits(config, burn.toString()).get(0);
        try (DaemonProcess run = run(config, "import", burn.toString())) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
        }
        String id = Burn.idOf(
                "shed", WallTime.of(Instant.parse(fromFile.get("start").textValue())));
        JsonNode fromStore = fits(config, "--burn", id).get(0);
        assertThat(fromStore.get("samples")).isEqualTo(fromFile.get("samples"));
        assertThat(fromStore.get("end")).isEqualTo(fromFile.get("end"));
        assertThat(fromStore.get("lossCoefficient")).isEqualTo(fromFile.get("lossCoefficient"));

        try (DaemonProcess run = run(config, "fit", "--burn", "shed-20200101T000000Z")) {
            assertThat(run.exitCode()).isEqualTo(2);
            assertThat(run.output()).isEmpty();
            assertThat(String.join("\n", run.log())).contains("no such burn; its newest are " + id);
        }
    }

    @Test
    void aRecordInWhichNoBurnBeginsIsOneBurn() throws Exception {
        // A cool-down alone.
        List<String> cooling = burn(0).subList(OFF_S + 1, END_S);
        List<JsonNode> fits = fits(config(), file("cooling.ndjson", cooling).toString());
        assertThat(fits).hasSize(1);
        assertThat(fits.get(0).get("start").textValue()).isEqualTo("2026-03-01T10:40:01Z");
        assertThat(fits.get(0).get("samples").intValue()).isEqualTo(END_S - OFF_S - 1);
    }

    @Test
    void wordsTellTheMainFiguresWithIntervalsStatusAndAdvice() throws Exception {
        Path burn = file("burn.ndjson", burn(0));
        try (DaemonProcess run = run(config(), "fit", burn.toString())) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
            assertThat(String.join("\n", run.output()))
                    .contains(
                            "Shed forge, burn of 2026-03-01T10:00:3",
                            "Loss coefficient",
                            "W/K",
                            "Time constant",
                            "Heat release factor",
                            "expected",
                            "1150 °C after",
                            "predicted",
                            "Heat of the record",
                            "square root of time")
                    .doesNotContain("NaN", "heatRelease");
            assertThat(run.output()).allMatch(line -> line.length() <= 101);
        }
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "burn.ndjson --burn x | 2 | FILE… or --burn ID, one of both",
                "--json | 2 | FILE… or --burn ID, one of both",
                "burn.ndjson --at 1000 | 2 | --at \"1000\": allowed is a temperature from 200 degC to 1600 degC",
                "burn.ndjson --at 90degC | 2 | --at \"90degC\"",
                "burn.ndjson --forge barn | 2 | --forge \"barn\": one of shed",
                "--burn shed-1 | 1 | there is no such file; check [store] path",
                "nothing.ndjson | 1 | nothing to fit: no good chamber readings of shed in",
                "missing.ndjson | 1 | missing.ndjson",
                "bad.ndjson | 1 | bad.ndjson",
            })
    void whatCannotBeFittedIsToldInWords(String options, int exitCode, String message) throws Exception {
        Path config = config();
        file("burn.ndjson", List.of("[{\"bn\":\"shed:\",\"bt\":1772359200,\"n\":\"chamber\",\"u\":\"Cel\",\"v\":20}]"));
        file("nothing.ndjson", List.of("[{\"bn\":\"shed:\",\"bt\":1772359200,\"n\":\"gas\",\"u\":\"Pa\",\"v\":0}]"));
        file(
                "bad.ndjson",
                List.of(
                        "[{\"bn\":\"shed:\",\"bt\":1772359200,\"n\":\"chamber\",\"u\":\"Cel\",\"v\":20}]",
                        "[{\"bn\":\"shed:\",\"bt\":17723592"));
        String[] arguments = options.split(" ");
        for (int i = 0; i < arguments.length; i++) {
            if (arguments[i].endsWith(".ndjson")) {
                arguments[i] = folder.resolve(arguments[i]).toString();
            }
        }
        try (DaemonProcess run = run(config, "fit", arguments)) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isEqualTo(exitCode);
            assertThat(String.join("\n", run.log())).contains(message);
        }
    }
}
