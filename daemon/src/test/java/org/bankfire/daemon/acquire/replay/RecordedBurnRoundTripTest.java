package org.bankfire.daemon.acquire.replay;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.zip.GZIPInputStream;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.frame.FrameDecoders;
import org.bankfire.daemon.acquire.frame.Pack;
import org.bankfire.daemon.acquire.replay.RecordedBurnWriter.Format;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class RecordedBurnRoundTripTest {
    private static final Path BURNS = Path.of(System.getProperty("bankfire.fixtures"), "burns");
    private static final WallTime START = new WallTime(1_772_359_212_250_001L);

    private static final List<Quality> QUALITIES = List.of(Quality.values());

    @TempDir
    private Path folder;

    @Test
    void writesAPackALineAsTheContractSays() throws IOException {
        Channel chamber = new Channel("shed", "chamber");
        byte[] written = written(
                Format.SENML,
                List.of(
                        Reading.good(chamber, 1103.2, Unit.CELSIUS, START, START),
                        Reading.fault(new Channel("shed", "gas"), Unit.PASCAL, Quality.OPEN, START, START),
                        new Reading(
                                new Channel("shed", "shell"),
                                90,
                                Unit.CELSIUS,
                                1.5,
                                Quality.STUCK,
                                START,
                                START.plusMicros(1_000)),
                        Reading.fault(new Channel("shed", "flame"), Unit.RATIO, Quality.STUCK, START, START),
                        new Note("shed", START, "note", "a \"new\" jet"),
                        new Setting("shed", START, "setting-jet", "0.8", "mm"),
                        new Setting("shed", START, "plug", "in", "")));

        assertThat(new String(written, StandardCharsets.UTF_8))
                .isEqualTo("[{\"bn\":\"shed:\",\"bt\":1772359212.250001,\"n\":\"setting-jet\",\"u\":\"mm\",\"v\":0.8},"
                        + "{\"n\":\"plug\",\"vs\":\"in\"},{\"n\":\"note\",\"vs\":\"a \\\"new\\\" jet\"},"
                        + "{\"n\":\"chamber\",\"u\":\"Cel\",\"v\":1103.2},{\"n\":\"gas-fault\",\"u\":\"Pa\",\"vs\":\"open\"},"
                        + "{\"n\":\"shell\",\"u\":\"Cel\",\"v\":90,\"quality\":\"stuck\",\"uncertainty\":1.5,"
                        + "\"received\":1772359212.251001},"
                        + "{\"n\":\"flame-fault\",\"u\":\"/\",\"vs\":\"stuck\",\"quality\":\"stuck\"}]\n");
    }

    @Test
    void writesARowForEachThingAsTheContractSays() throws IOException {
        byte[] written = written(
                Format.CSV,
                List.of(
                        Reading.good(new Channel("shed", "chamber"), 1103.2, Unit.CELSIUS, START, START),
                        Reading.fault(new Channel("shed", "gas"), Unit.PASCAL, Quality.OPEN, START, START),
                        new Note("shed", START, "note", "a \"new\" jet,\nlit"),
                        new Setting("shed", START, "setting-jet", "0.8", "mm")));

        assertThat(new String(written, StandardCharsets.UTF_8)).isEqualTo("""
                time,forge,channel,value,unit,quality
                2026-03-01T10:00:12.250001Z,shed,setting-jet,0.8,mm,setting
                2026-03-01T10:00:12.250001Z,shed,note,"a ""new"" jet,\\nlit",,note
                2026-03-01T10:00:12.250001Z,shed,chamber,1103.2,Cel,good
                2026-03-01T10:00:12.250001Z,shed,gas,,Pa,open
                """);
    }

    @ParameterizedTest
    @EnumSource(Format.class)
    void losesNothingFromWritingToReadingAndWritesTheSameBytesAgain(Format format) throws IOException {
        for (long seed = 1; seed <= 20; seed++) {
            List<Object> things = randomThings(new Random(seed), format);
            byte[] written = written(format, things);
            List<Object> read = read(written);

            assertThat(read).as("seed %d", seed).containsExactlyInAnyOrderElementsOf(things);
            assertThat(new String(written(format, read), StandardCharsets.UTF_8))
                    .as("seed %d", seed)
                    .isEqualTo(new String(written, StandardCharsets.UTF_8));
        }
    }

    @Test
    void keepsLinesOfSenMlWithinALineOfTheWire() throws IOException {
        List<Object> things = new ArrayList<>();
        for (int i = 0; i < 1_300; i++) {
            things.add(Reading.good(new Channel("shed", "zone-" + i), i / 7.0, Unit.CELSIUS, START, START));
        }
        byte[] written = written(Format.SENML, things);

        assertThat(new String(written, StandardCharsets.UTF_8).lines())
                .allMatch(line -> line.length() <= FrameDecoders.MAX_LINE_BYTES)
                .hasSizeGreaterThan(10);
        assertThat(read(written)).containsExactlyElementsOf(things);
        assertThat(written(Format.SENML, read(written))).isEqualTo(written);
    }

    @ParameterizedTest
    @EnumSource(Format.class)
    void readsNothingFromTheRecordOfNothing(Format format) throws IOException {
        assertThat(read(written(format, List.of()))).isEmpty();
    }

    @Test
    void refusesWhatWouldNotComeBack() throws IOException {
        try (RecordedBurnWriter writer = new RecordedBurnWriter(new ByteArrayOutputStream(), Format.SENML)) {
            writer.write(new Note("shed", START, "clock-step", "-1.5"));
            assertThatThrownBy(() -> writer.write(new Note("shed", START.plusMicros(-1), "note", "late")))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("time order");
            assertThatThrownBy(() -> writer.write(new Note("shed", START, "plug", "in")))
                    .isInstanceOf(IllegalArgumentException.class);
            assertThatThrownBy(() -> writer.write(new Note("shed", START, "my note", "in")))
                    .isInstanceOf(IllegalArgumentException.class);
            assertThatThrownBy(() -> writer.write(new Setting("shed", START, "jet", "1", "mm")))
                    .isInstanceOf(IllegalArgumentException.class);
        }
    }

    @Test
    void writesTheSampleBurnsAsTheyStandUnderFixtures() throws IOException {
        ByteArrayOutputStream heatUp = new ByteArrayOutputStream();
        SampleBurn.writeHeatUp(heatUp);
        ByteArrayOutputStream flameOut = new ByteArrayOutputStream();
        SampleBurn.writeFlameOut(flameOut);

        assertThat(BURNS.resolve(SampleBurn.HEAT_UP)).hasBinaryContent(heatUp.toByteArray());
        try (GZIPInputStream in = new GZIPInputStream(Files.newInputStream(BURNS.resolve(SampleBurn.FLAME_OUT)))) {
            assertThat(in.readAllBytes()).isEqualTo(flameOut.toByteArray());
        }
        assertThat(written(Format.SENML, read(heatUp.toByteArray()))).isEqualTo(heatUp.toByteArray());
        assertThat(written(Format.CSV, read(flameOut.toByteArray()))).isEqualTo(flameOut.toByteArray());
        // Through the other format and back.
        byte[] asSenMl = written(Format.SENML, read(flameOut.toByteArray()));
        assertThat(written(Format.CSV, read(asSenMl))).isEqualTo(flameOut.toByteArray());
    }

    private static List<Object> randomThings(Random random, Format format) {
        List<Object> things = new ArrayList<>();
        WallTime time = START;
        String[] texts = {
            "", "plain", "a,b", "\"q\"", " blank ", "½ µ ☃ 🔥", "line\nline\r\n\ttab", "\\n \\ \u0001", "42"
        };
        String[] forges = {"shed", "barn-2", "a.b_c"};
        for (int i = 0; i < 400; i++) {
            time = random.nextInt(3) == 0 ? time : time.plusMicros(random.nextInt(3_000_000));
            String forge = forges[random.nextInt(8) == 0 ? random.nextInt(3) : 0];
            // Names stay apart, for a key that comes twice is not a thing that a store gives out.
            switch (random.nextInt(8)) {
                case 0 -> things.add(new Note(forge, time, "note-" + i, texts[random.nextInt(texts.length)]));
                case 1 ->
                    things.add(new Setting(
                            forge, time, "setting-x" + i, texts[random.nextInt(texts.length)], i % 2 == 0 ? "mm" : ""));
                case 2 ->
                    things.add(new Setting(
                            forge, time, "setting-y" + i, i % 2 == 0 ? "0.80" : "0.8", i % 3 == 0 ? "mm" : ""));
                default -> things.add(randomReading(random, format, new Channel(forge, "c" + i), time));
            }
        }
        return things;
    }

    private static Reading randomReading(Random random, Format format, Channel channel, WallTime time) {
        Quality quality = QUALITIES.get(random.nextInt(QUALITIES.size()));
        double[] values = {
            0,
            -0.0,
            1103.2,
            -273.15,
            1e-9,
            123_456_789_012.0,
            0.1 + 0.2,
            2e-3,
            Double.MIN_VALUE,
            1e300,
            random.nextDouble(),
            Math.exp(random.nextGaussian() * 200)
        };
        double value = values[random.nextInt(values.length)];
        if (quality.isBad() && random.nextBoolean()) {
            value = Double.NaN;
        }
        Unit[] units = {
            Unit.CELSIUS, Unit.PASCAL, Unit.NONE, Unit.RATIO, Unit.ofSymbol("m3/h, \"n\""), Unit.ofSymbol("text")
        };
        boolean labels = format == Format.SENML;
        return new Reading(
                channel,
                value,
                units[random.nextInt(units.length)],
                labels && random.nextInt(3) == 0 ? random.nextDouble() : Double.NaN,
                quality,
                time,
                labels && random.nextInt(3) == 0 ? time.plusMicros(random.nextInt(9_999)) : time);
    }

    private List<Object> read(byte[] bytes) throws IOException {
        Path file = folder.resolve("burn");
        Files.write(file, bytes);
        List<Object> things = new ArrayList<>();
        try (RecordedBurnReader reader =
                RecordedBurnReader.open(List.of(file), RecordingProblem.Listener.STOP_AT_ONCE)) {
            for (Pack pack = reader.next(); pack != null; pack = reader.next()) {
                things.addAll(pack.settings());
                things.addAll(pack.notes());
                things.addAll(pack.readings());
            }
        }
        return things;
    }

    private static byte[] written(Format format, List<Object> things) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (RecordedBurnWriter writer = new RecordedBurnWriter(bytes, format)) {
            for (Object thing : things) {
                if (thing instanceof Reading reading) {
                    writer.write(reading);
                } else if (thing instanceof Note note) {
                    writer.write(note);
                } else {
                    writer.write((Setting) thing);
                }
            }
        }
        return bytes.toByteArray();
    }
}
