package org.bankfire.daemon.firmware;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.bankfire.analysis.logbook.Correction;
import org.bankfire.analysis.logbook.EntryKey;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.BadFrameException;
import org.bankfire.daemon.acquire.frame.ChecksumPolicy;
import org.bankfire.daemon.acquire.frame.FrameDecoder;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.bankfire.daemon.acquire.frame.FrameFormat;
import org.bankfire.daemon.acquire.frame.Pack;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The example sketch compiled by avr-gcc, run by simavr against a simulated thermocouple chip and transducer, and its
 * lines decoded as the daemon does.
 */
@Timeout(240)
class SketchIT {
    private static final Duration SOON = Duration.ofSeconds(60);
    private static final String PACKAGES = "gcc-avr avr-libc simavr libsimavr-dev libelf-dev gcc";
    private static final WallTime RECEIVED = WallTime.of(Instant.parse("2026-03-01T10:00:00Z"));
    private static final FrameDecoder DECODER = FrameDecoders.of(new FrameFormat.SenMl(ChecksumPolicy.REQUIRED, null));

    /** The simulated ADC rounds down on 1,023 steps; two steps of 1,024 bound what it may differ by. */
    private static final double ADC_TOLERANCE = 2.0 / 1_024;

    @TempDir
    private static Path folder;

    private static Path elf = Path.of("");
    private static Path host = Path.of("");

    @BeforeAll
    static void build() throws Exception {
        Path sketch = Notes.folder().resolve("sketch");
        elf = folder.resolve("forge.elf");
        host = folder.resolve("host");
        // The options of the Makefile, which builds inside its own folder.
        run(List.of(
                "avr-gcc",
                "-std=c11",
                "-Os",
                "-mmcu=atmega328p",
                "-DF_CPU=16000000UL",
                "-Wall",
                "-Wextra",
                "-Werror",
                "-o",
                elf.toString(),
                sketch.resolve("forge.c").toString()));
        run(List.of(
                "gcc",
                "-std=gnu11",
                "-O2",
                "-Wall",
                "-Wextra",
                "-Werror",
                "-o",
                host.toString(),
                sketch.resolve("test/host.c").toString(),
                "-lsimavr",
                "-lelf",
                "-lm"));
    }

    @Test
    void sendsTenLinesASecondAndCountsThem() throws Exception {
        List<Pack> packs = simulate("3:2500:4B001900");
        assertThat(packs.size()).isBetween(28, 30);
        for (int i = 0; i < packs.size(); i++) {
            assertThat(reading(packs.get(i), "seq").value()).isEqualTo(i);
        }
    }

    /** Words by the chip's data sheet: bits 31–18 quarters of a degree, 15–4 sixteenths, both two's complement. */
    @ParameterizedTest
    @CsvSource({
        "4B001900, 1200.00, 25.0000",
        "64006400, 1600.00, 100.0000",
        "44BC1F10, 1099.75, 31.0625",
        "01900190, 25.00, 1.5625",
        "FFFCFFF0, -0.25, -0.0625",
        "F060C900, -250.00, -55.0000",
    })
    void sendsWhatTheAmplifierSays(String word, double thermocoupleC, double junctionC) throws Exception {
        Pack pack = last(simulate("0.5:2500:" + word));
        assertThat(reading(pack, "cold-junction"))
                .returns(junctionC, Reading::value)
                .returns(Unit.CELSIUS, Reading::unit);
        assertThat(reading(pack, "chamber-linear"))
                .returns(thermocoupleC, Reading::value)
                .returns(Unit.CELSIUS, Reading::unit)
                .returns(Quality.GOOD, Reading::quality);
    }

    @ParameterizedTest
    @CsvSource({
        "00011901, OPEN",
        "00011902, SHORT_TO_GROUND",
        "00011904, SHORT_TO_SUPPLY",
        "none, RANGE",
        "00000000, RANGE",
        "44BD1F10, RANGE",
    })
    void sendsAFaultInPlaceOfAValue(String word, Quality quality) throws Exception {
        Pack pack = last(simulate("0.5:2500:" + word));
        assertThat(reading(pack, "chamber").quality()).isEqualTo(quality);
        assertThat(find(pack, "chamber-linear")).isEmpty();
        assertThat(reading(pack, "gas-ratio").value()).isCloseTo(0.5, within(ADC_TOLERANCE));
    }

