package org.bankfire.daemon.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import org.bankfire.daemon.acquire.virtual.PackWriter;
import org.bankfire.daemon.acquire.virtual.VirtualForge;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What {@code trials} of the built jar tells of burns of the virtual forge, from files and from the store. */
final class TrialsIT {
    private static final ObjectMapper JSON = new ObjectMapper();
    /** 2026-03-01T10:00:00Z. */
    private static final double T0 = 1_772_359_200;

    private static final double DAY_S = 86_400;
    private static final int OFF_S = 1_500;
    private static final int END_S = 1_800;

    @TempDir
    Path folder;

    private Path config() throws Exception {
        Path example = Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml");
        String text = Files.readString(example).replaceFirst("target = \"[^\"]*\"", "target = \"900 degC\"");
        return Files.writeString(folder.resolve("bankfire.toml"), text);
    }

    /** A heat-up under a choke, gas off and five minutes of cooling. */
    private List<String> burn(int day, String choke, long seed) {
        double startS = T0 + day * DAY_S;
        VirtualForge forge = new VirtualForge(seed);
        PackWriter writer = new PackWriter("shed");
        List<String> lines = new ArrayList<>();
        lines.add("[{\"bn\":\"shed:\",\"t\":" + (long) startS + ",\"n\":\"setting-choke\",\"vs\":\"" + choke + "\"}]");
        for (int s = 0; s < END_S; s++) {
            if (s == 30) {
                forge.setPressure(VirtualForge.FULL_PA);
                forge.openGas();
                forge.light();
            } else if (s == OFF_S) {
                forge.closeGas();
            }
            forge.step(1);
            lines.add(new String(writer.write(forge.observe(), s, startS + s), StandardCharsets.UTF_8));
        }
        return lines;
    }

    private Path record() throws Exception {
        List<String> lines = new ArrayList<>();
        lines.add("[{\"bn\":\"shed:\",\"t\":" + (long) (T0 - 60)
                + ",\"n\":\"setting-possible-choke\",\"vs\":\"open, half, closed\"}]");
        lines.addAll(burn(0, "open", 5));
        lines.addAll(burn(1, "half", 6));
        return Files.write(folder.resolve("burns.ndjson"), lines);
    }

    private static DaemonProcess run(Path config, String... options) throws Exception {
        List<String> arguments = new ArrayList<>(List.of(options[0], "--config", config.toString()));
        arguments.addAll(List.of(options).subList(1, options.length));
        return DaemonProcess.runToEnd(arguments.toArray(String[]::new));
    }

    @Test
    void burnsOfFilesAndOfTheStoreAreComparedInWordsAsJsonAndAsRows() throws Exception {
        Path config = config();
        Path record = record();
        JsonNode ofFile;
        try (DaemonProcess run = run(config, "trials", record.toString(), "--json")) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
            ofFile = JSON.readTree(run.output().get(0));
        }
        assertThat(ofFile.get("forge").textValue()).isEqualTo("shed");
        assertThat(ofFile.get("correctedWith").textValue()).isEqualTo("fitted");
        assertThat(ofFile.get("trials")).hasSize(2);
        JsonNode comparison = ofFile.at("/comparisons/0");
        assertThat(comparison.at("/changed/0/setting").textValue()).isEqualTo("choke");
        // The virtual forge has no choke: nothing was changed.
        assertThat(comparison.get("verdict").textValue()).isNotEqualTo("real");
        assertThat(comparison.at("/figures/0/difference").doubleValue()).isBetween(-3.0, 3.0);
        assertThat(ofFile.at("/next/proposals")).hasSize(3);
        assertReported(config, record);

        try (DaemonProcess run = run(config, "import", record.toString())) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
        }
        try (DaemonProcess run = run(config, "replay", record.toString(), "--into-store")) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
        }
        try (DaemonProcess run = run(config, "trials", "--forge", "shed", "--json")) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
            JsonNode ofStore = JSON.readTree(run.output().get(0));
            // Replaying makes no fits: the corrections rest on the description, the measured figures are the same.
            assertThat(ofStore.at("/trials/0/stretches/0/figures/0"))
                    .isEqualTo(ofFile.at("/trials/0/stretches/0/figures/0"));
        }
        try (DaemonProcess run = run(config, "trials", "--forge", "shed", "--csv")) {
            assertThat(run.output().get(0)).startsWith("kind,trial,against,settings,burn");
            assertThat(run.output()).anyMatch(line -> line.startsWith("difference,2,1,\"choke half"));
        }
        try (DaemonProcess run = run(
                config,
                "trials",
                "--forge",
                "shed",
                "--from",
                "2026-03-02T00:00:00Z",
                "--to",
                "2026-03-03T00:00:00Z")) {
            assertThat(run.exitCode()).isZero();
            assertThat(String.join("\n", run.output())).contains("1 trials", "choke half", "time to target");
        }
    }

    /** Both heat-ups lie over one another in the chart: lines of many points, each of its own burn. */
    private void assertReported(Path config, Path record) throws Exception {
        Path page = folder.resolve("trials.html");
        Path sheets = folder.resolve("trials.pdf");
        for (Path out : List.of(page, sheets)) {
            try (DaemonProcess run = run(config, "trials", record.toString(), "--out", out.toString())) {
                assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
                assertThat(run.output()).isEmpty();
            }
        }
        String text = Files.readString(page);
        String overlay = text.substring(text.indexOf("Chamber over the burns"));
        List<String> curves = Pattern.compile("<path d=\"([^\"Z]*)\" stroke")
                .matcher(overlay.substring(0, overlay.indexOf("</svg>")))
                .results()
                .map(curve -> curve.group(1))
                .filter(curve -> curve.split("L").length > 50)
                .distinct()
                .toList();
        assertThat(curves).hasSize(2);
        assertThat(text).contains("choke open → half");
        assertThat(Files.readString(sheets, StandardCharsets.ISO_8859_1)).startsWith("%PDF-");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "--json | FILE… or --forge ID",
                "--forge loft | --forge \"loft\": one of shed",
                "--forge shed --from noon | --from \"noon\": allowed is ISO 8601",
                "--forge shed --json --csv | one of them at most",
                "--forge shed --csv --out trials.pdf | one of them at most",
                "--forge shed --out trials.txt | allowed is a name that ends in .pdf or .html",
                "--forge shed --out trials.pdf --units psi,furlong | allowed are degC or degF, and kPa, bar, psi or inH2O",
                "burns.csv --from 2026-03-02T00:00:00Z | they go with --forge",
            })
    void whatCannotBeUsedIsNamedWithWhatIsAllowed(String options, String words) throws Exception {
        List<String> arguments = new ArrayList<>(List.of("trials"));
        arguments.addAll(List.of(options.split(" ")));
        try (DaemonProcess run = run(config(), arguments.toArray(String[]::new))) {
            assertThat(run.exitCode()).isEqualTo(2);
            assertThat(String.join("\n", run.log())).contains(words);
        }
    }
}
