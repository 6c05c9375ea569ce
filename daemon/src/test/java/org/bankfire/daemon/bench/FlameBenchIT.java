package org.bankfire.daemon.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/** A small fixed part of the bench. The whole is run by its command: see DEVELOPERS.md. */
class FlameBenchIT {
    private static final int SEEDS = 60;
    /** Half of a class must be in the wanted time; where stock weighs as much as the flame it takes longer, but no longer than this. */
    private static final double LATEST_S = 60;

    /** The manageable limit of EEMUA 191. */
    private static final int MOST_CALLS_IN_10_MIN = 10;
    /** From the opening of the valve, which is before its pressure is read. */
    private static final double NO_IGNITION_S = BenchTable.NO_IGNITION_TARGET_S;

    private static List<BurnOutcome> outcomes = List.of();

    @TempDir
    private Path folder;

    @BeforeAll
    static void burn() {
        outcomes = LongStream.rangeClosed(1, SEEDS)
                .parallel()
                .mapToObj(seed -> BurnRun.of(BurnPlan.of(seed)))
                .toList();
    }

    @Test
    void noFlameOutIsMissed() {
        assertThat(outcomes.stream().filter(BenchTable::counts)).hasSizeGreaterThan(SEEDS / 3);
        assertThat(outcomes.stream().filter(BenchTable::missed)).as(faults()).isEmpty();
    }

    @Test
    void halfOfTheFlameOutsAreCalledInTimeAndTheOthersWithinAMinute() {
        List<BurnOutcome> judged = outcomes.stream()
                .filter(BenchTable::counts)
                .filter(each -> !each.phase().equals("otherwise"))
                .toList();
        assertThat(judged).hasSizeGreaterThan(15);
        assertThat(judged.stream().filter(BenchTable::late)).as(faults()).hasSizeLessThanOrEqualTo(judged.size() / 2);
        assertThat(judged).as(faults()).allMatch(each -> each.delayS() <= LATEST_S);
    }

    @Test
    void burningForgesAreLeftInPeace() {
        assertThat(outcomes.stream().mapToDouble(BurnOutcome::litH).sum()).isGreaterThan(20);
        assertThat(outcomes).as(faults()).allMatch(each -> each.falseFlameOuts().isEmpty());
        assertThat(outcomes)
                .as(faults())
                .allMatch(each -> each.falseNoIgnitions().isEmpty());
    }

    @Test
    void gasThatIsNotLitIsCalledInTime() {
        assertThat(outcomes.stream().filter(BenchTable::ignitionMissed)).isEmpty();
        assertThat(outcomes.stream()
                        .filter(each -> each.kind().equals("no-ignition"))
                        .mapToDouble(BurnOutcome::noIgnitionS))
                .isNotEmpty()
                .allMatch(each -> each <= NO_IGNITION_S);
    }

    @Test
    void alarmsNeverFlood() {
        assertThat(outcomes).allMatch(each -> each.worstIn10Min() <= MOST_CALLS_IN_10_MIN);
    }

    @Test
    void commandGoesOnWhereItWasStopped() throws Exception {
        Path out = folder.resolve("outcomes.jsonl");
        Path csv = folder.resolve("delays.csv");
        Path faults = folder.resolve("faults.txt");
        String[] command = {
            "--first", "1", "--count", "4", "--threads", "1", "--out", out.toString(), "--faults", faults.toString()
        };
        assertThat(new CommandLine(new FlameBench()).execute(command)).isZero();
        List<String> four = Files.readAllLines(out);
        assertThat(four).hasSize(4);
        command[3] = "6";
        String[] more = Stream.concat(Arrays.stream(command), Stream.of("--csv", csv.toString()))
                .toArray(String[]::new);
        assertThat(new CommandLine(new FlameBench()).execute(more)).isZero();
        assertThat(Files.readAllLines(out)).hasSize(6).startsWith(four.toArray(String[]::new));
        assertThat(Files.readAllLines(csv))
                .hasSize(1 + 3 * 4)
                .element(0)
                .asString()
                .startsWith("probe,phase,");
    }

    private static String faults() {
        return new BenchTable(outcomes).faults();
    }
}
