package org.bankfire.daemon.figures;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import java.util.zip.Deflater;
import java.util.zip.GZIPOutputStream;
import org.bankfire.daemon.testbed.DaemonProcess;

/** Days of one forge at 4 Hz, recorded in one compressed file, through {@code replay} of the built jar. */
final class ReplayFigure {
    static final double RATE_HZ = 4;
    private static final int MONTH_DAYS = 30;
    private static final double MONTH_TARGET_S = 60;
    /** Three times as long as a month may take. */
    private static final long MOST_NANOS = TimeUnit.MINUTES.toNanos(3);

    private static final double DAY_S = 86_400;
    private static final long BEGIN_S = Instant.parse("2026-03-01T00:00:00Z").getEpochSecond();

    /**
     * What came of it.
     *
     * @param frames in the file, of four readings each
     * @param fileBytes compressed
     * @param wallS from the start of the process to its end; NaN when it was not done in time
     * @param cpuS processor time, s
     * @param events lines that it wrote
     */
    record Outcome(int days, long frames, long fileBytes, double wallS, double cpuS, long events) {
        double targetS() {
            return MONTH_TARGET_S * days / MONTH_DAYS;
        }
    }

    private ReplayFigure() {}

    static Outcome run(Path folder, int days, List<String> options) throws IOException, InterruptedException {
        Path record = folder.resolve("month.ndjson.gz");
        long frames = write(record, days);
        Path events = folder.resolve("events.ndjson");
        Path config = BenchForge.configuration(folder, """
                kind = "serial"
                port = "/dev/null"
                """, List.of("shed"));
        long begin = System.nanoTime();
        try (DaemonProcess replay = DaemonProcess.startWith(
                options, "replay", record.toString(), "--config", config.toString(), "--events", events.toString())) {
            ProcessHandle handle = ProcessHandle.of(replay.pid()).orElseThrow();
            double cpuS = 0;
            while (replay.isAlive() && System.nanoTime() - begin < MOST_NANOS) {
                cpuS = Math.max(
                        cpuS,
                        handle.info()
                                .totalCpuDuration()
                                .map(cpu -> cpu.toNanos() / 1e9)
                                .orElse(0.0));
                TimeUnit.MILLISECONDS.sleep(5);
            }
            double wallS = (System.nanoTime() - begin) / 1e9;
            if (replay.isAlive()) {
                return new Outcome(days, frames, Files.size(record), Double.NaN, cpuS, 0);
            }
            if (replay.exitCode() != 0) {
                throw new IOException("replay failed:\n" + String.join("\n", replay.log()));
            }
            long lines;
            try (var told = Files.lines(events)) {
                lines = told.count();
            }
            return new Outcome(days, frames, Files.size(record), wallS, cpuS, lines);
        }
    }

    /** Two burns a day, each day the same course at its own times. */
    private static long write(Path file, int days) throws IOException {
        ForgeValues day = ForgeValues.day(1, RATE_HZ);
        PackBytes packs = new PackBytes("shed");
        byte[] line = new byte[512];
        long frames = 0;
        try (OutputStream out = new BufferedOutputStream(
                new GZIPOutputStream(Files.newOutputStream(file), 65_536) {
                    {
                        def.setLevel(Deflater.BEST_SPEED);
                    }
                },
                1 << 20)) {
            for (int d = 0; d < days; d++) {
                for (int i = 0; i < day.steps(); i++) {
                    long micros = Math.round(1e6 * (BEGIN_S + d * DAY_S + i / RATE_HZ));
                    int length = packs.write(line, 0, micros, day.tail(i));
                    line[length] = '\n';
                    out.write(line, 0, length + 1);
                    frames++;
                }
            }
        }
        return frames;
    }

    static Figure figure(Outcome outcome) {
        return Figure.aimed(
                String.format(
                        Locale.ROOT,
                        "replay of %d days of one forge at %.0f Hz (%.1f million frames of %d readings, %d MB gzip)",
                        outcome.days,
                        RATE_HZ,
                        outcome.frames / 1e6,
                        ForgeValues.CHANNELS,
                        outcome.fileBytes >> 20),
                Double.isNaN(outcome.wallS)
                        ? "not done after 180 s"
                        : String.format(
                                Locale.ROOT,
                                "%.1f s, processor %.1f s, %.0f frames/s, %d events",
                                outcome.wallS,
                                outcome.cpuS,
                                outcome.frames / outcome.wallS,
                                outcome.events),
                String.format(Locale.ROOT, "< %.0f s", outcome.targetS()),
                outcome.wallS < outcome.targetS());
    }
}
