package org.bankfire.daemon.figures;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/**
 * The boards of many forges in one process of its own: a message with four readings of each forge at that forge's own moment
 * of every period. The time in a message is the moment that it is due, so that a sender or broker that is late shows as lag.
 *
 * <p>Standard output: {@code READY}, then after a line on standard input the sending, then {@code SENT messages LATE p99}
 * with how late messages were handed to the broker, ms, when the broker has acknowledged all of them. Ends with its input.
 */
@Command(name = "fleet-sender")
final class FleetSender implements Callable<Integer> {
    private static final int COURSES = 16;
    private static final long ACKNOWLEDGED_WITHIN_S = 60;
    private static final long SLICE_NANOS = 1_000_000;

    @Option(names = "--port", required = true)
    private int port;

    @Option(names = "--forges", required = true)
    private int forges;

    @Option(names = "--rate", required = true)
    private double rateHz;

    @Option(names = "--seconds", required = true)
    private double seconds;

    @Option(names = "--clock", required = true, description = "offset of the clock, µs")
    private long clockOffsetMicros;

    @Option(names = "--connections", defaultValue = "8")
    private int connections;

    private final List<LeanPublisher> publishers = new ArrayList<>();
    private final List<ForgeValues> courses = new ArrayList<>();
    private PackBytes[] packs = {};
    private byte[][] topics = {};

    public static void main(String[] args) {
        System.exit(new CommandLine(new FleetSender()).execute(args));
    }

    /** Name of the forge of that number, 0 and up. */
    static String id(int number) {
        return String.format(Locale.ROOT, "f%05d", number);
    }

    /** Messages that all forges send in that time. */
    static long messages(int forges, double rateHz, double seconds) {
        return Math.round(seconds * rateHz) * forges;
    }

    @Override
    public Integer call() throws Exception {
        int periods = (int) Math.round(seconds * rateHz);
        for (int i = 0; i < Math.min(COURSES, forges); i++) {
            courses.add(ForgeValues.burning(i + 1, periods, rateHz));
        }
        packs = new PackBytes[forges];
        topics = new byte[forges][];
        for (int i = 0; i < forges; i++) {
            packs[i] = new PackBytes(id(i));
            topics[i] = ("club/" + id(i)).getBytes(StandardCharsets.US_ASCII);
        }
        for (int i = 0; i < Math.min(connections, forges); i++) {
            publishers.add(new LeanPublisher(port, "boards-" + i));
        }
        System.out.println("READY");
        if (System.in.read() < 0) {
            return 1;
        }
        Spread late = send(periods);
        long all = messages(forges, rateHz, seconds);
        awaitAcknowledged(all);
        for (LeanPublisher publisher : publishers) {
            publisher.close();
        }
        System.out.println(String.format(Locale.ROOT, "SENT %d LATE %.2f", all, late.quantile(0.99)));
        // Whoever started it looks at what it used before it is gone.
        return System.in.read() < 0 ? 0 : 1;
    }

    private Spread send(int periods) throws IOException, InterruptedException {
        double periodNanos = 1e9 / rateHz;
        double gapNanos = periodNanos / forges;
        long begin = System.nanoTime();
        long beginMicros = new OneClock(clockOffsetMicros).micros(begin);
        List<Double> lateMs = new ArrayList<>();
        long next = 0;
        long all = (long) periods * forges;
        while (next < all) {
            long now = System.nanoTime() - begin;
            long due = Math.min(all, (long) (now / gapNanos) + 1);
            if (next < due) {
                lateMs.add((now - next * gapNanos) / 1e6);
            }
            for (; next < due; next++) {
                int forge = (int) (next % forges);
                byte[] tail = courses.get(forge % courses.size()).tail((int) (next / forges));
                long micros = beginMicros + Math.round(next * gapNanos / 1e3);
                publishers.get(forge % publishers.size()).add(topics[forge], packs[forge], micros, tail);
            }
            for (LeanPublisher publisher : publishers) {
                publisher.flush();
            }
            LockSupport.parkNanos(SLICE_NANOS);
        }
        return new Spread(lateMs);
    }

    private void awaitAcknowledged(long all) throws InterruptedException, IOException {
        long end = System.nanoTime() + TimeUnit.SECONDS.toNanos(ACKNOWLEDGED_WITHIN_S);
        long acknowledged = 0;
        while (acknowledged < all) {
            if (System.nanoTime() > end) {
                throw new IOException("the broker acknowledged " + acknowledged + " of " + all + " messages");
            }
            TimeUnit.MILLISECONDS.sleep(10);
            acknowledged =
                    publishers.stream().mapToLong(LeanPublisher::acknowledged).sum();
        }
    }
}
