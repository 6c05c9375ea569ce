package org.bankfire.daemon.figures;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import org.slf4j.LoggerFactory;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Takes the figures and prints the table; {@code fixtures/bench.sh} starts it. */
@Command(
        name = "bench",
        sortOptions = false,
        mixinStandardHelpOptions = true,
        description = "Measures the daemon beside what a user would otherwise do, and prints a table in Markdown.")
public final class Figures implements Callable<Integer> {
    /** A club's. */
    private static final int LEAST_FORGES = 20;

    /** What can be measured. */
    enum Part {
        STORE,
        MQTT,
        DECODE,
        FITS,
        SERIAL,
        FLEET,
        REPLAY,
        START
    }

    @Option(
            names = "--only",
            split = ",",
            paramLabel = "PART",
            description = "parts to measure: ${COMPLETION-CANDIDATES}. Default: all")
    private Set<Part> only = EnumSet.allOf(Part.class);

    @Option(names = "--rounds", defaultValue = "5", description = "of both sides of a ratio, by turns. Default 5")
    private int rounds;

    @Option(names = "--readings", defaultValue = "400000", description = "of a round of the store. Default 400000")
    private int readings;

    @Option(names = "--messages", defaultValue = "20000", description = "of a round of MQTT. Default 20000")
    private int messages;

    @Option(
            names = "--passes",
            defaultValue = "500",
            description = "of a round of decoding, 1000 messages each. Default 500")
    private int passes;

    @Option(names = "--fit-turn", defaultValue = "0.7", description = "seconds of a turn of the fits. Default 0.7")
    private double fitS;

    @Option(names = "--lines", defaultValue = "100000", description = "of a serial line at full speed. Default 100000")
    private int lines;

    @Option(names = "--forges", defaultValue = "1000", description = "forges of the fleet. Default ${DEFAULT-VALUE}")
    private int forges;

    @Option(names = "--rate", defaultValue = "10", description = "messages a second of each forge. Default 10")
    private double rateHz;

    @Option(names = "--seconds", defaultValue = "60", description = "of the fleet that are measured. Default 60")
    private double seconds;

    @Option(names = "--warm-up", defaultValue = "20", description = "seconds of the fleet before. Default 20")
    private double warmUpS;

    @Option(
            names = "--fleet-java",
            defaultValue = "-Xmx272m -Xss512k",
            description = "options of the fleet daemon's virtual machine. Default \"${DEFAULT-VALUE}\"")
    private String fleetJava = "";

    @Option(names = "--days", defaultValue = "30", description = "of the replay. Default 30")
    private int days;

    @Option(names = "--starts", defaultValue = "5", description = "starts to take the median of. Default 5")
    private int starts;

    @Option(
            names = "--start-script",
            defaultValue = "../fixtures/examples/bankfire.sh",
            description = "starts a single forge's daemon as recommended; measured beside the bare jar")
    private Path startScript = Path.of("");

    @Option(names = "--watch", defaultValue = "60", description = "seconds that a single forge is watched. Default 60")
    private double watchS;

    private final List<Figure> figures = new ArrayList<>();

    public static void main(String[] args) {
        // The daemon runs in this process for one of the parts.
        ((Logger) LoggerFactory.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME)).setLevel(Level.ERROR);
        System.exit(new CommandLine(new Figures())
                .setCaseInsensitiveEnumValuesAllowed(true)
                .execute(args));
    }

    @Override
    public Integer call() throws Exception {
        String machine = Machine.inWords();
        for (Part part : Part.values()) {
            if (only.contains(part)) {
                long begin = System.nanoTime();
                System.err.printf(Locale.ROOT, "%s …%n", part.name().toLowerCase(Locale.ROOT));
                Path folder = Files.createTempDirectory("bankfire-figures-");
                try {
                    measure(part, folder);
                } finally {
                    delete(folder);
                }
                System.err.printf(Locale.ROOT, "    took %.0f s%n", (System.nanoTime() - begin) / 1e9);
            }
        }
        System.out.println(machine);
        System.out.println();
        System.out.println("| what | ours | beside | ratio | target | met |");
        System.out.println("| --- | --- | --- | --- | --- | --- |");
        figures.forEach(figure -> System.out.println(figure.row()));
        return 0;
    }

    private void measure(Part part, Path folder) throws Exception {
        switch (part) {
            case START -> {
                Path plain = Files.createDirectory(folder.resolve("plain"));
                tell(SingleForgeFigure.figures(
                        "java -jar", SingleForgeFigure.run(plain, 0, starts, watchS, SingleForgeFigure.plain())));
                if (!Files.isRegularFile(startScript)) {
                    throw new IOException("the script that starts a daemon is missing: " + startScript);
                }
                Path own = Files.createDirectory(folder.resolve("script"));
                Path cache = Files.createDirectory(folder.resolve("cache"));
                // Its first run writes down what Java loaded, its second tries that; from then on it is quick.
                tell(SingleForgeFigure.figures(
                        "by bankfire.sh",
                        SingleForgeFigure.run(own, 2, starts, watchS, SingleForgeFigure.script(startScript, cache))));
            }
            case STORE -> tell(StoreFigure.figures(folder, readings, rounds));
            case MQTT -> tell(MqttFigure.figures(folder, messages, rounds));
            case DECODE -> tell(DecodeFigure.figures(passes, rounds));
            case FITS -> tell(FitFigure.figures(fitS));
            case SERIAL -> tell(SerialFigure.figures(folder, lines, 2));
            case FLEET -> fleet(folder);
            case REPLAY -> tell(List.of(ReplayFigure.figure(ReplayFigure.run(folder, days, List.of()))));
        }
    }

    /** As many as were asked for, then half of them again and again until they are kept up with. */
    private void fleet(Path folder) throws IOException, InterruptedException, SQLException {
        int count = forges;
        double warmS = warmUpS;
        double takenS = seconds;
        while (true) {
            Path own = Files.createDirectory(folder.resolve("fleet-" + count));
            FleetFigure.Outcome outcome =
                    FleetFigure.run(own, new FleetFigure.Load(count, rateHz, warmS, takenS, words(fleetJava)));
            tell(FleetFigure.figures(outcome));
            if (outcome.keptUp() || count < 2 * LEAST_FORGES) {
                return;
            }
            count /= 2;
            warmS = Math.min(warmS, 10);
            takenS = Math.min(takenS, 20);
        }
    }

    private void tell(List<Figure> more) {
        figures.addAll(more);
        more.forEach(figure -> System.err.println("    " + figure.row()));
    }

    private static List<String> words(String options) {
        return Arrays.stream(options.strip().split("\\s+"))
                .filter(word -> !word.isEmpty())
                .toList();
    }

    private static void delete(Path folder) throws IOException {
        try (Stream<Path> all = Files.walk(folder)) {
            for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
                Files.deleteIfExists(path);
            }
        }
    }
}
