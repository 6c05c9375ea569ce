package org.bankfire.daemon.figures;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.locks.LockSupport;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.PtyPair;

/** One forge on a serial line at 10 Hz: how soon the first reading is stored, how soon a line is on the page, how much memory. */
final class SingleForgeFigure {
    private static final double RATE_HZ = 10;
    private static final int MOST_LINES = 12_000;
    private static final long FIRST_READING_WITHIN_S = 120;
    private static final long SHOWN_WITHIN_S = 60;
    private static final double START_TARGET_S = 1;
    private static final double MEMORY_TARGET_MB = 128;
    private static final double PAGE_TARGET_MS = 50;

    /**
     * What came of it.
     *
     * @param startS from the start of the process to the first reading that another program finds in its database
     * @param pageMs from the writing of a line to the arrival of a snapshot with it on the live stream
     * @param lines sent while that was watched
     * @param residentMb at the end
     */
    record Outcome(Spread startS, Spread pageMs, long lines, double watchedS, double residentMb, double cores) {}

    /** How the daemon is started with its arguments. */
    interface Starter {
        DaemonProcess start(String... arguments) throws IOException;
    }

    private SingleForgeFigure() {}

    /** As a user who knows no better. */
    static Starter plain() {
        return DaemonProcess::start;
    }

    /** By the script that the service uses; what it keeps from one start to the next is kept in {@code cache}. */
    static Starter script(Path script, Path cache) {
        return arguments -> DaemonProcess.startScript(Map.of("CACHE_DIRECTORY", cache.toString()), script, arguments);
    }

    /**
     * Starts it some times and lets the last one go on.
     *
     * @param before starts that do not count
     */
    static Outcome run(Path folder, int before, int starts, double watchedS, Starter starter)
            throws IOException, InterruptedException, SQLException {
        ForgeValues course = ForgeValues.burning(1, MOST_LINES, RATE_HZ);
        List<Double> startS = new ArrayList<>();
        for (int i = 1; ; i++) {
            Path own = Files.createDirectory(folder.resolve("start-" + i));
            try (PtyPair line = new PtyPair(own);
                    Lines lines = new Lines(line, course)) {
                Path config = BenchForge.configuration(own, """
                        kind = "serial"
                        port = "%s"
                        baud = 115200
                        """.formatted(line.device()), List.of("shed"));
                long begin = System.nanoTime();
                try (DaemonProcess daemon = starter.start("run", "--config", config.toString())) {
                    double tookS = (awaitReading(BenchForge.store(own)) - begin) / 1e9;
                    if (i > before) {
                        startS.add(tookS);
                    }
                    if (i >= before + starts) {
                        return watch(daemon, lines, watchedS, new Spread(startS));
                    }
                    daemon.stop();
                }
            }
        }
    }

    private static Outcome watch(DaemonProcess daemon, Lines lines, double watchedS, Spread startS)
            throws IOException, InterruptedException {
        try (LiveWatch page = new LiveWatch(daemon.page(), "shed")) {
            // The first seconds are those of the start, which has its own figure.
            TimeUnit.SECONDS.sleep(2);
            long from = lines.sent();
            Usage before = Usage.of(daemon.pid());
            TimeUnit.MILLISECONDS.sleep(Math.round(1e3 * watchedS));
            while (lines.sent() == from) {
                TimeUnit.MILLISECONDS.sleep(5);
            }
            Usage after = Usage.of(daemon.pid());
            long to = lines.sent();
            awaitShown(page, to - 1);
            List<Double> delays = new ArrayList<>();
            long next = from;
            for (LiveWatch.Seen seen : page.seen()) {
                // A snapshot shows the latest line; those before it came with it at the latest.
                for (; next < to && next <= seen.sequence(); next++) {
                    delays.add((seen.nanos() - lines.sentAt((int) next)) / 1e6);
                }
            }
            if (next < to) {
                throw new IOException("lines " + next + " to " + to + " did not come to the live stream");
            }
            return new Outcome(
                    startS, new Spread(delays), to - from, watchedS, after.residentMb(), after.coresSince(before));
        }
    }