    @ParameterizedTest
    @CsvSource({"450, 0.09", "500, 0.1", "2184, 0.4368", "3300, 0.66", "4500, 0.9"})
    void sendsTheTransducersShareOfItsSupply(int millivolts, double ratio) throws Exception {
        Reading gas = reading(last(simulate("0.5:" + millivolts + ":4B001900")), "gas-ratio");
        assertThat(gas.value()).isCloseTo(ratio, within(ADC_TOLERANCE));
        assertThat(gas.unit()).isEqualTo(Unit.RATIO);
    }

    @ParameterizedTest
    @CsvSource({"0, SHORT_TO_GROUND", "60, SHORT_TO_GROUND", "4960, SHORT_TO_SUPPLY", "5000, SHORT_TO_SUPPLY"})
    void sendsAFaultWhenTheTransducerIsOffItsScale(int millivolts, Quality quality) throws Exception {
        Pack pack = last(simulate("0.5:" + millivolts + ":4B001900"));
        assertThat(reading(pack, "gas").quality()).isEqualTo(quality);
        assertThat(find(pack, "gas-ratio")).isEmpty();
    }

    @Test
    void recoversFromAFaultByItself() throws Exception {
        List<Pack> packs = simulate("0.5:2500:4B001900", "0.5:2500:00011901", "0.5:0:none", "0.5:2500:4B001900");
        assertThat(packs).anyMatch(pack -> find(pack, "chamber").isPresent());
        assertThat(reading(last(packs), "chamber-linear").value()).isEqualTo(1_200);
        assertThat(reading(last(packs), "seq").value()).isEqualTo(packs.size() - 1);
    }

    @Test
    void everyLineEndsInItsChecksum() throws Exception {
        for (String line : lines("1:2184:44BC1F10")) {
            int star = line.lastIndexOf(" *");
            assertThat(line.substring(star + 2)).isEqualTo(Notes.checksum(line.substring(0, star)));
        }
    }

    @Test
    void runsInRealTimeOnAPseudoTerminal() throws Exception {
        Path link = folder.resolve("line");
        Process process = new ProcessBuilder(
                        host.toString(), elf.toString(), "--pty", link.toString(), "100:2500:4B001900")
                .redirectErrorStream(true)
                .start();
        try {
            await().atMost(SOON).until(() -> Files.isSymbolicLink(link));
            int inARow = 0;
            double latest = Double.NaN;
            try (BufferedReader line = Files.newBufferedReader(link, StandardCharsets.UTF_8)) {
                while (inARow < 5) {
                    String text = line.readLine();
                    assertThat(text)
                            .as("it ended before five whole lines came in a row")
                            .isNotNull();
                    double number = sequence(text);
                    inARow = number == latest + 1 ? inARow + 1 : Double.isNaN(number) ? 0 : 1;
                    latest = number;
                }
            }
        } finally {
            process.destroy();
            assertThat(process.waitFor(SOON.toSeconds(), TimeUnit.SECONDS)).isTrue();
        }
    }

