package org.bankfire.daemon.figures;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import org.bankfire.daemon.testbed.DaemonProcess;
import org.bankfire.daemon.testbed.MosquittoProcess;
import org.bankfire.daemon.testbed.Programs;

/** Many forges through a real broker into the whole daemon, with the senders in a process of their own. */
final class FleetFigure {
    private static final int WATCHED = 10;
    private static final Duration READY = Duration.ofMinutes(3);
    private static final Duration DRAINED = Duration.ofSeconds(60);
    private static final double LAG_TARGET_MS = 100;
    private static final double LAG_SHARE = 0.99;
    private static final double MEMORY_TARGET_MB = 512;

    /**
     * How many, how often and how long.
     *
     * @param forges 1 or more
     * @param rateHz messages a second of each
     * @param warmUpS not measured: the virtual machine compiles
     * @param measuredS then measured
     * @param options of the daemon's virtual machine
     */
    record Load(int forges, double rateHz, double warmUpS, double measuredS, List<String> options) {
        Load {
            options = List.copyOf(options);
        }
    }

    /**
     * What came of it.
     *
     * @param sent messages that the broker took
     * @param stored readings found in the store afterwards; lost is what is missing of four a message
     * @param lag from the moment that a reading was due at its board to the snapshot, as the daemon counts it
     * @param pageMs the same to the arrival of that snapshot on the live stream, for some forges; readings that were skipped
     *     there count from their own moment
     * @param lateMs p99 of how late the senders were, which is part of the lag
     * @param behind messages that the daemon had not taken yet when the senders were done
     */
    record Outcome(
            Load load,
            long sent,
            long stored,
            CountedLag lag,
            Spread pageMs,
            double lateMs,
            double clockSteppedMs,
            long behind,
            Usage daemonFrom,
            Usage daemonTo,
            double brokerCores,
            double senderCores) {
        /** Whether nothing was lost and the snapshots were in time. */
        boolean keptUp() {
            return lost() == 0 && lag.quantileMs(LAG_SHARE) <= LAG_TARGET_MS;
        }

        long lost() {
            return sent * ForgeValues.CHANNELS - stored;
        }
    }

    private FleetFigure() {}

    static Outcome run(Path folder, Load load) throws IOException, InterruptedException, SQLException {
        // More than a board's few may be under way, for messages are acknowledged when they are stored; and less than
        // the daemon takes at once.
        try (MosquittoProcess broker = new MosquittoProcess(folder)
                .quiet()
                .with("max_inflight_messages 10000")
                .with("set_tcp_nodelay true")) {
            broker.start();
            List<String> ids =
                    IntStream.range(0, load.forges).mapToObj(FleetSender::id).toList();
            Path config = BenchForge.configuration(folder, """
                    kind = "mqtt"
                    broker = "%s"
                    topics = ["club/#"]
                    """.formatted(broker.uri()), ids);
            try (DaemonProcess daemon = DaemonProcess.startWith(load.options, "run", "--config", config.toString())) {
                return measure(folder, load, ids, broker, daemon);
            }
        }
    }

    private static Outcome measure(
            Path folder, Load load, List<String> ids, MosquittoProcess broker, DaemonProcess daemon)
            throws IOException, InterruptedException, SQLException {
        Health health = new Health(daemon.page());
        if (!health.await(
                READY, now -> now.path("sources").path(0).path("connected").asBoolean())) {
            throw new IOException("the daemon did not reach the broker:\n" + String.join("\n", daemon.log()));
        }
        OneClock clock = OneClock.now();
        Process sender = senders(broker, load, clock);
        List<LiveWatch> watches = new ArrayList<>();
        try (BufferedReader said = sender.inputReader();
                OutputStream go = sender.getOutputStream()) {
            if (!"READY".equals(said.readLine())) {
                throw new IOException("the senders did not start");
            }
            int step = Math.max(1, load.forges / WATCHED);
            for (int i = 0; i < load.forges && watches.size() < WATCHED; i += step) {
                watches.add(new LiveWatch(daemon.page(), ids.get(i)));
            }
            go.write('\n');
            go.flush();
            TimeUnit.MILLISECONDS.sleep(Math.round(1e3 * load.warmUpS));
            long from = System.nanoTime();
            CountedLag lagFrom = CountedLag.of(health.metrics());
            Usage daemonFrom = Usage.of(daemon.pid());
            Usage brokerFrom = Usage.of(broker.pid());
            Usage senderFrom = Usage.of(sender.pid());
            // A moment less than all: the sender's process must still be there to be looked at.
            TimeUnit.MILLISECONDS.sleep(Math.round(1e3 * Math.max(0.5, load.measuredS - 0.5)));
            CountedLag lag = CountedLag.of(health.metrics()).since(lagFrom);
            long latest = System.nanoTime() + READY.toNanos();
            // A daemon that was kept from running shows each forge later.
            while (lag.count() < load.forges && System.nanoTime() - latest < 0) {
                TimeUnit.MILLISECONDS.sleep(50);
                lag = CountedLag.of(health.metrics()).since(lagFrom);
            }
            Usage daemonTo = Usage.of(daemon.pid());
            double brokerCores = Usage.of(broker.pid()).coresSince(brokerFrom);
            double senderCores = Usage.of(sender.pid()).coresSince(senderFrom);
            String end = said.readLine();
            if (end == null || !end.startsWith("SENT ")) {
                throw new IOException("the senders did not come to their end: " + end);
            }
            String[] words = end.split(" ", -1);
            long sent = Long.parseLong(words[1]);
            long behind = sent - health.frames();
            health.await(
                    DRAINED,
                    now -> now.path("storeBacklog").asLong() == 0
                            && now.path("sources").path(0).path("frames").asLong() >= sent);
            List<Double> pageMs = new ArrayList<>();
            for (LiveWatch watch : watches) {
                pageMs.addAll(lags(watch, clock, load.rateHz, from, daemonTo.nanos()));
            }
            for (LiveWatch watch : watches) {
                watch.close();
            }
            daemon.stop();
            Files.write(Programs.log("fleet-daemon.log"), daemon.log());
            return new Outcome(
                    load,
                    sent,
                    StoreCount.sentReadings(BenchForge.store(folder)),
                    lag,
                    new Spread(pageMs),
                    Double.parseDouble(words[3]),
                    clock.steppedMs(),
                    behind,
                    daemonFrom,
                    daemonTo,
                    brokerCores,
                    senderCores);
        } finally {
            sender.destroyForcibly();
        }
    }

