package org.bankfire.daemon.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.w3c.dom.Document;

/** {@code predict} of the built jar: what it writes and how it refuses. */
final class PredictIT {
    private static final ObjectMapper JSON = new ObjectMapper();

    @TempDir
    Path folder;

    @Test
    void jsonHasWhatScriptsRelyOn() throws Exception {
        JsonNode prediction = json();
        assertThat(prediction.get("forge").asText()).isEqualTo("shed");
        assertThat(prediction.get("timeToTargetS").asDouble()).isBetween(60.0, 3600.0);
        assertThat(prediction.get("steadyC").asDouble()).isBetween(1000.0, 1600.0);
        JsonNode idle = prediction.get("idle");
        assertThat(idle.get("targetC").asDouble()).isEqualTo(1150);
        assertThat(idle.get("pressurePa").asDouble()).isBetween(1e3, 1e5);
        assertThat(idle.get("kgPerHour").asDouble()).isBetween(0.1, 1.0);
        double lastS = -1;
        for (JsonNode point : prediction.get("curve")) {
            assertThat(point.get("tS").asDouble()).isGreaterThan(lastS);
            lastS = point.get("tS").asDouble();
            assertThat(point.get("chamberC").asDouble())
                    .isBetween(
                            point.get("low95C").asDouble(), point.get("high95C").asDouble());
            assertThat(point.has("shellC") && point.has("gasKg")).isTrue();
        }
        assertThat(lastS).isEqualTo(4 * 3600);
    }

    @Test
    void everyLedgerOfTheJsonAddsUpToItsInput() throws Exception {
        for (JsonNode ledger : json().get("ledger")) {
            double sum = 0;
            for (String part : List.of("flueW", "liningW", "openingsW", "stockW", "storedW")) {
                sum += ledger.get(part).asDouble();
            }
            // Six figures, each rounded to a milliwatt.
            assertThat(sum).isCloseTo(ledger.get("inputW").asDouble(), within(0.004));
        }
    }

    @Test
    void whatIfChangesTheForgeAndNothingElse() throws Exception {
        JsonNode asBuilt = json();
        JsonNode thicker = json("--set", "lining.0.thickness=152 mm");
        JsonNode larger = json("--set", "burner.jet=1.0 mm", "--set", "target=1200 degC");
        JsonNode open = json("--set", "opening.rear.plug=out");
        assertThat(lossOf(thicker)).isLessThan(0.95 * lossOf(asBuilt));
        // Half a minute after lighting no heat has got as far as that.
        assertThat(chamberC(thicker, 6)).isCloseTo(chamberC(asBuilt, 6), within(1.0));
        assertThat(larger.get("idle").get("targetC").asDouble()).isEqualTo(1200);
        assertThat(larger.get("flame").get("heatInputW").asDouble())
                .isCloseTo(1.5625 * asBuilt.get("flame").get("heatInputW").asDouble(), within(1.0));
        assertThat(open.get("timeToTargetS").asDouble())
                .isGreaterThan(asBuilt.get("timeToTargetS").asDouble());
    }

    @Test
    void aProgrammeIsFollowed() throws Exception {
        Path programme = folder.resolve("programme.csv");
        Files.writeString(programme, "tS,gasPa\n0,30000\n60,30000\n60,100000\n1200,100000\n1200,0\n");
        JsonNode prediction = json("--programme", programme.toString(), "--duration", "40 min");
        List<Double> chamberC = new ArrayList<>();
        prediction
                .get("curve")
                .forEach(point -> chamberC.add(point.get("chamberC").asDouble()));
        double last = chamberC.get(chamberC.size() - 1);
        assertThat(chamberC.stream().mapToDouble(each -> each).max().orElseThrow())
                .isGreaterThan(1000);
        assertThat(last).isLessThan(600);
        assertThat(prediction.get("steadyC").asDouble()).isCloseTo(20, within(0.1));
    }

    @Test
    void csvHasARowForEachMoment() throws Exception {
        try (DaemonProcess run = predict("--csv", "--members", "0", "--duration", "10 min")) {
            assertThat(run.exitCode()).isZero();
            assertThat(run.output().get(0)).startsWith("tS,gasPa,chamberC,low95C,high95C,hotFaceC,shellC,gasKg,");
            assertThat(run.output().get(1)).startsWith("0,100000,20,,,20,20,0,");
            assertThat(run.output().get(run.output().size() - 1)).startsWith("600,100000,");
        }
    }

