package org.bankfire.daemon.testbed;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

@Timeout(240)
class VirtualForgeProcessIT {
    private static final Path FIXTURES = Path.of(System.getProperty("bankfire.fixtures"));

    @TempDir
    private Path folder;

    @Test
    void writesToTheFileWhatItSaysItSent() throws Exception {
        Path out = folder.resolve("lines");
        Process process = start(
                "--out",
                out.toString(),
                "--lines",
                "50",
                "--speed",
                "100",
                "--emf",
                "--crc",
                "--fixtures",
                "" + FIXTURES);
        List<String> said = read(process);
        assertThat(process.waitFor()).isZero();
        List<String> sent = said.stream()
                .filter(line -> line.startsWith("SENT "))
                .map(line -> line.substring(line.indexOf(' ', 5) + 1))
                .toList();
        assertThat(said).last().isEqualTo("DONE 50");
        assertThat(Files.readAllLines(out)).isEqualTo(sent).hasSize(50);
        String first = sent.get(0);
        JsonNode pack = new ObjectMapper().readTree(first.substring(0, first.lastIndexOf(' ')));
        // NIST: 20 °C against 20 °C is 0 mV, and 1 K is 0.04 mV.
        assertThat(pack.get(1).get("n").asText()).isEqualTo("chamber-emf");
        assertThat(pack.get(1).get("v").asDouble()).isCloseTo(0, within(0.08));
        assertThat(pack.get(2).get("n").asText()).isEqualTo("cold-junction");
    }

    @Test
    void obeysItsStandardInput() throws Exception {
        Process process =
                start("--out", folder.resolve("lines").toString(), "--speed", "50", "--burning", "--start-at", "1100");
        List<String> said = new ArrayList<>();
        long from;
        try (BufferedReader out = process.inputReader(StandardCharsets.UTF_8)) {
            String line = out.readLine();
            while (line != null && !line.startsWith("SENT 500 ")) {
                line = out.readLine();
            }
            process.outputWriter().write("put-out-the-flame\n");
            process.outputWriter().flush();
            while (line != null && !line.startsWith("ACTION")) {
                line = out.readLine();
            }
            assertThat(line).startsWith("ACTION put-out-the-flame ");
            from = Long.parseLong(String.valueOf(line).substring("ACTION put-out-the-flame ".length()));
            while (line != null && !line.startsWith("SENT " + (from + 100) + " ")) {
                said.add(line);
                line = out.readLine();
            }
            process.outputWriter().write("quit\n");
            process.outputWriter().flush();
            while (line != null && !line.startsWith("DONE ")) {
                line = out.readLine();
            }
            assertThat(line).startsWith("DONE ");
        }
        assertThat(process.waitFor()).isZero();
        List<Double> chamber = said.stream()
                .filter(line -> line.startsWith("SENT ") && number(line) >= from)
                .map(VirtualForgeProcessIT::chamber)
                .toList();
        assertThat(chamber.get(0) - chamber.get(chamber.size() - 1)).isGreaterThan(60);
    }

    @Test
    void endsWithItsStandardInput() throws Exception {
        Process process = start("--out", folder.resolve("lines").toString());
        process.outputWriter().close();
        assertThat(read(process)).last().asString().startsWith("DONE ");
        assertThat(process.waitFor()).isZero();
    }

    @Test
    void checksumIsThatOfThePublishedCheckString() {
        // CRC-16/CCITT-FALSE (also IBM-3740): check value 29B1 for "123456789".
        assertThat(new String(
                        VirtualForgeProcess.withCrc("123456789".getBytes(StandardCharsets.UTF_8)),
                        StandardCharsets.UTF_8))
                .isEqualTo("123456789 *29B1");
    }

    private static long number(String line) {
        return Long.parseLong(line.split(" ", 3)[1]);
    }

    private static double chamber(String line) {
        int from = line.indexOf("\"chamber\",\"u\":\"Cel\",\"v\":") + "\"chamber\",\"u\":\"Cel\",\"v\":".length();
        return Double.parseDouble(line.substring(from, line.indexOf('}', from)));
    }

    private static Process start(String... args) throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                VirtualForgeProcess.class.getName()));
        command.addAll(List.of(args));
        return new ProcessBuilder(command)
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
    }

    private static List<String> read(Process process) throws IOException {
        try (BufferedReader out = process.inputReader(StandardCharsets.UTF_8)) {
            return out.lines().toList();
        }
    }
}