    /** A process of their own, so that what they cost is told apart; it says when it is ready and waits for a word. */
    private static Process senders(MosquittoProcess broker, Load load, OneClock clock) throws IOException {
        return new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-cp",
                        System.getProperty("java.class.path"),
                        FleetSender.class.getName(),
                        "--port=" + broker.port(),
                        "--forges=" + load.forges,
                        "--rate=" + load.rateHz,
                        "--seconds=" + (load.warmUpS + load.measuredS),
                        "--clock=" + clock.offsetMicros())
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
    }

    /** Lags of all readings that were due between two moments, each until the first snapshot that shows it or a later one. */
    private static List<Double> lags(LiveWatch watch, OneClock clock, double rateHz, long fromNanos, long toNanos) {
        double fromS = clock.micros(fromNanos) / 1e6;
        double toS = clock.micros(toNanos) / 1e6;
        List<Double> lagsMs = new ArrayList<>();
        double last = Double.NaN;
        for (LiveWatch.Seen seen : watch.seen()) {
            if (seen.chamberS() <= last) {
                continue;
            }
            double first = Double.isNaN(last) ? seen.chamberS() : last + 1 / rateHz;
            // Half a period before the one that is shown, the last of those before it was shown as well.
            for (double due = first; due < seen.chamberS() + 0.5 / rateHz; due += 1 / rateHz) {
                if (due >= fromS && due <= toS) {
                    lagsMs.add(clock.micros(seen.nanos()) / 1e3 - 1e3 * due);
                }
            }
            last = seen.chamberS();
        }
        return lagsMs;
    }

    /** Rows of the table. */
    static List<Figure> figures(Outcome outcome) {
        Load load = outcome.load;
        String what = String.format(
                Locale.ROOT,
                "%d forges × %d channels × %.0f Hz by MQTT",
                load.forges,
                ForgeValues.CHANNELS,
                load.rateHz);
        List<Figure> figures = new ArrayList<>();
        figures.add(Figure.aimed(
                what + ": sensor to snapshot, as the daemon counts it",
                outcome.lag.inMs(),
                "p99 < 100 ms",
                outcome.lag.quantileMs(LAG_SHARE) <= LAG_TARGET_MS));
        figures.add(Figure.told(what + ": sensor to page, seen from outside", outcome.pageMs.inMs()));
        if (Math.abs(outcome.clockSteppedMs) > 1) {
            figures.add(Figure.told(
                    what + ": **the clock was set meanwhile, the lags are wrong**",
                    String.format(Locale.ROOT, "%.1f ms", outcome.clockSteppedMs)));
        }
        figures.add(Figure.aimed(
                what + ": not in the store a minute after the end",
                String.format(
                        Locale.ROOT,
                        "%d of %d readings; %d messages behind at the end",
                        outcome.lost(),
                        outcome.sent * ForgeValues.CHANNELS,
                        outcome.behind),
                "none",
                outcome.lost() == 0));
        figures.add(Figure.aimed(
                what + ": resident memory",
                String.format(
                        Locale.ROOT,
                        "%.0f MB, at most %.0f MB",
                        outcome.daemonTo.residentMb(),
                        outcome.daemonTo.peakMb()),
                "< 512 MB",
                outcome.daemonTo.peakMb() < MEMORY_TARGET_MB));
        figures.add(Figure.told(
                what + ": cores busy",
                String.format(
                        Locale.ROOT,
                        "daemon %.2f, broker %.2f, senders %.2f (senders late by p99 %.1f ms)",
                        outcome.daemonTo.coresSince(outcome.daemonFrom),
                        outcome.brokerCores,
                        outcome.senderCores,
                        outcome.lateMs)));
        figures.add(Figure.told(
                what + ": the daemon's busiest threads", outcome.daemonTo.threadsSince(outcome.daemonFrom)));
        return figures;
    }
}