    /** However late a line is: that is measured, and no reason to stop. */
    private static void awaitShown(LiveWatch page, long number) throws InterruptedException {
        long end = System.nanoTime() + TimeUnit.SECONDS.toNanos(SHOWN_WITHIN_S);
        while (page.seen().stream().noneMatch(seen -> seen.sequence() >= number) && System.nanoTime() - end < 0) {
            TimeUnit.MILLISECONDS.sleep(5);
        }
    }

    /** Another program's look into the database, again and again, until it holds a reading. */
    private static long awaitReading(Path database) throws InterruptedException, IOException {
        Path log = database.resolveSibling(database.getFileName() + "-wal");
        long end = System.nanoTime() + TimeUnit.SECONDS.toNanos(FIRST_READING_WITHIN_S);
        while (System.nanoTime() < end) {
            // Before there is a log the daemon makes its tables, and a look might be in its way.
            if (Files.exists(log) && Files.size(log) > 0) {
                try {
                    if (StoreCount.readings(database) > 0) {
                        return System.nanoTime();
                    }
                } catch (SQLException notYet) {
                    Thread.sleep(5);
                    continue;
                }
            }
            Thread.sleep(5);
        }
        throw new IOException("no reading was stored within " + FIRST_READING_WITHIN_S + " s");
    }

    /** Rows of the table. */
    static List<Figure> figures(String with, Outcome outcome) {
        double p99 = outcome.pageMs.quantile(0.99);
        return List.of(
                Figure.aimed(
                        "one forge, " + with + ": start to first stored reading",
                        String.format(
                                Locale.ROOT,
                                "median %.2f, slowest %.2f s (%d)",
                                outcome.startS.median(),
                                outcome.startS.max(),
                                outcome.startS.count()),
                        "< 1 s",
                        outcome.startS.median() < START_TARGET_S),
                Figure.aimed(
                        String.format(
                                Locale.ROOT, "one forge, %s: resident memory after %.0f s", with, outcome.watchedS),
                        String.format(
                                Locale.ROOT, "%.0f MB, %.1f %% of a core", outcome.residentMb, 100 * outcome.cores),
                        "< 128 MB",
                        outcome.residentMb < MEMORY_TARGET_MB),
                Figure.aimed(
                        "one forge, " + with + ": serial line to page, 10 Hz",
                        outcome.pageMs.inMs(),
                        "p99 < 50 ms",
                        p99 < PAGE_TARGET_MS));
    }

    /** Writes lines at 10 Hz for as long as it is open, whether anybody reads or not. */
    private static final class Lines implements AutoCloseable {
        private final PtyPair line;
        private final ForgeValues course;
        private final long[] sentAt = new long[MOST_LINES];
        private final AtomicBoolean open = new AtomicBoolean(true);
        private final Thread thread = new Thread(this::send, "lines");
        private volatile int sent;

        Lines(PtyPair line, ForgeValues course) {
            this.line = line;
            this.course = course;
            thread.setDaemon(true);
            thread.start();
        }

        long sent() {
            return sent;
        }

        synchronized long sentAt(int number) {
            return sentAt[number];
        }

        private void send() {
            long period = Math.round(1e9 / RATE_HZ);
            long due = System.nanoTime();
            try {
                for (int number = 0; number < MOST_LINES && open.get(); number++) {
                    String tail = new String(course.tail(number), StandardCharsets.US_ASCII);
                    String text = "[{\"bn\":\"shed:\",\"n\":\"seq\",\"v\":" + number + "},{" + tail + "\n";
                    synchronized (this) {
                        sentAt[number] = System.nanoTime();
                    }
                    line.send(text);
                    sent = number + 1;
                    due += period;
                    while (open.get() && System.nanoTime() < due) {
                        LockSupport.parkNanos(due - System.nanoTime());
                    }
                }
            } catch (IOException unplugged) {
                // The end of the measurement: the pair is gone.
                open.set(false);
            }
        }

        @Override
        public void close() {
            open.set(false);
        }
    }
}