    @Test
    void theNotesExampleLinesAreReadAsTheyAreMeant() throws Exception {
        List<String> examples = Notes.exampleLines(Notes.folder().resolve("line-protocol.md"));
        Pack linear = decode(examples.get(0));
        assertThat(reading(linear, "chamber").value()).isEqualTo(1_102.25);
        assertThat(reading(linear, "gas").siValue()).isCloseTo(84_600, within(1e-6));
        Pack straight = decode(examples.get(1));
        assertThat(reading(straight, "chamber-linear").value()).isEqualTo(1_087.5);
        assertThat(reading(straight, "gas-ratio").value()).isEqualTo(0.43671);
        Pack raw = decode(examples.get(2));
        assertThat(reading(raw, "chamber-emf").siValue()).isCloseTo(0.043857, within(1e-9));
        assertThat(reading(raw, "gas-volts").value()).isEqualTo(2.184);
        assertThat(reading(decode(examples.get(3)), "chamber").quality()).isEqualTo(Quality.OPEN);
        Pack timed = decode(examples.get(4));
        assertThat(reading(timed, "chamber").sourceTime()).isEqualTo(WallTime.ofEpochSeconds(1_772_359_212.25));
        assertThat(reading(timed, "flame").value()).isEqualTo(0.93);
        Pack said = decode(examples.get(5));
        assertThat(said.settings())
                .singleElement()
                .satisfies(setting -> assertThat(setting.value()).isEqualTo("out"));
        assertThat(said.notes())
                .singleElement()
                .satisfies(note -> assertThat(note.text()).isEqualTo("rear plug pulled for a long bar"));
        assertThat(decode(examples.get(6)).notes()).singleElement().satisfies(note -> {
            Correction correction = Correction.of(note).orElseThrow();
            assertThat(correction.entry())
                    .isEqualTo(new EntryKey(WallTime.ofEpochSeconds(1_772_359_212.25), "setting-jet"));
            assertThat(correction.value()).isEqualTo("0.9 mm");
        });
        FrameDecoder columns = FrameDecoders.of(new FrameFormat.Columns(
                ChecksumPolicy.REQUIRED,
                "shed",
                ',',
                List.of(
                        new FrameFormat.Column("chamber", Unit.CELSIUS),
                        new FrameFormat.Column("gas", Unit.KILOPASCAL),
                        new FrameFormat.Column("cold-junction", Unit.CELSIUS))));
        Pack plain = columns.decode(examples.get(7).getBytes(StandardCharsets.UTF_8), RECEIVED);
        assertThat(reading(plain, "cold-junction").value()).isEqualTo(31.1);
    }

    /** The line's running number; not a number where a reader that was held up let a part of the line be lost, as on a wire. */
    private static double sequence(String line) {
        try {
            return reading(decode(line), "seq").value();
        } catch (BadFrameException torn) {
            return Double.NaN;
        }
    }

    private static List<Pack> simulate(String... phases) throws Exception {
        List<Pack> packs = new ArrayList<>();
        for (String line : lines(phases)) {
            packs.add(decode(line));
        }
        return packs;
    }

    private static List<String> lines(String... phases) throws Exception {
        List<String> command = new ArrayList<>(List.of(host.toString(), elf.toString()));
        command.addAll(List.of(phases));
        String text = run(command);
        // The last line may be cut off by the end of the simulation.
        List<String> lines = text.substring(0, text.lastIndexOf('\n')).lines().toList();
        assertThat(lines).isNotEmpty();
        return lines;
    }

    private static Pack decode(String line) throws BadFrameException {
        return DECODER.decode(line.getBytes(StandardCharsets.UTF_8), RECEIVED);
    }

    private static Pack last(List<Pack> packs) {
        return packs.get(packs.size() - 1);
    }

    private static Reading reading(Pack pack, String name) {
        return find(pack, name).orElseThrow(() -> new AssertionError("no " + name + " in " + pack));
    }

    private static Optional<Reading> find(Pack pack, String name) {
        return pack.readings().stream()
                .filter(reading -> reading.channel().name().equals(name))
                .findFirst();
    }

    private static String run(List<String> command) throws IOException, InterruptedException {
        Path errors = folder.resolve("errors");
        Process process;
        try {
            process = new ProcessBuilder(command).redirectError(errors.toFile()).start();
        } catch (IOException e) {
            throw new AssertionError("cannot run " + command.get(0) + "; on Debian: apt-get install " + PACKAGES, e);
        }
        String output = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor())
                .as(
                        "%s said: %s; these tests need the Debian packages %s",
                        command.get(0), Files.readString(errors), PACKAGES)
                .isZero();
        return output;
    }
}
