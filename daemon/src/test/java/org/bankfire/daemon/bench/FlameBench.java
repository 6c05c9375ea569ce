package org.bankfire.daemon.bench;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorCompletionService;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.stream.Collectors;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Runs burns at random and prints what the alarms made of them. */
@Command(
        name = "flame-bench",
        mixinStandardHelpOptions = true,
        description = "Tries the flame alarms on burns of virtual forges at random.")
public final class FlameBench implements Callable<Integer> {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final int BAR_WIDTH = 40;

    @Option(names = "--first", description = "First seed (default: ${DEFAULT-VALUE}).")
    private long first = 1;

    @Option(names = "--count", description = "How many seeds (default: ${DEFAULT-VALUE}).")
    private int count = 200;

    @Option(names = "--threads", description = "Burns at a time (default: one a core).")
    private int threads = Runtime.getRuntime().availableProcessors();

    @Option(names = "--kind", description = "Only burns of this kind; may be repeated: ${COMPLETION-CANDIDATES}.")
    private List<BurnPlan.Kind> kinds = List.of();

    @Option(
            names = "--out",
            description = "File of outcomes, one a line as JSON. Seeds that are in it are not run again.")
    private @Nullable Path out;

    @Option(
            names = "--faults",
            description = "File for a line on each burn that went wrong (default: standard output).")
    private @Nullable Path faults;

    @Option(names = "--csv", description = "File for the table of delays as CSV.")
    private @Nullable Path csv;

    @Option(
            names = "--stock-share",
            description = "Rated stock: surface of its bars over that of the chamber (default: ${DEFAULT-VALUE}).")
    private double stockShare = Rating.USUAL.surfaceShare();

    @Option(
            names = "--stock-seen",
            description = "What a probe sees of it at most, as a part of that share (default: ${DEFAULT-VALUE}).")
    private double stockSeen = Rating.USUAL.seenShare();

    @Option(names = "--seed", description = "Print this burn as CSV, reading by reading, and nothing else.")
    private @Nullable Long seed;

    FlameBench() {}

    /** The command. */
    public static void main(String[] args) {
        System.exit(new CommandLine(new FlameBench())
                .setCaseInsensitiveEnumValuesAllowed(true)
                .execute(args));
    }

    @Override
    public Integer call() throws Exception {
        if (seed != null) {
            trace(seed, new Rating(stockShare, stockSeen));
            return 0;
        }
        Map<Long, BurnOutcome> known = known();
        List<Long> wanted = new ArrayList<>();
        for (long each = first; each < first + count; each++) {
            if (kinds.isEmpty() || kinds.contains(BurnPlan.kindOf(each))) {
                wanted.add(each);
            }
        }
        List<Long> todo =
                wanted.stream().filter(each -> !known.containsKey(each)).toList();
        long beganNanos = System.nanoTime();
        run(todo, known, new Rating(stockShare, stockSeen));
        List<BurnOutcome> outcomes = wanted.stream()
                .map(known::get)
                .sorted(Comparator.comparingLong(BurnOutcome::seed))
                .toList();
        BenchTable table = new BenchTable(outcomes);
        String lines = table.faults();
        if (faults != null) {
            Files.writeString(faults, lines);
        } else {
            System.out.println(lines);
        }
        if (csv != null) {
            Files.writeString(csv, table.csv());
        }
        System.out.println(table.markdown());
        System.out.printf(
                Locale.ROOT,
                "%d burns, seeds %d to %d; %d run in %.0f s.%n",
                outcomes.size(),
                first,
                first + count - 1,
                todo.size(),
                (System.nanoTime() - beganNanos) / 1e9);
        return 0;
    }

    private Map<Long, BurnOutcome> known() throws IOException {
        Map<Long, BurnOutcome> known = new HashMap<>();
        if (out != null && Files.exists(out)) {
            for (String line : Files.readAllLines(out)) {
                BurnOutcome outcome = JSON.readValue(line, BurnOutcome.class);
                known.put(outcome.seed(), outcome);
            }
        }
        return known;
    }

    private void run(List<Long> todo, Map<Long, BurnOutcome> known, Rating rating)
            throws IOException, InterruptedException {
        ExecutorService pool = Executors.newFixedThreadPool(threads);
        try (BufferedWriter writer = out == null
                ? null
                : Files.newBufferedWriter(
                        out, StandardCharsets.UTF_8, StandardOpenOption.CREATE, StandardOpenOption.APPEND)) {
            ExecutorCompletionService<BurnOutcome> service = new ExecutorCompletionService<>(pool);
            todo.forEach(each -> service.submit(() -> BurnRun.of(BurnPlan.of(each, rating))));
            double litH = 0;
            for (int i = 0; i < todo.size(); i++) {
                BurnOutcome outcome = service.take().get();
                known.put(outcome.seed(), outcome);
                litH += outcome.litH();
                if (writer != null) {
                    writer.write(JSON.writeValueAsString(outcome));
                    writer.newLine();
                    writer.flush();
                }
                progress(i + 1, todo.size(), litH);
            }
        } catch (ExecutionException failure) {
            throw new IllegalStateException("a burn failed", failure.getCause());
        } finally {
            pool.shutdownNow();
        }
        if (!todo.isEmpty()) {
            System.err.println();
        }
    }

    private static void progress(int done, int total, double litH) {
        int marks = BAR_WIDTH * done / total;
        System.err.printf(
                Locale.ROOT,
                "\r%s%s %d of %d burns, %.1f h",
                "=".repeat(marks),
                " ".repeat(BAR_WIDTH - marks),
                done,
                total,
                litH);
    }

    private static void trace(long seed, Rating rating) {
        PrintWriter csv = new PrintWriter(System.out, false, StandardCharsets.UTF_8);
        csv.println("timeS,lit,faceC,gasC,probeC,pressurePa,readChamberC,readGasPa,stockC,alarms");
        BurnOutcome outcome = BurnRun.of(
                BurnPlan.of(seed, rating),
                (timeS, forge, feed, alarms) -> csv.printf(
                        Locale.ROOT,
                        "%.3f,%d,%.2f,%.2f,%.2f,%.0f,%.2f,%.0f,%.1f,%s%n",
                        timeS,
                        forge.isLit() ? 1 : 0,
                        forge.hotFaceC(),
                        forge.gasC(),
                        forge.probeC(),
                        forge.pressurePa(),
                        feed.lastChamberC(),
                        feed.lastGasPa(),
                        forge.stockC(),
                        words(alarms)));
        csv.flush();
        try {
            System.err.println(JSON.writerWithDefaultPrettyPrinter().writeValueAsString(outcome));
        } catch (IOException unlikely) {
            throw new UncheckedIOException(unlikely);
        }
    }

    private static String words(List<AlarmTransition> alarms) {
        return alarms.stream()
                .map(each -> each.alarm().code() + "=" + each.state().code())
                .collect(Collectors.joining(" "));
    }
}