    @Test
    void theChartIsWellFormedAndTellsInWordsWhatItShows() throws Exception {
        try (DaemonProcess run = predict("--svg", "--set", "name=\"Barn <north> & co\"")) {
            assertThat(run.exitCode()).isZero();
            byte[] svg = String.join("\n", run.output()).getBytes(StandardCharsets.UTF_8);
            Document chart =
                    DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(new ByteArrayInputStream(svg));
            assertThat(chart.getDocumentElement().getTagName()).isEqualTo("svg");
            assertThat(chart.getElementsByTagName("title").item(0).getTextContent())
                    .contains("Barn <north> & co");
            assertThat(chart.getElementsByTagName("desc").item(0).getTextContent())
                    .contains("target reached after");
            assertThat(chart.getElementsByTagName("path").getLength()).isGreaterThan(10);
        }
    }

    @Test
    void wordsTellTheMainFiguresWithTheirIntervals() throws Exception {
        try (DaemonProcess run = predict("--bar", "16 mm", "--bar-in", "5 min")) {
            assertThat(run.exitCode()).isZero();
            assertThat(String.join("\n", run.output()))
                    .contains("Heat input", "kW", "1150 °C after", "Steady, soaked", "Holding it soaked", "Bar soaked")
                    .contains("95 %");
        }
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "--set lining.0.thickness=0mm | lining.0.thickness = \"0mm\"",
                "--set burner.fuel=propan | did you mean \"propane\"?",
                "--set burner.jett=1mm | burner.jet",
                "--duration 3 | --duration \"3\"",
                "--duration 1s | --duration \"1s\": allowed is a time from 1 min",
                "--members 5 | members of the band are 5: allowed are 0 and 20 to 2000",
                "--bar 1mm | --bar \"1mm\": allowed is a length from 2 mm",
                "--forge barn | --forge \"barn\": one of shed",
                "--json --csv | --json",
            })
    void wrongUsageSaysWhatIsAllowed(String options, String message) throws Exception {
        try (DaemonProcess run = predict(options.split(" "))) {
            assertThat(run.exitCode()).isEqualTo(2);
            assertThat(run.output()).isEmpty();
            assertThat(String.join("\n", run.log())).contains(message);
        }
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "t,p;0,1000 | programme.csv:1: \"t,p\": the first line must be tS,gasPa",
                "tS,gasPa;0,-5 | programme.csv:2: gasPa = \"-5\": allowed are 0.0 to 400000.0 Pa above ambient",
                "tS,gasPa;0,1000;x,2000 | programme.csv:3: tS = \"x\": allowed are two numbers",
                "tS,gasPa;60,1000;30,2000 | programme.csv:3: tS = \"30\": allowed are 60.0, the time before",
                "tS,gasPa;0,NaN | programme.csv:2: gasPa = \"NaN\"",
                "tS,gasPa;0,1000,3 | programme.csv:2: \"0,1000,3\"",
                "tS,gasPa | programme.csv: 0 rows",
            })
    void aBadProgrammeIsRefusedByFileLineAndValue(String rows, String message) throws Exception {
        Path programme = folder.resolve("programme.csv");
        Files.writeString(programme, rows.replace(';', '\n') + "\n");
        try (DaemonProcess run = predict("--programme", programme.toString())) {
            assertThat(run.exitCode()).isEqualTo(2);
            assertThat(String.join("\n", run.log())).contains(message);
        }
    }

    private static double chamberC(JsonNode prediction, int moment) {
        return prediction.get("curve").get(moment).get("chamberC").asDouble();
    }

    private static double lossOf(JsonNode prediction) {
        return prediction.get("lossWPerK").asDouble();
    }

    private static JsonNode json(String... options) throws Exception {
        List<String> all = new ArrayList<>(List.of(options));
        all.add("--json");
        try (DaemonProcess run = predict(all.toArray(String[]::new))) {
            assertThat(run.exitCode()).as(String.join("\n", run.log())).isZero();
            return JSON.readTree(String.join("\n", run.output()));
        }
    }

    private static DaemonProcess predict(String... options) throws Exception {
        List<String> arguments = new ArrayList<>(List.of(
                "predict",
                "--config",
                Path.of(System.getProperty("bankfire.fixtures"), "examples", "shed.toml")
                        .toString()));
        arguments.addAll(List.of(options));
        return DaemonProcess.runToEnd(arguments.toArray(String[]::new));
    }
}
