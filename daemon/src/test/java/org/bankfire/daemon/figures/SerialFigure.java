package org.bankfire.daemon.figures;

import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.PtyPair;
import org.jspecify.annotations.Nullable;

/**
 * Lines at full speed over a pair of pseudo-terminals: into the built jar, and into the short script that a maker would
 * write, {@code fixtures/bench/serial_to_file.py}, once to CSV and once to SQLite with a commit a second.
 */
final class SerialFigure {
    private static final Duration DONE = Duration.ofMinutes(3);
    private static final double PER_LINES = 100_000;
    /** Lines of one write to the device. */
    private static final int BURST = 20;

    private final Path folder;
    private final int warmUp;
    private final int lines;
    private final ForgeValues values;
    private int run;

    /** What became of the measured lines. */
    private record Taken(double linesPerS, double cpuS) {}

    private interface Taker {
        Taken take(Path own, PtyPair line) throws Exception;
    }

    private SerialFigure(Path folder, int lines) {
        this.folder = folder;
        this.warmUp = lines / 2;
        this.lines = lines;
        this.values = ForgeValues.burning(1, 6_000, 10);
    }

    static List<Figure> figures(Path folder, int lines, int rounds) throws Exception {
        SerialFigure serial = new SerialFigure(folder, lines);
        List<Taken> ours = new ArrayList<>();
        List<Taken> csv = new ArrayList<>();
        List<Taken> sqlite = new ArrayList<>();
        for (int i = 0; i < rounds; i++) {
            ours.add(serial.plugged(serial::daemon));
            csv.add(serial.plugged((own, line) -> serial.script(own, line, "csv")));
            sqlite.add(serial.plugged((own, line) -> serial.script(own, line, "sqlite")));
        }
        return List.of(serial.row("script to CSV", ours, csv), serial.row("script to SQLite", ours, sqlite));
    }

    private Figure row(String beside, List<Taken> ours, List<Taken> theirs) {
        double our = new Spread(ours.stream().map(Taken::linesPerS).toList()).median();
        double their = new Spread(theirs.stream().map(Taken::linesPerS).toList()).median();
        return new Figure(
                "serial lines of five records at full speed, by the whole jar",
                inWords(our, ours),
                beside + ": " + inWords(their, theirs),
                String.format(Locale.ROOT, "%.2f", our / their),
                "",
                Figure.Verdict.NO_TARGET);
    }

    private String inWords(double rate, List<Taken> taken) {
        double cpuS = new Spread(taken.stream().map(Taken::cpuS).toList()).median();
        return String.format(
                Locale.ROOT, "%,.0f lines/s, %.1f s of a core per 100,000", rate, cpuS * PER_LINES / lines);
    }

    private Taken plugged(Taker taker) throws Exception {
        Path own = Files.createDirectory(folder.resolve("serial-" + run++));
        try (PtyPair line = new PtyPair(own)) {
            return taker.take(own, line);
        }
    }

    private Taken daemon(Path own, PtyPair line) throws Exception {
        Path config = BenchForge.configuration(own, """
                kind = "serial"
                port = "%s"
                baud = 115200
                """.formatted(line.device()), List.of("shed"));
        try (DaemonProcess daemon = DaemonProcess.start("run", "--config", config.toString())) {
            Health health = new Health(daemon.page());
            if (!health.await(
                    DONE, now -> now.path("sources").path(0).path("connected").asBoolean())) {
                throw new IOException("the daemon did not open the line: " + health.now());
            }
            send(line, 0, warmUp);
            awaitFrames(health, warmUp);
            Usage before = Usage.of(daemon.pid());
            send(line, warmUp, lines);
            awaitFrames(health, warmUp + lines);
            health.await(DONE, now -> now.path("storeBacklog").asLong() == 0);
            Usage after = Usage.of(daemon.pid());
            daemon.stop();
            return taken(before, after, StoreCount.lines(BenchForge.store(own)));
        }
    }

    private static void awaitFrames(Health health, long frames) throws IOException, InterruptedException {
        if (!health.await(
                DONE, now -> now.path("sources").path(0).path("frames").asLong() >= frames)) {
            throw new IOException("the daemon did not take all lines: " + health.now());
        }
    }

    private Taken script(Path own, PtyPair line, String kind) throws Exception {
        Process script = new ProcessBuilder(
                        "/usr/bin/python3",
                        Path.of(System.getProperty("bankfire.fixtures", "../fixtures"), "bench", "serial_to_file.py")
                                .toString(),
                        line.device().toString(),
                        own.resolve("out." + kind).toString(),
                        Integer.toString(warmUp),
                        Integer.toString(warmUp + lines))
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        try (BufferedReader said = script.inputReader()) {
            expect("listening", said.readLine());
            send(line, 0, warmUp);
            expect(Integer.toString(warmUp), said.readLine());
            Usage before = Usage.of(script.pid());
            send(line, warmUp, lines);
            expect(Integer.toString(warmUp + lines), said.readLine());
            Usage after = Usage.of(script.pid());
            script.getOutputStream().close();
            script.waitFor();
            return taken(before, after, stored(own.resolve("out." + kind), kind));
        } finally {
            script.destroyForcibly();
        }
    }

    private static void expect(String wanted, @Nullable String said) throws IOException {
        if (!wanted.equals(said)) {
            throw new IOException("the script said " + said + " and not " + wanted);
        }
    }

    private static long stored(Path file, String kind) throws Exception {
        if (kind.equals("sqlite")) {
            return StoreCount.linesOfScript(file);
        }
        try (var rows = Files.lines(file)) {
            return rows.filter(row -> row.contains(",seq,")).count();
        }
    }

    private Taken taken(Usage before, Usage after, long stored) {
        if (stored != warmUp + lines) {
            throw new IllegalStateException(stored + " of " + (warmUp + lines) + " lines were stored");
        }
        return new Taken(lines / after.secondsSince(before), after.cpuS() - before.cpuS());
    }

    /** As fast as the device takes them. */
    private void send(PtyPair line, int from, int count) throws IOException {
        ByteArrayOutputStream burst = new ByteArrayOutputStream();
        for (int i = from; i < from + count; i++) {
            burst.writeBytes(
                    ("[{\"bn\":\"shed:\",\"n\":\"seq\",\"v\":" + i + "},{").getBytes(StandardCharsets.US_ASCII));
            burst.writeBytes(values.tail(i % values.steps()));
            burst.write('\n');
            if (i % BURST == BURST - 1 || i == from + count - 1) {
                line.send(burst.toByteArray());
                burst.reset();
            }
        }
    }
}
