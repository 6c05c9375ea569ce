package org.bankfire.daemon.figures;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * What a process has used up to a moment, from outside: as Linux counts it under {@code /proc}.
 *
 * @param nanos {@link System#nanoTime} of the look
 * @param cpuS processor time, user and system, s
 * @param residentMb memory that is resident, MB (2^20 bytes)
 * @param peakMb the most that ever was
 * @param threads processor time of each kind of thread, s; numbers in their names are left out
 */
record Usage(long nanos, double cpuS, double residentMb, double peakMb, Map<String, Double> threads) {
    private static final int SHOWN_THREADS = 8;
    /** USER_HZ, which Linux has fixed at 100 on all common machines. */
    private static final double TICKS_PER_S = 100;

    private static final int STAT_USER = 11;

    Usage {
        threads = Map.copyOf(threads);
    }

    static Usage of(long pid) throws IOException {
        Path process = Path.of("/proc", Long.toString(pid));
        double cpuS = ProcessHandle.of(pid)
                        .flatMap(handle -> handle.info().totalCpuDuration())
                        .orElse(Duration.ZERO)
                        .toNanos()
                / 1e9;
        double resident = Double.NaN;
        double peak = Double.NaN;
        for (String line : Files.readAllLines(process.resolve("status"))) {
            if (line.startsWith("VmRSS:")) {
                resident = megabytes(line);
            } else if (line.startsWith("VmHWM:")) {
                peak = megabytes(line);
            }
        }
        return new Usage(System.nanoTime(), cpuS, resident, peak, threads(process.resolve("task")));
    }

    private static double megabytes(String line) {
        return Long.parseLong(line.replaceAll("[^0-9]", "")) / 1024.0;
    }

    private static Map<String, Double> threads(Path tasks) throws IOException {
        Map<String, Double> found = new TreeMap<>();
        List<Path> each;
        try (Stream<Path> all = Files.list(tasks)) {
            each = all.toList();
        }
        for (Path task : each) {
            try {
                String stat = Files.readString(task.resolve("stat"));
                int end = stat.lastIndexOf(')');
                String name = stat.substring(stat.indexOf('(') + 1, end).replaceAll("[#-]*[0-9]+", "");
                String[] fields = stat.substring(end + 2).split(" ", -1);
                double ticks = Long.parseLong(fields[STAT_USER]) + Long.parseLong(fields[STAT_USER + 1]);
                found.merge(name, ticks / TICKS_PER_S, Double::sum);
            } catch (IOException ended) {
                // The thread has ended between the two looks.
            }
        }
        return found;
    }

    /** Processors busy since an earlier look, 1 for one core. */
    double coresSince(Usage earlier) {
        return (cpuS - earlier.cpuS) / secondsSince(earlier);
    }

    double secondsSince(Usage earlier) {
        return (nanos - earlier.nanos) / (double) TimeUnit.SECONDS.toNanos(1);
    }

    /** The busiest threads since an earlier look, as shares of a core. */
    String threadsSince(Usage earlier) {
        double seconds = secondsSince(earlier);
        List<Map.Entry<String, Double>> used = new ArrayList<>();
        threads.forEach((name, cpu) -> {
            double share = (cpu - earlier.threads.getOrDefault(name, 0.0)) / seconds;
            if (share >= 0.005) {
                used.add(Map.entry(name, share));
            }
        });
        return used.stream()
                .sorted(Map.Entry.<String, Double>comparingByValue(Comparator.reverseOrder()))
                .limit(SHOWN_THREADS)
                .map(each -> String.format(Locale.ROOT, "%s %.0f %%", each.getKey(), 100 * each.getValue()))
                .collect(Collectors.joining(", "));
    }
}
