package org.bankfire.daemon.acquire.replay;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Random;
import java.util.zip.GZIPOutputStream;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.Note;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;

/** Invented burns: a chamber that warms along an exponential, with seeded noise. They stand under fixtures/burns. */
final class SampleBurn {
    static final String HEAT_UP = "shed-heat-up.ndjson";
    static final String FLAME_OUT = "barn-flame-out.csv.gz";

    private static final WallTime START = WallTime.of(Instant.parse("2026-03-01T10:00:00Z"));
    private static final double AMBIENT_C = 18;

    private SampleBurn() {}

    /** Twenty minutes of a forge that warms towards 1,088 °C, at 5 s between packs. */
    static void writeHeatUp(OutputStream out) throws IOException {
        Random random = new Random(1080);
        try (RecordedBurnWriter writer = new RecordedBurnWriter(out, RecordedBurnWriter.Format.SENML)) {
            writer.write(new Setting("shed", START, "plug", "in", ""));
            writer.write(new Setting("shed", START, "setting-jet", "0.8", "mm"));
            writer.write(new Note("shed", START, "note", "new front brick, \"soft\" kind"));
            for (int tS = 0; tS <= 1_200; tS += 5) {
                boolean lit = tS >= 20;
                double chamberC = lit ? AMBIENT_C + 1_070 * (1 - Math.exp(-(tS - 20) / 330.0)) : AMBIENT_C;
                WallTime time = START.plusSeconds(tS);
                if (tS == 900) {
                    writer.write(new Note("shed", time, "stock", "in"));
                }
                write(writer, "shed", "chamber", chamberC + random.nextGaussian() * 0.8, Unit.CELSIUS, time);
                write(writer, "shed", "flame", lit ? 0.9 + random.nextDouble() * 0.1 : 0.02, Unit.RATIO, time);
                write(writer, "shed", "gas", lit ? 34_500 + random.nextGaussian() * 120 : 0, Unit.PASCAL, time);
                write(writer, "shed", "shell", AMBIENT_C + 0.05 * tS, Unit.CELSIUS, time);
            }
        }
    }

    /**
     * Fifteen minutes at 2 s: the flame goes out at ten minutes while gas flows on, the gas is closed 90 s later, and at
     * fourteen minutes the thermocouple's wire breaks.
     */
    static void writeFlameOut(OutputStream out) throws IOException {
        Random random = new Random(14);
        try (RecordedBurnWriter writer = new RecordedBurnWriter(out, RecordedBurnWriter.Format.CSV)) {
            writer.write(new Setting("barn", START, "plug", "out", ""));
            double chamberC = AMBIENT_C;
            for (int tS = 0; tS <= 900; tS += 2) {
                boolean burning = tS >= 10 && tS < 600;
                boolean gas = tS >= 10 && tS < 690;
                chamberC += ((burning ? 1_090 : AMBIENT_C) - chamberC) * 2 / (burning ? 200.0 : 400.0);
                WallTime time = START.plusSeconds(tS);
                if (tS == 700) {
                    writer.write(new Note("barn", time, "note", "draught from the door, C:\\> ½\nrelight"));
                }
                if (tS < 840) {
                    write(writer, "barn", "chamber", chamberC + random.nextGaussian(), Unit.CELSIUS, time);
                } else {
                    writer.write(Reading.fault(new Channel("barn", "chamber"), Unit.CELSIUS, Quality.OPEN, time, time));
                }
                write(writer, "barn", "flame", burning ? 0.95 : 0.01, Unit.RATIO, time);
                write(writer, "barn", "gas", gas ? 21_000 + random.nextGaussian() * 60 : 0, Unit.PASCAL, time);
            }
        }
    }

    private static void write(
            RecordedBurnWriter writer, String forge, String name, double value, Unit unit, WallTime time)
            throws IOException {
        double rounded = Math.round(value * 100) / 100.0;
        writer.write(Reading.good(new Channel(forge, name), rounded, unit, time, time));
    }

    /** Writes both into the folder that is the argument. */
    public static void main(String[] arguments) throws IOException {
        Path folder = List.of(arguments).stream().map(Path::of).findFirst().orElseThrow();
        try (OutputStream out = Files.newOutputStream(folder.resolve(HEAT_UP))) {
            writeHeatUp(out);
        }
        try (OutputStream out = new GZIPOutputStream(Files.newOutputStream(folder.resolve(FLAME_OUT)))) {
            writeFlameOut(out);
        }
    }
}
